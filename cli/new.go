package cli

import (
	"embed"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"spadework/engine/phrase"
	"spadework/sheet"
)

//go:embed starter
var starters embed.FS

// newCommand writes a starter job.
type newCommand struct {
	File  string `arg:"" optional:"" default:"job.toml" help:"${help_file}"`
	Units string `help:"${help_units}" enum:"ft,m" default:"ft"`
}

// Run writes the starter of the language and units; it overwrites nothing.
func (c *newCommand) Run(a *app) error {
	data, err := starters.ReadFile("starter/" + c.Units + "." + string(a.language()) + ".toml")
	if err != nil {
		return err
	}
	if err := writeNew(c.File, data); err != nil {
		return err
	}
	v := sheet.View{Language: a.language()}
	a.println(v.Text("cli.new_written", phrase.With("file", c.File)))
	return nil
}

// writeNew writes a file that is not there yet, whole or not at all: it is
// written beside its place and linked in, which fails where a file stands.
func writeNew(path string, data []byte) error {
	if _, err := os.Lstat(path); err == nil {
		return existsFault(path)
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".spadework-*")
	if err != nil {
		return fileFault(path, err)
	}
	defer os.Remove(f.Name())
	_, err = f.Write(data)
	if err := errors.Join(err, f.Sync(), f.Chmod(0o644), f.Close()); err != nil {
		return fileFault(path, err)
	}
	if err := os.Link(f.Name(), path); errors.Is(err, fs.ErrExist) {
		return existsFault(path)
	} else if err != nil {
		return fileFault(path, err)
	}
	return nil
}

func existsFault(path string) error {
	f := phrase.NewFault(phrase.New("cli.exists", phrase.With("file", path)), phrase.New("cli.exists.remedy"))
	f.Code = phrase.Conflict
	return f
}
