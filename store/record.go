package store

import (
	"context"
	"crypto/sha256"
	"database/sql"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// MaxBatch bounds the records of one Append.
const MaxBatch = 1000

// Entry is a record as it came in: its canonical form.
type Entry struct {
	Body []byte
	Held phrase.Key // why it may not enter the log now, "" it may
}

// Outcome is what became of an entry.
type Outcome string

// The outcomes.
const (
	Stored      Outcome = "stored"
	Known       Outcome = "known" // it was in the log before
	Held        Outcome = "held"  // in quarantine till a foreman accepts it
	Quarantined Outcome = "quarantined"
	Refused     Outcome = "refused" // no record at all, or of another job; nothing was kept
)

// Answer is what became of one entry.
type Answer struct {
	ID      record.ID // zero where it was refused
	Outcome Outcome
	Cursor  int64          // in the log, 0 not there
	Why     phrase.Message // of held, quarantined and refused
}

// Ack is the answer to a batch: one answer an entry in their order, and the
// newest receipt of the job, nil while its log is empty.
type Ack struct {
	Answers []Answer
	Receipt *Receipt
}

// Logged is a record of the log.
type Logged struct {
	Cursor int64
	Body   []byte // canonical form
}

// Append adds records to the log of a job and returns after the commit that
// holds them. It may be repeated: a record is in the log once. After an error
// nothing is acknowledged; the records may be there or not, sending them again
// tells. Batches that wait together share one commit.
func (s *Store) Append(ctx context.Context, job string, entries []Entry) (Ack, error) {
	if len(entries) > MaxBatch {
		return Ack{}, fault(phrase.Invalid, "store.batch", phrase.With("count", len(entries)), phrase.With("limit", MaxBatch))
	}
	b := &batch{ctx: ctx, job: job, arrivals: make([]arrival, len(entries))}
	for i, e := range entries {
		b.arrivals[i] = readArrival(job, e)
	}
	if f := s.group.submit(b); f != nil {
		return Ack{}, f
	}
	return b.ack, b.err
}

// arrival is an entry read.
type arrival struct {
	record record.Record
	hash   string
	body   string
	held   phrase.Key
	refuse *phrase.Fault
}

func readArrival(job string, e Entry) arrival {
	r, f := record.Decode(e.Body)
	if f == nil && r.Job != job {
		f = fault(phrase.Invalid, "store.other_job", phrase.With("job", r.Job), phrase.With("want", job))
	}
	if f != nil {
		return arrival{refuse: f}
	}
	return arrival{record: r, hash: record.Hash(sha256.Sum256(e.Body)).String(), body: string(e.Body), held: e.Held} // Decode takes the canonical form alone
}

// Records reads on in a job's log from after a cursor: the next records, at
// most limit, in the order of their commits.
func (s *Store) Records(ctx context.Context, job string, after int64, limit int) ([]Logged, error) {
	out, err := records(ctx, s.read, job, after, limit)
	return out, s.kind.explain(err)
}

func records(ctx context.Context, q querier, job string, after int64, limit int) ([]Logged, error) {
	rows, err := q.QueryContext(ctx, `SELECT log_cursor, body FROM record WHERE job = $1 AND log_cursor > $2 ORDER BY log_cursor LIMIT $3`, job, after, limit)
	return collect(rows, err, func(r *sql.Rows) (l Logged, err error) {
		err = r.Scan(&l.Cursor, &l.Body)
		return l, err
	})
}
