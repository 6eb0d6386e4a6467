package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"io"
)

// session is a writing transaction as an append uses it.
type session interface {
	// query gives every row of an answer: int64, string or nil each.
	query(text string, args ...any) ([][]driver.Value, error)
	// exec gives how many rows were written.
	exec(text string, args ...any) (int64, error)
}

// overSQL is a session of database/sql.
type overSQL struct {
	ctx context.Context
	tx  *sql.Tx
}

func (o overSQL) query(text string, args ...any) ([][]driver.Value, error) {
	rows, err := o.tx.QueryContext(o.ctx, text, args...)
	return collect(rows, err, func(r *sql.Rows) ([]driver.Value, error) {
		names, err := r.Columns()
		if err != nil {
			return nil, err
		}
		row, into := make([]driver.Value, len(names)), make([]any, len(names))
		for i := range row {
			into[i] = &row[i]
		}
		return row, r.Scan(into...)
	})
}

func (o overSQL) exec(text string, args ...any) (int64, error) {
	result, err := o.tx.ExecContext(o.ctx, text, args...)
	if err != nil {
		return 0, err
	}
	return result.RowsAffected()
}

// direct is a session on SQLite's driver itself: database/sql costs as much
// again as the statements of a small append. Statements are kept compiled for
// as long as their connection.
type direct struct {
	conn       driver.Conn
	statements map[string]driver.Stmt
}

// on makes the session one of a connection.
func (d *direct) on(conn any) error {
	c, ok := conn.(driver.Conn)
	if !ok {
		return errors.New("no driver connection")
	}
	if d.conn != c {
		d.conn, d.statements = c, map[string]driver.Stmt{} // the old ones went with theirs
	}
	return nil
}

func (d *direct) prepare(text string) (driver.Stmt, error) {
	if s, ok := d.statements[text]; ok {
		return s, nil
	}
	s, err := d.conn.Prepare(text)
	if err == nil {
		d.statements[text] = s
	}
	return s, err
}

func named(args []any) []driver.NamedValue {
	out := make([]driver.NamedValue, len(args))
	for i, a := range args {
		out[i] = driver.NamedValue{Ordinal: i + 1, Value: a}
	}
	return out
}

func (d *direct) query(text string, args ...any) (all [][]driver.Value, err error) {
	s, err := d.prepare(text)
	if err != nil {
		return nil, err
	}
	rows, err := s.(driver.StmtQueryContext).QueryContext(context.Background(), named(args))
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	width := len(rows.Columns())
	for {
		row := make([]driver.Value, width)
		if err := rows.Next(row); errors.Is(err, io.EOF) {
			return all, nil
		} else if err != nil {
			return nil, err
		}
		all = append(all, row)
	}
}

func (d *direct) exec(text string, args ...any) (int64, error) {
	s, err := d.prepare(text)
	if err != nil {
		return 0, err
	}
	result, err := s.(driver.StmtExecContext).ExecContext(context.Background(), named(args))
	if err != nil {
		return 0, err
	}
	return result.RowsAffected()
}

// inSession runs work in one writing transaction. Its context is its own: a
// caller who leaves must not undo what others wait for.
func (s *Store) inSession(work func(session) error) error {
	ctx := context.Background()
	if s.kind == postgres {
		return s.inTx(ctx, func(tx *sql.Tx) error { return work(overSQL{ctx, tx}) })
	}
	conn, err := s.write.Conn(ctx)
	if err != nil {
		return s.kind.explain(err)
	}
	defer conn.Close()
	return s.kind.explain(conn.Raw(func(c any) error {
		if err := s.direct.on(c); err != nil {
			return err
		}
		return s.direct.transact(work)
	}))
}

// transact runs work between BEGIN and COMMIT.
func (d *direct) transact(work func(session) error) (err error) {
	if _, err := d.exec(`BEGIN IMMEDIATE`); err != nil {
		return err
	}
	committed := false
	defer func() {
		if !committed { // after a panic too
			_, _ = d.exec(`ROLLBACK`) // fails where SQLite rolled back by itself
		}
	}()
	if err := work(d); err != nil {
		return err
	}
	_, err = d.exec(`COMMIT`)
	committed = err == nil
	return err
}

// one is the only row of an answer, false where there is none.
func one(l session, text string, args ...any) ([]driver.Value, bool, error) {
	rows, err := l.query(text, args...)
	if err != nil || len(rows) == 0 {
		return nil, false, err
	}
	return rows[0], true, nil
}
