package store

import (
	"context"
	"database/sql"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"strconv"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver "pgx"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
	_ "modernc.org/sqlite" // the driver "sqlite"
)

// kind is which database it is; what differs between them stands in this file
// and in fault.go.
type kind int

const (
	sqlite kind = iota
	postgres
)

func (k kind) dialect() goose.Dialect {
	if k == postgres {
		return goose.DialectPostgres
	}
	return goose.DialectSQLite3
}

// migrationOptions lets one of several starting servers migrate at a time.
func (k kind) migrationOptions() ([]goose.ProviderOption, error) {
	if k == sqlite {
		return nil, nil
	}
	locker, err := lock.NewPostgresSessionLocker()
	if err != nil {
		return nil, err
	}
	return []goose.ProviderOption{goose.WithSessionLocker(locker)}, nil
}

// snapshotLevel is the isolation in which reads see one moment. A reading
// transaction of SQLite in WAL mode always does.
func (k kind) snapshotLevel() sql.IsolationLevel {
	if k == postgres {
		return sql.LevelRepeatableRead
	}
	return sql.LevelDefault
}

// postgresConnections bounds one server's share of the usual 100.
const postgresConnections = 16

func openPostgres(address string) (*sql.DB, error) {
	db, err := sql.Open("pgx", address)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(postgresConnections)
	db.SetMaxIdleConns(postgresConnections)
	return db, nil
}

// sqlitePragmas: FULL has every commit synced to the disk before it returns.
var sqlitePragmas = []string{"busy_timeout(10000)", "journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(1)"}

// openSQLite opens the one connection that writes and the pool that reads.
func openSQLite(path string, o Options) (write, read *sql.DB, err error) {
	if o.Existing {
		if _, err := os.Stat(path); err != nil {
			return nil, nil, err
		}
	}
	if write, err = sql.Open("sqlite", sqliteAddress(path, true, o.MaxPages)); err != nil {
		return nil, nil, err
	}
	write.SetMaxOpenConns(1)
	if read, err = sql.Open("sqlite", sqliteAddress(path, false, o.MaxPages)); err != nil {
		_ = write.Close()
		return nil, nil, err
	}
	return write, read, nil
}

func sqliteAddress(path string, writes bool, pages int64) string {
	q := url.Values{"_pragma": append([]string{}, sqlitePragmas...)}
	if writes {
		q.Set("_txlock", "immediate")
	}
	if pages > 0 {
		q.Add("_pragma", "max_page_count("+strconv.FormatInt(pages, 10)+")")
	}
	return (&url.URL{Scheme: "file", Opaque: (&url.URL{Path: path}).EscapedPath(), RawQuery: q.Encode()}).String()
}

// roomFrames is how much room the write-ahead log is given: SQLite writes it
// anew from its beginning after 1000 pages, and a commit goes some way over.
const roomFrames = 1280

// roomyLog gives SQLite's write-ahead log its size beforehand. A commit then
// overwrites blocks that are there, else each would also wait for the file
// system to note the new size: twice the time. SQLite reads zeros as the log's
// end (no frame has the page number 0). The lock keeps every other writer off;
// a disk without room for it is left to the commits to meet.
func (s *Store) roomyLog(ctx context.Context, path string) error {
	return s.inTx(ctx, func(*sql.Tx) error {
		file, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return nil // no log, no room to give: the same
		}
		defer file.Close()
		at, err := file.Seek(0, io.SeekEnd)
		if err != nil {
			return err
		}
		for zeros := make([]byte, 64<<10); at < roomFrames*(4096+24); at += int64(len(zeros)) {
			if _, err := file.WriteAt(zeros, at); err != nil {
				return nil //nolint:nilerr // no room
			}
		}
		return file.Sync()
	})
}

func folderOf(path string) string { return filepath.Dir(path) }
