package store

import (
	"database/sql"
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

func folderOf(path string) string { return filepath.Dir(path) }
