package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"spadework/engine/phrase"
	"spadework/engine/unit"
	"spadework/sheet"
)

// Streams are what a command reads and writes.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
}

// Exit statuses.
const (
	statusOK  = 0
	statusOut = 1 // check: something is out of tolerance or cannot be judged
	statusBad = 2 // bad input or usage
)

// errOut says that a check found something out.
var errOut = errors.New("out of tolerance")

// commands is the command line as kong reads it. Help texts are keys of the
// phrase tables.
type commands struct {
	Lang string `help:"${help_lang}" placeholder:"en|es" enum:"en,es," default:""`

	Today string `help:"${help_today}" placeholder:"YYYY-MM-DD"`

	New        newCommand        `cmd:"" help:"${help_new}"`
	Plan       planCommand       `cmd:"" help:"${help_plan}"`
	Cutsheet   cutsheetCommand   `cmd:"" help:"${help_cutsheet}"`
	Strip      stripCommand      `cmd:"" help:"${help_strip}"`
	Stakes     stakesCommand     `cmd:"" help:"${help_stakes}"`
	Tape       tapeCommand       `cmd:"" help:"${help_tape}"`
	Check      checkCommand      `cmd:"" help:"${help_check}"`
	Quantities quantitiesCommand `cmd:"" help:"${help_quantities}"`
	Sheets     sheetsCommand     `cmd:"" help:"${help_sheets}"`
	Proof      proofCommand      `cmd:"" help:"${help_proof}"`

	Gradeline gradelineCommand `cmd:"" help:"${help_gradeline}"`

	Levels levelsCommand `cmd:"" help:"${help_levels}"`
	Rules  rulesCommand  `cmd:"" help:"${help_rules}"`

	Play  playCommand  `cmd:"" help:"${help_play}"`
	Here  hereCommand  `cmd:"" help:"${help_here}"`
	Reach reachCommand `cmd:"" help:"${help_reach}"`

	Trust trustCommand `cmd:"" help:"${help_trust}"`
	Log   logCommand   `cmd:"" help:"${help_log}"`
	Left  leftCommand  `cmd:"" help:"${help_left}"`
	Watch watchCommand `cmd:"" help:"${help_watch}"`

	Rehearse rehearseCommand `cmd:"" help:"${help_rehearse}"`

	Instrument instrumentCommand `cmd:"" help:"${help_instrument}"`

	Import importCommand `cmd:"" help:"${help_import}"`
	Write  writeCommand  `cmd:"" help:"${help_write}"`

	Backup  backupCommand  `cmd:"" help:"${help_backup}"`
	Restore restoreCommand `cmd:"" help:"${help_restore}"`
	Export  exportCommand  `cmd:"" help:"${help_export}"`
	Verify  verifyCommand  `cmd:"" help:"${help_verify}"`

	Serve serveCommand `cmd:"" help:"${help_serve}"`
	Demo  demoCommand  `cmd:"" help:"${help_demo}"`

	Version versionCommand `cmd:"" help:"${help_version}"`
}

// app is what every command has at hand.
type app struct {
	ctx context.Context
	Streams
	lang  phrase.Language // asked for by --lang or the environment, "" if not
	width int             // of the terminal, in characters
	today string          // date that tickets are judged by, "" not told
}

// Run runs the command line and gives its exit status.
func Run(ctx context.Context, args []string, s Streams) int {
	a := &app{ctx: ctx, Streams: s, lang: askedLanguage(args), width: terminalWidth(s.Out)}
	var c commands
	helped := false
	parser, err := kong.New(&c,
		kong.Name("spadework"), kong.Writers(s.Out, s.Err), helpVars(a.language()),
		kong.Exit(func(int) { helped = true }),
		kong.Help(func(o kong.HelpOptions, k *kong.Context) error { return printHelp(a, k) }))
	if err != nil {
		fmt.Fprintln(s.Err, "spadework:", err)
		return statusBad
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	k, err := parser.Parse(args)
	if helped {
		return statusOK
	}
	if err != nil {
		return a.report(usageFault(err))
	}
	a.today = c.Today
	if _, err := time.Parse(time.DateOnly, c.Today); err != nil && c.Today != "" {
		return a.report(phrase.NewFault(phrase.New("cli.today", phrase.With("value", c.Today)), phrase.New("cli.today.remedy")))
	}
	return a.report(k.Run(a))
}

// report prints an error as a crew reads it and gives the status.
func (a *app) report(err error) int {
	if err == nil {
		return statusOK
	}
	if errors.Is(err, errOut) {
		return statusOut
	}
	v := sheet.View{Language: a.language()}
	var style styled
	if errors.As(err, &style) {
		v.Style = style.style
		if a.lang == "" {
			v.Language = style.lang
		}
	}
	var f *phrase.Fault
	if !errors.As(err, &f) {
		fmt.Fprintln(a.Err, "spadework:", err)
		return statusBad
	}
	fmt.Fprintf(a.Err, "spadework: %s\n", f.Render(v.Language, v.Style))
	if remedy := v.Say(f.Remedy); remedy != "" {
		fmt.Fprintf(a.Err, "%s: %s\n", v.Text("cli.hint"), remedy)
	}
	return statusBad
}

// styled is a fault with the language and units of the job it is about.
type styled struct {
	error
	lang  phrase.Language
	style unit.Style
}

// Unwrap is the fault itself.
func (s styled) Unwrap() error { return s.error }

// language is the one asked for, else English.
func (a *app) language() phrase.Language {
	if a.lang == "" {
		return phrase.English
	}
	return a.lang
}

// askedLanguage looks for --lang before kong does, so that help and usage
// errors speak it; without it SPADEWORK_LANG holds.
func askedLanguage(args []string) phrase.Language {
	asked := os.Getenv("SPADEWORK_LANG")
	for i, arg := range args {
		if v, ok := strings.CutPrefix(arg, "--lang="); ok {
			asked = v
		} else if arg == "--lang" && i+1 < len(args) {
			asked = args[i+1]
		}
	}
	switch l := phrase.Language(asked); l {
	case phrase.English, phrase.Spanish:
		return l
	}
	return ""
}

// usageTexts match what kong says of a wrong command line; the first group is
// what was read.
var usageTexts = []struct {
	part string
	key  phrase.Key
}{
	{"unknown flag ", "cli.unknown_flag"},
	{"unexpected argument ", "cli.unexpected"},
	{"missing flags: ", "cli.missing_flag"},
	{"expected one of ", "cli.expected_command"},
	{"expected ", "cli.expected"},
}

// usageFault rewords an error of kong.
func usageFault(err error) *phrase.Fault {
	text := err.Error()
	for _, u := range usageTexts {
		if _, rest, found := strings.Cut(text, u.part); found {
			word, _, _ := strings.Cut(rest, ", did you mean")
			return phrase.NewFault(phrase.New(u.key, phrase.With("word", strings.Trim(word, `"`))), phrase.New("cli.usage.remedy"))
		}
	}
	return phrase.NewFault(phrase.New("cli.usage", phrase.With("detail", text)), phrase.New("cli.usage.remedy"))
}

// println writes a line to the output.
func (a *app) println(s string) { fmt.Fprintln(a.Out, s) }
