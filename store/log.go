package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// jobLog is the log of a job while a transaction writes to it. The job's row is
// locked: the cursor is raised in the transaction that inserts, so that records
// become visible in the order of their cursors.
type jobLog struct {
	ctx      context.Context
	tx       *sql.Tx
	prepared map[string]*sql.Stmt
	job      string
	cursor   int64
	link     string
	now      int64
	revoked  map[string]bool // of devices looked up
}

// appendTo writes batches of one job.
func (s *Store) appendTo(tx *sql.Tx, list []*batch) error {
	l, err := s.openLog(context.Background(), tx, list[0].job)
	if err != nil {
		return err
	}
	l.now = s.now().UnixMilli()
	start := l.cursor
	for _, b := range list {
		b.ack = Ack{}
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

// openLog locks a job's row.
func (s *Store) openLog(ctx context.Context, tx *sql.Tx, job string) (*jobLog, error) {
	l := &jobLog{ctx: ctx, tx: tx, job: job, prepared: s.prepared, revoked: map[string]bool{}}
	err := l.row(lockJob, job).Scan(&l.cursor, &l.link)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, noJob(job)
	}
	return l, err
}

// take decides what becomes of an arrival and writes it.
func (l *jobLog) take(a arrival) (Answer, error) {
	if a.refuse != nil {
		return Answer{Outcome: Refused, Why: a.refuse.What}, nil
	}
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
	var hash string
	var cursor int64
	err := l.row(findRecord, l.job, a.record.ID.String()).Scan(&hash, &cursor)
	switch {
	case err == nil && hash == a.hash:
		return Answer{ID: a.record.ID, Outcome: Known, Cursor: cursor}, true, nil
	case err != nil && !errors.Is(err, sql.ErrNoRows):
		return Answer{}, true, err
	}
	taken := err == nil
	var status, reason string
	err = l.row(findAside, l.job, a.hash).Scan(&status, &reason)
	if err == nil {
		return Answer{ID: a.record.ID, Outcome: Outcome(status), Why: asideWords(phrase.Key(reason), a.record)}, true, nil
	}
	if !errors.Is(err, sql.ErrNoRows) {
		return Answer{}, true, err
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
		revoked, err := l.isRevoked(a.record.Device)
		if err != nil || !revoked {
			return "", err
		}
		key = "store.held_revoked"
	}
	var one int
	err := l.row(`SELECT 1 FROM acceptance WHERE job = $1 AND id = $2`, l.job, a.record.ID.String()).Scan(&one)
	if err == nil {
		return "", nil // a foreman let it in before it came
	}
	if !errors.Is(err, sql.ErrNoRows) {
		return "", err
	}
	return key, nil
}

func (l *jobLog) isRevoked(device string) (bool, error) {
	if is, looked := l.revoked[device]; looked {
		return is, nil
	}
	var at int64
	err := l.row(findRevoked, device).Scan(&at)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return false, err
	}
	l.revoked[device] = at != 0
	return at != 0, nil
}

// insert writes a record at the next cursor.
func (l *jobLog) insert(r record.Record, hash, body string) (int64, error) {
	l.cursor++
	l.link = nextLink(l.link, hash)
	_, err := l.exec(insertRecord,
		l.job, l.cursor, r.ID.String(), hash, body)
	return l.cursor, err
}

// nextLink chains a record's hash to all before it.
func nextLink(link, hash string) string {
	sum := sha256.Sum256([]byte(link + hash))
	return hex.EncodeToString(sum[:])
}
