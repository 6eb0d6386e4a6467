package store

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"spadework/engine/phrase"
)

// Backup writes one moment of everything into a file that is not there yet,
// while others go on, and proves it: the file is restored beside it, verified
// and compared with the moment it was made from. Only then does it get its
// name. It is a ZIP of what Export writes and of the key of receipts: keep it
// as secret as the store.
func (s *Store) Backup(ctx context.Context, path string) (Report, error) {
	if _, err := os.Lstat(path); err == nil {
		return Report{}, fault(phrase.Conflict, "store.backup_there", phrase.With("path", path))
	}
	dir, err := os.MkdirTemp(filepath.Dir(path), ".backup-")
	if err != nil {
		return Report{}, s.kind.explain(err)
	}
	defer os.RemoveAll(dir)
	raw := filepath.Join(dir, "backup.zip")
	if err := s.writeZip(ctx, raw); err != nil {
		return Report{}, s.kind.explain(err)
	}
	report, err := prove(ctx, raw, filepath.Join(dir, "proof.db"))
	if err != nil {
		return report, s.kind.explain(err)
	}
	return report, s.kind.explain(errors.Join(publish(raw, path), syncFolder(filepath.Dir(path))))
}

// publish gives a file its name. A link, unlike a rename, never replaces what
// came meanwhile; a stick's file system has none.
func publish(raw, path string) error {
	err := os.Link(raw, path)
	if errors.Is(err, fs.ErrExist) {
		return fault(phrase.Conflict, "store.backup_there", phrase.With("path", path))
	}
	if err != nil {
		err = os.Rename(raw, path)
	}
	return err
}

// writeZip writes the file and syncs it.
func (s *Store) writeZip(ctx context.Context, path string) error {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	defer file.Close()
	z := zip.NewWriter(file)
	err = s.snapshot(ctx, func(tx *sql.Tx) error {
		return writeAll(ctx, tx, func(name string) (io.WriteCloser, error) {
			w, err := z.Create(name)
			return member{w}, err
		}, true)
	})
	return errors.Join(err, z.Close(), file.Sync())
}

// member is a file in the ZIP, which needs no closing.
type member struct{ io.Writer }

func (member) Close() error { return nil }

func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}

// prove restores a backup into a fresh store, verifies it, and writes that one
// out again: the two manifests must be the same byte for byte.
func prove(ctx context.Context, backup, fresh string) (Report, error) {
	s, err := Open(ctx, fresh, Options{})
	if err != nil {
		return Report{}, err
	}
	defer s.Close()
	z, err := zip.OpenReader(backup)
	if err != nil {
		return Report{}, err
	}
	defer z.Close()
	report, err := s.Restore(ctx, z)
	if err != nil {
		return report, err
	}
	want, err := fs.ReadFile(z, "manifest.json")
	if err != nil {
		return report, err
	}
	got, err := s.manifestSum(ctx)
	if err == nil && got != sha256.Sum256(want) {
		err = fault(Unavailable, "store.backup_differs")
	}
	return report, err
}

// manifestSum is the SHA-256 of the manifest that a backup would have.
func (s *Store) manifestSum(ctx context.Context) (sum [sha256.Size]byte, err error) {
	h := sha256.New()
	err = s.snapshot(ctx, func(tx *sql.Tx) error {
		return writeAll(ctx, tx, func(name string) (io.WriteCloser, error) {
			if name == "manifest.json" {
				return member{h}, nil
			}
			return member{io.Discard}, nil
		}, true)
	})
	return [sha256.Size]byte(h.Sum(nil)), err
}
