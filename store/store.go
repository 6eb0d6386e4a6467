package store

import (
	"context"
	"crypto/ed25519"
	"database/sql"
	"errors"
	"strings"
	"time"
)

// Options are the limits of a store; zero values take the defaults.
type Options struct {
	Now        func() time.Time // time.Now
	PhotoLimit int64            // bytes of one photo, 32 MiB
	MaxPages   int64            // of the SQLite file, 0 as many as fit the disk
	Existing   bool             // fail where there is no SQLite file yet
}

// defaultPhotoLimit is well over what phones make of a picture.
const defaultPhotoLimit = 32 << 20

// Store is an open store. Its methods may be called at once from anywhere.
type Store struct {
	kind   kind
	write  *sql.DB // SQLite: one connection
	read   *sql.DB
	direct direct // on SQLite's writing connection, whoever holds it
	key    ed25519.PrivateKey
	now    func() time.Time
	spool  string // folder where photos wait for their digest, "" the system's
	limit  int64
	group  group
}

// Open opens a store and brings its tables up to date: a postgres:// address
// or the path of an SQLite file, which is made if it is not there.
func Open(ctx context.Context, address string, o Options) (*Store, error) {
	s := &Store{now: o.Now, limit: o.PhotoLimit}
	if s.now == nil {
		s.now = time.Now
	}
	if s.limit <= 0 {
		s.limit = defaultPhotoLimit
	}
	if err := s.connect(address, o); err != nil {
		return nil, err
	}
	if err := s.prepare(ctx); err != nil {
		s.closeDB()
		return nil, s.kind.explain(err)
	}
	if s.kind == sqlite {
		if err := s.roomyLog(ctx, address+"-wal"); err != nil {
			s.closeDB()
			return nil, s.kind.explain(err)
		}
	}
	s.group.store = s
	return s, nil
}

// connect opens the pools.
func (s *Store) connect(address string, o Options) (err error) {
	if isPostgres(address) {
		s.kind = postgres
		s.write, err = openPostgres(address)
		s.read = s.write
		return s.kind.explain(err)
	}
	s.kind = sqlite
	s.spool = folderOf(address)
	if s.write, s.read, err = openSQLite(address, o); err != nil {
		return s.kind.explain(err)
	}
	return nil
}

func isPostgres(address string) bool {
	return strings.HasPrefix(address, "postgres://") || strings.HasPrefix(address, "postgresql://")
}

// prepare migrates and fetches the key.
func (s *Store) prepare(ctx context.Context) error {
	if err := s.migrate(ctx); err != nil {
		return err
	}
	return s.loadKey(ctx)
}

// Close waits for what is being written and closes the store.
func (s *Store) Close() error {
	s.group.stop()
	return s.closeDB()
}

func (s *Store) closeDB() error {
	if s.read == s.write || s.read == nil {
		return s.write.Close()
	}
	return errors.Join(s.read.Close(), s.write.Close())
}

// inTx runs work in one writing transaction.
func (s *Store) inTx(ctx context.Context, work func(*sql.Tx) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return s.kind.explain(err)
	}
	defer tx.Rollback() //nolint:errcheck // after a commit it does nothing
	if err := work(tx); err != nil {
		return s.kind.explain(err)
	}
	return s.kind.explain(tx.Commit())
}

// snapshot runs work on one unchanging view of everything.
func (s *Store) snapshot(ctx context.Context, work func(*sql.Tx) error) error {
	tx, err := s.read.BeginTx(ctx, &sql.TxOptions{Isolation: s.kind.snapshotLevel(), ReadOnly: s.kind == postgres})
	if err != nil {
		return s.kind.explain(err)
	}
	defer tx.Rollback() //nolint:errcheck // nothing was written
	return s.kind.explain(work(tx))
}

// querier is a database or a transaction.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
}

// collect reads all rows.
func collect[T any](rows *sql.Rows, err error, scan func(*sql.Rows) (T, error)) ([]T, error) {
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, rows.Err()
}
