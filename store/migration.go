package store

import (
	"context"
	"embed"
	"errors"
	"io/fs"

	"github.com/pressly/goose/v3"
)

//go:embed migration/*.sql migration/sqlite/*.sql
var migrations embed.FS

// migrate brings the tables up to date, each step in a transaction of its own.
func (s *Store) migrate(ctx context.Context) error {
	common, err := fs.Sub(migrations, "migration")
	if err != nil {
		return err
	}
	files := layers{common}
	if s.kind == sqlite {
		own, err := fs.Sub(migrations, "migration/sqlite")
		if err != nil {
			return err
		}
		files = append(files, own)
	}
	options, err := s.kind.migrationOptions()
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(s.kind.dialect(), s.write, files, options...)
	if err != nil {
		return err
	}
	_, err = p.Up(ctx)
	return err
}

// layers are folders seen as one; the numbers of their steps differ.
type layers []fs.FS

// Open opens the first file of a name.
func (l layers) Open(name string) (fs.File, error) {
	for _, layer := range l {
		f, err := layer.Open(name)
		if !errors.Is(err, fs.ErrNotExist) {
			return f, err
		}
	}
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

// ReadDir lists a folder of every layer.
func (l layers) ReadDir(name string) (all []fs.DirEntry, err error) {
	for _, layer := range l {
		list, err := fs.ReadDir(layer, name)
		if err != nil {
			return nil, err
		}
		all = append(all, list...)
	}
	sortBy(all, fs.DirEntry.Name)
	return all, nil
}
