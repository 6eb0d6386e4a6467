package store

import (
	"context"
	"crypto/ed25519"
	"crypto/rand"
	"database/sql"
	"encoding/hex"
	"errors"
	"strconv"

	"spadework/engine/phrase"
)

// Receipt is the store's signed word that it holds a job's log up to a cursor.
// Link is a hash over all records till there, so that each receipt rests on
// those before it.
type Receipt struct {
	Job       string `json:"job"`
	Cursor    int64  `json:"cursor"`
	Link      string `json:"link"`
	Signed    int64  `json:"signed"`    // milliseconds since 1970 UTC
	Signature string `json:"signature"` // Ed25519 (RFC 8032), hexadecimal
}

// text is what is signed.
func (r Receipt) text() []byte {
	return []byte("spadework receipt 1\n" + strconv.Quote(r.Job) + "\n" + strconv.FormatInt(r.Cursor, 10) + "\n" + r.Link + "\n" + strconv.FormatInt(r.Signed, 10) + "\n")
}

// Genuine says that the holder of the key signed the receipt as it stands.
func (r Receipt) Genuine(key ed25519.PublicKey) bool {
	signature, err := hex.DecodeString(r.Signature)
	return err == nil && len(key) == ed25519.PublicKeySize && ed25519.Verify(key, r.text(), signature)
}

// Key is what receipts of this store are checked with.
func (s *Store) Key() ed25519.PublicKey { return s.key.Public().(ed25519.PublicKey) }

// loadKey fetches the key of receipts, of which the first opening makes one.
func (s *Store) loadKey(ctx context.Context) error {
	seed, err := readSeed(ctx, s.read)
	if errors.Is(err, sql.ErrNoRows) {
		var fresh [ed25519.SeedSize]byte
		if _, err := rand.Read(fresh[:]); err != nil {
			return err
		}
		if _, err := s.write.ExecContext(ctx, `INSERT INTO signing_key (id, seed) VALUES (1, $1) ON CONFLICT DO NOTHING`, hex.EncodeToString(fresh[:])); err != nil {
			return err
		}
		seed, err = readSeed(ctx, s.read)
	}
	if err != nil {
		return err
	}
	return s.useSeed(seed)
}

func (s *Store) useSeed(seed string) error {
	raw, err := hex.DecodeString(seed)
	if err != nil || len(raw) != ed25519.SeedSize {
		return fault(Unavailable, "store.damaged", phrase.With("detail", "signing_key"))
	}
	s.key = ed25519.NewKeyFromSeed(raw)
	return nil
}

func readSeed(ctx context.Context, q querier) (seed string, err error) {
	err = q.QueryRowContext(ctx, `SELECT seed FROM signing_key WHERE id = 1`).Scan(&seed)
	return seed, err
}

// receiptFor writes the log's end and its receipt into the job, if the log
// grew; else it gives the newest receipt. It signs here and now: another core
// takes longer to wake than to sign.
func (s *Store) receiptFor(l *jobLog, start int64) (*Receipt, error) {
	if l.cursor == 0 {
		return nil, nil
	}
	if l.cursor == start {
		return newestReceipt(l, l.job)
	}
	r := Receipt{Job: l.job, Cursor: l.cursor, Link: l.link, Signed: l.now}
	r.Signature = hex.EncodeToString(ed25519.Sign(s.key, r.text()))
	return &r, l.end(r)
}

// end writes the log's end and its receipt into the job.
func (l *jobLog) end(r Receipt) error {
	_, err := l.exec(`UPDATE job SET log_cursor = $1, link = $2, signed = $3, signature = $4 WHERE id = $5`, r.Cursor, r.Link, r.Signed, r.Signature, l.job)
	return err
}

// Receipt is the newest receipt of a job, nil while its log is empty.
func (s *Store) Receipt(ctx context.Context, job string) (*Receipt, error) {
	r := Receipt{Job: job}
	err := s.read.QueryRowContext(ctx, newest, job).Scan(&r.Cursor, &r.Link, &r.Signed, &r.Signature)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, s.kind.explain(err)
	}
	return &r, nil
}

const newest = `SELECT log_cursor, link, signed, signature FROM job WHERE id = $1 AND log_cursor > 0`

func newestReceipt(l session, job string) (*Receipt, error) {
	row, found, err := one(l, newest, job)
	if err != nil || !found {
		return nil, err
	}
	return &Receipt{job, row[0].(int64), row[1].(string), row[2].(int64), row[3].(string)}, nil
}
