package store

import (
	"crypto/sha256"
	"encoding/hex"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// jobLog is the log of a job while a transaction writes to it. The job's row is
// locked: the cursor is raised in the transaction that inserts, so that records
// become visible in the order of their cursors.
type jobLog struct {
	session
	job    string
	cursor int64
	link   string
	now    int64
}

// appendTo writes batches of one job.
func (s *Store) appendTo(tx session, list []*batch) error {
	l, err := s.openLog(tx, list[0].job)
	if err != nil {
		return err
	}
	l.now = s.now().UnixMilli()
	start := l.cursor
	for _, b := range list {
		b.ack = Ack{Answers: make([]Answer, 0, len(b.arrivals))}
		for _, a := range b.arrivals {
			answer, err := l.take(a)
			if err != nil {
				return err
			}
			b.ack.Answers = append(b.ack.Answers, answer)
		}
	}
	receipt, err := s.receiptFor(l, start)
	for _, b := range list {
		b.ack.Receipt = receipt
	}
	return err
}

// openLog locks a job's row; SQLite's transaction has locked everything.
func (s *Store) openLog(tx session, job string) (*jobLog, error) {
	text := `SELECT log_cursor, link FROM job WHERE id = $1`
	if s.kind == postgres {
		text += ` FOR UPDATE`
	}
	row, found, err := one(tx, text, job)
	if err != nil {
		return nil, err
	}
	if !found {
		return nil, noJob(job)
	}
	return &jobLog{session: tx, job: job, cursor: row[0].(int64), link: row[1].(string)}, nil
}

// take decides what becomes of an arrival and writes it.
func (l *jobLog) take(a arrival) (Answer, error) {
	if a.refuse != nil {
		return Answer{Outcome: Refused, Why: a.refuse.What}, nil
	}
	fresh, err := l.insertFresh(a)
	if err != nil {
		return Answer{}, err
	}
	if !fresh {
		return l.takeOther(a)
	}
	if accept, ok := a.record.Payload.(*record.Accept); ok {
		err = l.accept(a.record.Person, accept.Records)
	}
	return Answer{ID: a.record.ID, Outcome: Stored, Cursor: l.cursor}, err
}

// insertFresh writes an arrival at the next cursor in one statement, if nothing
// is against it: its id is not in the log, it was not set aside before, nothing
// holds it.
func (l *jobLog) insertFresh(a arrival) (bool, error) {
	if a.held != "" {
		return false, nil
	}
	n, err := l.exec(`INSERT INTO record (job, log_cursor, id, hash, body) SELECT $1, $2, $3, $4, $5
		WHERE NOT EXISTS (SELECT 1 FROM quarantine WHERE job = $1 AND hash = $4)
		AND NOT EXISTS (SELECT 1 FROM device WHERE id = $6 AND revoked <> 0) ON CONFLICT (job, id) DO NOTHING`,
		l.job, l.cursor+1, a.record.ID.String(), a.hash, a.body, a.record.Device)
	if err != nil || n == 0 {
		return false, err
	}
	l.cursor++
	l.link = nextLink(l.link, a.hash)
	return true, nil
}

// takeOther decides on an arrival that does not simply enter.
func (l *jobLog) takeOther(a arrival) (Answer, error) {
	if answer, found, err := l.known(a); found || err != nil {
		return answer, err
	}
	key, err := l.heldFor(a)
	if err != nil {
		return Answer{}, err
	}
	if key != "" {
		return l.setAside(a, Held, key)
	}
	cursor, err := l.insert(a.record, a.hash, a.body)
	if err != nil {
		return Answer{}, err
	}
	if accept, ok := a.record.Payload.(*record.Accept); ok {
		err = l.accept(a.record.Person, accept.Records)
	}
	return Answer{ID: a.record.ID, Outcome: Stored, Cursor: cursor}, err
}

// known answers an arrival that is here already, and sets aside one whose id
// has another content in the log.
func (l *jobLog) known(a arrival) (Answer, bool, error) {
	row, taken, err := one(l, `SELECT hash, log_cursor FROM record WHERE job = $1 AND id = $2`, l.job, a.record.ID.String())
	if err != nil {
		return Answer{}, true, err
	}
	if taken && row[0] == a.hash {
		return Answer{ID: a.record.ID, Outcome: Known, Cursor: row[1].(int64)}, true, nil
	}
	row, aside, err := one(l, `SELECT status, reason FROM quarantine WHERE job = $1 AND hash = $2`, l.job, a.hash)
	if err != nil {
		return Answer{}, true, err
	}
	if aside {
		return Answer{ID: a.record.ID, Outcome: Outcome(row[0].(string)), Why: asideWords(phrase.Key(row[1].(string)), a.record)}, true, nil
	}
	if !taken {
		return Answer{}, false, nil
	}
	answer, err := l.setAside(a, Quarantined, "store.two_contents")
	return answer, true, err
}

// heldFor says why an arrival is held, "" it is not.
func (l *jobLog) heldFor(a arrival) (phrase.Key, error) {
	key := a.held
	if key == "" {
		_, revoked, err := one(l, `SELECT 1 FROM device WHERE id = $1 AND revoked <> 0`, a.record.Device)
		if err != nil || !revoked {
			return "", err
		}
		key = "store.held_revoked"
	}
	// A foreman may have let it in before it came.
	_, accepted, err := one(l, `SELECT 1 FROM acceptance WHERE job = $1 AND id = $2`, l.job, a.record.ID.String())
	if err != nil || accepted {
		return "", err
	}
	return key, nil
}

// insert writes a record at the next cursor.
func (l *jobLog) insert(r record.Record, hash, body string) (int64, error) {
	l.cursor++
	l.link = nextLink(l.link, hash)
	_, err := l.exec(`INSERT INTO record (job, log_cursor, id, hash, body) VALUES ($1, $2, $3, $4, $5)`,
		l.job, l.cursor, r.ID.String(), hash, body)
	return l.cursor, err
}

// nextLink chains a record's hash to all before it.
func nextLink(link, hash string) string {
	sum := sha256.Sum256([]byte(link + hash))
	return hex.EncodeToString(sum[:])
}
