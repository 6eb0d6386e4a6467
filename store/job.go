package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"

	"spadework/engine/phrase"
)

// MaxDocument bounds a job document in bytes.
const MaxDocument = 16 << 20

// Job is a line of the list of jobs.
type Job struct {
	ID       string
	Revision int64 // newest, from 1
	Cursor   int64 // of the newest record, 0 none
}

// Revision is one saved state of a job.
type Revision struct {
	Job      string
	Number   int64 // from 1
	Document string
	Digest   string // SHA-256 of the document, hexadecimal
	Person   string
	Saved    int64 // milliseconds since 1970 UTC
}

// Edit is a job as somebody wants it saved.
type Edit struct {
	Job      string
	Base     int64 // revision it was made from, 0 a new job
	Document string
	Person   string
}

// Race is a lost race: somebody saved since the edit's base. Nothing was
// written; both sides are told.
type Race struct {
	Fault *phrase.Fault
	Base  *Revision // what the edit was made from, nil a new job
	Now   Revision  // what is there instead
}

// Error is the fault's.
func (r *Race) Error() string { return r.Fault.Error() }

// Unwrap is the fault.
func (r *Race) Unwrap() error { return r.Fault }

func digestOf(document string) string {
	sum := sha256.Sum256([]byte(document))
	return hex.EncodeToString(sum[:])
}

// SaveJob saves an edit as the next revision if its base is still the newest,
// else it fails with *Race. The same edit sent again gives the revision that it
// became, while that is the newest.
func (s *Store) SaveJob(ctx context.Context, e Edit) (Revision, error) {
	if f := e.check(); f != nil {
		return Revision{}, f
	}
	r := Revision{e.Job, e.Base + 1, e.Document, digestOf(e.Document), e.Person, s.now().UnixMilli()}
	err := s.inTx(ctx, func(tx *sql.Tx) error {
		won, err := takeRevision(ctx, tx, e)
		if err != nil {
			return err
		}
		if !won {
			r, err = lostRace(ctx, tx, e, r.Digest)
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO job_revision (job, revision, document, digest, person, saved) VALUES ($1, $2, $3, $4, $5, $6)`,
			r.Job, r.Number, r.Document, r.Digest, r.Person, r.Saved)
		return err
	})
	if err != nil {
		return Revision{}, err
	}
	return r, nil
}

// check says what keeps an edit from being saved.
func (e Edit) check() *phrase.Fault {
	switch {
	case !isName(e.Job):
		return fault(phrase.Invalid, "store.job_id", phrase.With("value", e.Job))
	case !isName(e.Person):
		return fault(phrase.Invalid, "store.name", phrase.With("value", e.Person))
	case len(e.Document) > MaxDocument:
		return fault(phrase.Invalid, "store.document_long", phrase.With("size", len(e.Document)), phrase.With("limit", MaxDocument))
	case !isText(e.Document):
		return fault(phrase.Invalid, "store.document_text")
	}
	return nil
}

// takeRevision moves the job on from the edit's base, if it is there.
func takeRevision(ctx context.Context, tx *sql.Tx, e Edit) (bool, error) {
	query, args := `UPDATE job SET revision = revision + 1 WHERE id = $1 AND revision = $2`, []any{e.Job, e.Base}
	if e.Base == 0 {
		query, args = `INSERT INTO job (id, revision, log_cursor, link) VALUES ($1, 1, 0, '') ON CONFLICT DO NOTHING`, args[:1]
	}
	result, err := tx.ExecContext(ctx, query, args...)
	if err != nil {
		return false, err
	}
	n, err := result.RowsAffected()
	return n == 1, err
}

// lostRace gives the newest revision if it is this very edit, else the race.
func lostRace(ctx context.Context, tx *sql.Tx, e Edit, digest string) (Revision, error) {
	now, err := revision(ctx, tx, e.Job, 0)
	if err != nil {
		return Revision{}, err
	}
	if now.Number == e.Base+1 && now.Digest == digest && now.Person == e.Person {
		return now, nil
	}
	race := &Race{Now: now, Fault: fault(phrase.Conflict, "store.race", phrase.With("job", e.Job), phrase.With("base", int(e.Base)),
		phrase.With("now", int(now.Number)), phrase.With("person", now.Person))}
	if e.Base > 0 {
		base, err := revision(ctx, tx, e.Job, e.Base)
		if err != nil {
			return Revision{}, err
		}
		race.Base = &base
	}
	return Revision{}, race
}

// Revision is one revision of a job, 0 the newest.
func (s *Store) Revision(ctx context.Context, job string, number int64) (Revision, error) {
	r, err := revision(ctx, s.read, job, number)
	return r, s.kind.explain(err)
}

// Newest is the newest revision of a job and the cursor of its newest record.
func (s *Store) Newest(ctx context.Context, job string) (revision, cursor int64, err error) {
	err = s.read.QueryRowContext(ctx, `SELECT revision, log_cursor FROM job WHERE id = $1`, job).Scan(&revision, &cursor)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, 0, noJob(job)
	}
	return revision, cursor, s.kind.explain(err)
}

func revision(ctx context.Context, q querier, job string, number int64) (Revision, error) {
	var r Revision
	query := `SELECT job, revision, document, digest, person, saved FROM job_revision WHERE job = $1 AND revision = $2`
	args := []any{job, number}
	if number == 0 {
		query, args = `SELECT job, revision, document, digest, person, saved FROM job_revision WHERE job = $1 ORDER BY revision DESC LIMIT 1`, args[:1]
	}
	err := q.QueryRowContext(ctx, query, args...).Scan(&r.Job, &r.Number, &r.Document, &r.Digest, &r.Person, &r.Saved)
	if errors.Is(err, sql.ErrNoRows) {
		if number == 0 {
			return r, noJob(job)
		}
		return r, fault(phrase.NotFound, "store.no_revision", phrase.With("job", job), phrase.With("number", int(number)))
	}
	return r, err
}

func noJob(job string) *phrase.Fault {
	return fault(phrase.NotFound, "store.no_job", phrase.With("job", job))
}

// Jobs lists the jobs by id.
func (s *Store) Jobs(ctx context.Context) ([]Job, error) {
	out, err := jobs(ctx, s.read)
	return out, s.kind.explain(err)
}

func jobs(ctx context.Context, q querier) ([]Job, error) {
	rows, err := q.QueryContext(ctx, `SELECT id, revision, log_cursor FROM job`)
	out, err := collect(rows, err, func(r *sql.Rows) (j Job, err error) {
		err = r.Scan(&j.ID, &j.Revision, &j.Cursor)
		return j, err
	})
	sortBy(out, func(j Job) string { return j.ID })
	return out, err
}
