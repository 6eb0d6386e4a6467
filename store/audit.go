package store

import (
	"context"
	"database/sql"
)

// Act is what was done to somebody's rights.
type Act string

// The acts.
const (
	ActInvited     Act = "invited"
	ActWithdrawn   Act = "withdrawn" // an invitation
	ActJoined      Act = "joined"
	ActRecovered   Act = "recovered" // joined anew: what was there before does not count
	ActGranted     Act = "granted"
	ActEnded       Act = "ended" // a role
	ActSignedIn    Act = "signed_in"
	ActSessionEnd  Act = "session_ended"
	ActRevoked     Act = "revoked" // a device
	ActPasskey     Act = "passkey"
	ActPassword    Act = "password"
	ActPersonTaken Act = "person" // on a device that several share
)

// Audit is one change of rights.
type Audit struct {
	Number int64  `json:"number"`
	At     int64  `json:"at"` // milliseconds since 1970 UTC
	By     string `json:"by"`
	Act    Act    `json:"act"`
	Job    string `json:"job"` // "" every job
	Person string `json:"person"`
	Detail string `json:"detail"`
}

// note writes a change into the audit, in the transaction that makes it.
func (s *Store) note(ctx context.Context, tx *sql.Tx, a Audit) error {
	// The row of the key is there once: holding it keeps the numbers in line.
	if _, err := tx.ExecContext(ctx, `UPDATE signing_key SET id = id WHERE id = 1`); err != nil {
		return err
	}
	if err := tx.QueryRowContext(ctx, `SELECT COALESCE(MAX(number), 0) + 1 FROM audit`).Scan(&a.Number); err != nil {
		return err
	}
	a.At = s.now().UnixMilli()
	return saveAudit(ctx, tx, a)
}

func saveAudit(ctx context.Context, q querier, a Audit) error {
	_, err := q.ExecContext(ctx, `INSERT INTO audit (number, at, by_whom, action, job, person, detail) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
		a.Number, a.At, a.By, string(a.Act), a.Job, a.Person, a.Detail)
	return err
}

// maxAudit bounds what one reading of the audit gives.
const maxAudit = 500

// Audit lists the newest changes of rights that touch a job, newest first: those
// of the job and those of every job. With job "" all are listed.
func (s *Store) Audit(ctx context.Context, job string) ([]Audit, error) {
	rows, err := s.read.QueryContext(ctx, `SELECT number, at, by_whom, action, job, person, detail FROM audit
		WHERE $1 = '' OR job = $1 OR job = '' ORDER BY number DESC LIMIT $2`, job, maxAudit)
	out, err := collect(rows, err, scanAudit)
	return out, s.kind.explain(err)
}

func scanAudit(r *sql.Rows) (a Audit, err error) {
	err = r.Scan(&a.Number, &a.At, &a.By, &a.Act, &a.Job, &a.Person, &a.Detail)
	return a, err
}

func audits(ctx context.Context, q querier) ([]Audit, error) {
	rows, err := q.QueryContext(ctx, `SELECT number, at, by_whom, action, job, person, detail FROM audit ORDER BY number`)
	return collect(rows, err, scanAudit)
}
