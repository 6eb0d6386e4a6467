package store

import (
	"context"
	"database/sql"
)

// The statements that every append runs.
const (
	lockJob       = `UPDATE job SET log_cursor = log_cursor WHERE id = $1 RETURNING log_cursor, link`
	findRecord    = `SELECT hash, log_cursor FROM record WHERE job = $1 AND id = $2`
	findAside     = `SELECT status, reason FROM quarantine WHERE job = $1 AND hash = $2`
	findRevoked   = `SELECT revoked FROM device WHERE id = $1`
	insertRecord  = `INSERT INTO record (job, log_cursor, id, hash, body) VALUES ($1, $2, $3, $4, $5)`
	endLog        = `UPDATE job SET log_cursor = $1, link = $2 WHERE id = $3`
	insertReceipt = `INSERT INTO receipt (job, log_cursor, link, signed, signature) VALUES ($1, $2, $3, $4, $5)`
)

// prepareHot compiles them once for SQLite's one writing connection, which would
// else compile each at every append; pgx keeps its own.
func (s *Store) prepareHot(ctx context.Context) error {
	s.prepared = map[string]*sql.Stmt{}
	if s.kind == postgres {
		return nil
	}
	for _, query := range []string{lockJob, findRecord, findAside, findRevoked, insertRecord, endLog, insertReceipt} {
		statement, err := s.write.PrepareContext(ctx, query)
		if err != nil {
			return err
		}
		s.prepared[query] = statement
	}
	return nil
}

// row runs a query of one row in the log's transaction.
func (l *jobLog) row(query string, args ...any) *sql.Row {
	if statement, ok := l.prepared[query]; ok {
		return l.tx.StmtContext(l.ctx, statement).QueryRowContext(l.ctx, args...)
	}
	return l.tx.QueryRowContext(l.ctx, query, args...)
}

// exec runs a statement in the log's transaction.
func (l *jobLog) exec(query string, args ...any) (sql.Result, error) {
	if statement, ok := l.prepared[query]; ok {
		return l.tx.StmtContext(l.ctx, statement).ExecContext(l.ctx, args...)
	}
	return l.tx.ExecContext(l.ctx, query, args...)
}
