package store

import (
	"context"
	"database/sql"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// Aside is a record in quarantine.
type Aside struct {
	Number   int64 // in the job's quarantine, from 1
	Body     []byte
	Status   string // held, quarantined; accepted: it is in the log by now
	Reason   phrase.Key
	Received int64 // milliseconds since 1970 UTC
}

// asideWords says why a record is set aside.
func asideWords(key phrase.Key, r record.Record) phrase.Message {
	return phrase.New(key, phrase.With("id", r.ID.String()), phrase.With("device", r.Device), phrase.With("seq", int(r.Seq)))
}

// setAside puts an arrival in quarantine.
func (l *jobLog) setAside(a arrival, o Outcome, key phrase.Key) (Answer, error) {
	_, err := l.exec(`INSERT INTO quarantine (job, number, id, hash, body, status, reason, received)
		VALUES ($1, COALESCE((SELECT number FROM quarantine WHERE job = $1 ORDER BY number DESC LIMIT 1), 0) + 1, $2, $3, $4, $5, $6, $7)`,
		l.job, a.record.ID.String(), a.hash, a.body, string(o), string(key), l.now)
	return Answer{ID: a.record.ID, Outcome: o, Why: asideWords(key, a.record)}, err
}

// accept lets held records in, if the person is a foreman: those that are here
// now, the others when they come. Of one id with two held contents neither
// enters.
func (l *jobLog) accept(person string, ids []record.ID) error {
	row, found, err := one(l, `SELECT role FROM person WHERE id = $1`, person)
	if err != nil || !found || row[0] != Foreman {
		return err
	}
	for _, id := range ids {
		if _, err := l.exec(`INSERT INTO acceptance (job, id) VALUES ($1, $2) ON CONFLICT DO NOTHING`, l.job, id.String()); err != nil {
			return err
		}
		if err := l.release(id); err != nil {
			return err
		}
	}
	return nil
}

// release moves a held record to the log.
func (l *jobLog) release(id record.ID) error {
	held, err := l.query(`SELECT hash, body FROM quarantine WHERE job = $1 AND id = $2 AND status = 'held'`, l.job, id.String())
	if err != nil || len(held) != 1 {
		return err
	}
	_, taken, err := one(l, `SELECT 1 FROM record WHERE job = $1 AND id = $2`, l.job, id.String())
	if err != nil || taken {
		return err // its id has another content in the log
	}
	hash, body := held[0][0].(string), held[0][1].(string)
	if _, err := l.insert(record.Record{ID: id}, hash, body); err != nil {
		return err
	}
	_, err = l.exec(`UPDATE quarantine SET status = 'accepted' WHERE job = $1 AND hash = $2`, l.job, hash)
	return err
}

// Quarantine lists what was set aside of a job, in the order it came.
func (s *Store) Quarantine(ctx context.Context, job string) ([]Aside, error) {
	out, err := quarantine(ctx, s.read, job)
	return out, s.kind.explain(err)
}

func quarantine(ctx context.Context, q querier, job string) ([]Aside, error) {
	rows, err := q.QueryContext(ctx, `SELECT number, body, status, reason, received FROM quarantine WHERE job = $1 ORDER BY number`, job)
	return collect(rows, err, func(r *sql.Rows) (a Aside, err error) {
		err = r.Scan(&a.Number, &a.Body, &a.Status, &a.Reason, &a.Received)
		return a, err
	})
}
