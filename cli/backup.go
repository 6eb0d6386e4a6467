package cli

import (
	"archive/zip"
	"context"
	"errors"
	"io/fs"
	"os"

	"spadework/engine/phrase"
	"spadework/sheet"
	"spadework/store"
)

// storeFlag names the store that a command works on.
type storeFlag struct {
	DB string `name:"db" help:"${help_db}" default:"spadework.db" placeholder:"FILE"`
}

// withStore opens the store for a command; existing ones only, where it is asked
// to read.
func (f storeFlag) withStore(a *app, existing bool, work func(ctx context.Context, s *store.Store, v sheet.View) error) error {
	_, v := standAlone(a, "m")
	s, err := store.Open(a.ctx, f.DB, store.Options{Existing: existing})
	if err == nil {
		err = errors.Join(work(a.ctx, s, v), s.Close())
	}
	if err == nil || errors.Is(err, errOut) {
		return err
	}
	return styled{err, v.Language, v.Style}
}

// backupCommand writes a proven copy of the store.
type backupCommand struct {
	storeFlag
	File string `arg:"" help:"${help_backup_file}"`
}

// Run makes the backup while others go on.
func (c *backupCommand) Run(a *app) error {
	return c.withStore(a, true, func(ctx context.Context, s *store.Store, v sheet.View) error {
		r, err := s.Backup(ctx, c.File)
		if err != nil {
			return err
		}
		a.println(v.Text("cli.backup_done", append(counts(r), phrase.With("file", c.File))...))
		return nil
	})
}

// counts are what a report counts, as arguments of a text.
func counts(r store.Report) []phrase.Arg {
	return []phrase.Arg{phrase.With("jobs", r.Jobs), phrase.With("revisions", r.Revisions), phrase.With("records", r.Records),
		phrase.With("asides", r.Asides), phrase.With("photos", r.Photos)}
}

// restoreCommand fills an empty store.
type restoreCommand struct {
	storeFlag
	From string `arg:"" help:"${help_restore_from}"`
}

// Run restores a backup, or the folder of an export.
func (c *restoreCommand) Run(a *app) error {
	from, done, err := openBackup(c.From)
	if err != nil {
		return err
	}
	defer done()
	return c.withStore(a, false, func(ctx context.Context, s *store.Store, v sheet.View) error {
		r, err := s.Restore(ctx, from)
		if err != nil {
			return err
		}
		a.println(v.Text("cli.restore_done", append(counts(r), phrase.With("file", c.From))...))
		return nil
	})
}

// openBackup opens a backup's file or an export's folder.
func openBackup(path string) (fs.FS, func(), error) {
	if info, err := os.Stat(path); err != nil {
		return nil, nil, fileFault(path, err)
	} else if info.IsDir() {
		return os.DirFS(path), func() {}, nil
	}
	z, err := zip.OpenReader(path)
	if err != nil {
		return nil, nil, fileFault(path, err)
	}
	return z, func() { _ = z.Close() }, nil
}

// exportCommand writes everything in open formats.
type exportCommand struct {
	storeFlag
	Folder string `arg:"" help:"${help_export_folder}"`
}

// Run writes the folder.
func (c *exportCommand) Run(a *app) error {
	return c.withStore(a, true, func(ctx context.Context, s *store.Store, v sheet.View) error {
		if err := s.Export(ctx, c.Folder); err != nil {
			return err
		}
		a.println(v.Text("cli.export_done", phrase.With("file", c.Folder)))
		return nil
	})
}

// verifyCommand reads everything through, or checks a proof.
type verifyCommand struct {
	storeFlag
	Proof string `arg:"" optional:"" help:"${help_verify_proof}"`
	Job   string `arg:"" optional:"" help:"${help_verify_job}"`
}

// Run tells what is there and what is wrong; the status is 1 where something is.
func (c *verifyCommand) Run(a *app) error {
	if c.Proof != "" {
		return c.proof(a)
	}
	return c.withStore(a, true, func(ctx context.Context, s *store.Store, v sheet.View) error {
		r, err := s.Verify(ctx)
		if err != nil {
			return err
		}
		a.println(v.Text("cli.verify_done", counts(r)...))
		for _, f := range r.Flaws {
			a.println(v.Text("cli.verify_flaw", phrase.With("what", f)))
		}
		for _, b := range r.Breaks {
			a.println(v.Text("cli.verify_break", phrase.With("job", b.Job), phrase.With("what", b.Message())))
		}
		if !r.Sound() || len(r.Breaks) > 0 {
			return errOut
		}
		return nil
	})
}
