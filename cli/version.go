package cli

import (
	"runtime"
	"runtime/debug"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/exchange"
	"spadework/sheet"
)

// version and commit are set by the linker when a release is built (the tool
// tools/release); elsewhere they are what the go command noted, if anything.
var version, commit string

// versionCommand tells which program this is.
type versionCommand struct{}

// Run prints version, commit where it is known, the Go release it was built with
// and the formats it reads and writes.
func (c *versionCommand) Run(a *app) error {
	v := sheet.View{Language: a.language()}
	release, built := version, commit
	if release == "" {
		release = v.Text("cli.version_none")
	}
	if built == "" {
		built = notedCommit()
	}
	if built == "" {
		built = v.Text("cli.version_unknown")
	}
	a.println("spadework " + release)
	a.println(v.Text("cli.version_commit", phrase.With("commit", built)))
	a.println(v.Text("cli.version_go", phrase.With("go", runtime.Version()), phrase.With("system", runtime.GOOS+"/"+runtime.GOARCH)))
	a.println(v.Text("cli.version_formats", phrase.With("plan", plan.Format), phrase.With("record", record.Format), phrase.With("bundle", exchange.BundleFormat)))
	return nil
}

// notedCommit is the commit that the go command noted in the program, with a mark
// where the source was changed after it.
func notedCommit() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	out, changed := "", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			out = s.Value
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = "+"
		}
	}
	if out == "" {
		return ""
	}
	return out + changed
}
