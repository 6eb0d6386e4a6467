package cli

import (
	"fmt"
	"strings"

	"github.com/alecthomas/kong"

	"spadework/engine/phrase"
	"spadework/sheet"
)

// helpKeys are the help texts that the tags of commands name as ${help_…}.
var helpKeys = []string{
	"lang", "new", "plan", "cutsheet", "strip", "stakes", "tape", "check", "levels", "demo", "serve",
	"job", "shots", "notes", "id", "json", "trace", "every", "setup", "share", "tape_from", "tape_to",
	"file", "units", "addr", "rule", "by", "fix", "alpha", "show_notes", "today", "rules", "set", "instrument", "gradeline", "line_json", "readings", "accuracy",
	"trust", "trust_id", "trust_json",
	"here", "here_at", "here_hi", "reach", "reach_out", "explain", "play", "play_stand",
	"backup", "restore", "export", "verify", "db", "backup_file", "restore_from", "export_folder",
	"sheets", "out", "paper", "cards", "parts", "link", "svg", "png",
	"log", "left", "watch", "watch_json", "watch_charts", "log_action", "log_kind", "log_words", "log_json", "log_at", "device", "person", "foreman",
	"quantities", "csv", "as_dug", "rehearse", "rehearse_days", "rehearse_seed", "rehearse_every",
	"proof", "verify_proof", "verify_job", "import", "import_file", "import_coordinates", "write", "write_out", "version",
}

// helpVars fills the tags with the texts of a language.
func helpVars(lang phrase.Language) kong.Vars {
	out := kong.Vars{}
	v := sheet.View{Language: lang}
	for _, key := range helpKeys {
		out["help_"+key] = v.Text(phrase.Key("cli.help_" + key))
	}
	return out
}

// printHelp prints the help of the program or of the command selected.
func printHelp(a *app, k *kong.Context) error {
	v := sheet.View{Language: a.language()}
	node := k.Selected()
	if node == nil {
		fmt.Fprintf(a.Out, "%s\n\n%s\n", v.Text("cli.about"), v.Text("cli.commands"))
		for _, c := range k.Model.Leaves(true) {
			fmt.Fprintf(a.Out, "  %-10s %s\n", c.Name, c.Help)
		}
		fmt.Fprintf(a.Out, "\n%s\n", v.Text("cli.more_help"))
		return nil
	}
	fmt.Fprintf(a.Out, "spadework %s\n\n%s\n", usageLine(node), node.Help)
	for _, p := range node.Positional {
		fmt.Fprintf(a.Out, "\n  %-18s %s", strings.ToUpper(p.Name), p.Help)
	}
	for _, group := range node.AllFlags(true) {
		for _, f := range group {
			if f.Name != "help" {
				fmt.Fprintf(a.Out, "\n  %-18s %s", flagUsage(f), f.Help)
			}
		}
	}
	fmt.Fprintln(a.Out)
	return nil
}

// usageLine is the command with its arguments.
func usageLine(node *kong.Node) string {
	parts := []string{node.Name}
	for _, p := range node.Positional {
		name := strings.ToUpper(p.Name)
		if !p.Required {
			name = "[" + name + "]"
		}
		parts = append(parts, name)
	}
	return strings.Join(parts, " ")
}

func flagUsage(f *kong.Flag) string {
	if f.IsBool() {
		return "--" + f.Name
	}
	value := strings.ToUpper(f.Name)
	if f.PlaceHolder != "" {
		value = f.PlaceHolder
	}
	return "--" + f.Name + " " + value
}
