package store

import (
	"context"
	"errors"
	"io/fs"
	"strings"
	"syscall"

	"github.com/jackc/pgx/v5/pgconn"
	driver "modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"

	"spadework/engine/phrase"
)

// Unavailable is the code of faults of the machine, not of the user: the same
// call may do later.
const Unavailable phrase.Code = "unavailable"

// Error is a fault with the error of the database below it.
type Error struct {
	Fault *phrase.Fault
	Err   error
}

// Error says both.
func (e *Error) Error() string { return e.Fault.Error() + ": " + e.Err.Error() }

// Unwrap gives both.
func (e *Error) Unwrap() []error { return []error{e.Fault, e.Err} }

// fault is a fault of a code; its remedy has the key's text with ".remedy".
func fault(code phrase.Code, key phrase.Key, args ...phrase.Arg) *phrase.Fault {
	f := phrase.NewFault(phrase.New(key, args...), phrase.New(key+".remedy", args...))
	f.Code = code
	return f
}

// troubles is what a code of SQLite, its first byte, or of PostgreSQL means.
var troubles = map[string]phrase.Key{
	"53100": "store.disk_full", "25006": "store.read_only", "42501": "store.read_only",
	"XX001": "store.damaged", "XX002": "store.damaged", "55P03": "store.busy", "53300": "store.busy",
	"57P01": "store.no_connection", "57P03": "store.no_connection", "28P01": "store.no_connection", "3D000": "store.no_connection",
}

var sqliteTroubles = map[int]phrase.Key{
	lib.SQLITE_FULL: "store.disk_full", lib.SQLITE_READONLY: "store.read_only", lib.SQLITE_CANTOPEN: "store.no_file",
	lib.SQLITE_PERM: "store.read_only", lib.SQLITE_BUSY: "store.busy", lib.SQLITE_LOCKED: "store.busy",
	lib.SQLITE_CORRUPT: "store.damaged", lib.SQLITE_NOTADB: "store.damaged", lib.SQLITE_IOERR: "store.disk_error",
}

// explain gives an error of the database its fault. An error that has one, or
// that the caller's own context made, stays.
func (k kind) explain(err error) error {
	var has *phrase.Fault
	if err == nil || errors.As(err, &has) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return &Error{fault(Unavailable, trouble(err), phrase.With("detail", err.Error())), err}
}

func trouble(err error) phrase.Key {
	var lite *driver.Error
	if errors.As(err, &lite) {
		if lite.Code() == lib.SQLITE_IOERR_WRITE {
			return "store.no_write" // a bound on file sizes, or a disk that fails
		}
		if key, ok := sqliteTroubles[lite.Code()&0xff]; ok {
			return key
		}
	}
	var pg *pgconn.PgError
	if errors.As(err, &pg) {
		if key, ok := troubles[pg.Code]; ok {
			return key
		}
		if strings.HasPrefix(pg.Code, "08") {
			return "store.no_connection"
		}
	}
	var connect *pgconn.ConnectError
	switch {
	case errors.As(err, &connect):
		return "store.no_connection"
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.Is(err, syscall.EFBIG):
		return "store.disk_full"
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return "store.read_only"
	case errors.Is(err, fs.ErrNotExist):
		return "store.no_file"
	}
	return "store.failed"
}

func isNotFound(err error) bool {
	var f *phrase.Fault
	return errors.As(err, &f) && f.Code == phrase.NotFound
}
