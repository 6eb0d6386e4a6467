package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"io"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// Report is what Verify found.
type Report struct {
	Jobs, Revisions, Records, Asides, Photos int
	Flaws                                    []phrase.Message // of the store itself
	Breaks                                   []JobBreak       // of the devices' chains
}

// JobBreak is a flaw of a device's chain in a job. A missing record may still
// be on its phone.
type JobBreak struct {
	Job string
	record.Break
}

// Sound says that the store holds what it took in, byte for byte. Breaks do not
// count: they came in so.
func (r Report) Sound() bool { return len(r.Flaws) == 0 }

// Verify reads everything: the database's own check, every document's, record's
// and photo's digest, the cursors, links and receipts, and the chain of every
// device.
func (s *Store) Verify(ctx context.Context) (Report, error) {
	v := verifier{ctx: ctx, store: s}
	err := s.snapshot(ctx, func(tx *sql.Tx) error {
		v.tx = tx
		return v.all()
	})
	return v.Report, err
}

// verifier is a Verify under way.
type verifier struct {
	ctx   context.Context
	store *Store
	tx    *sql.Tx
	Report
}

func (v *verifier) flaw(key phrase.Key, args ...phrase.Arg) {
	v.Flaws = append(v.Flaws, phrase.New(key, args...))
}

func (v *verifier) all() error {
	if err := v.database(); err != nil {
		return err
	}
	list, err := jobs(v.ctx, v.tx)
	if err != nil {
		return err
	}
	v.Jobs = len(list)
	for _, j := range list {
		for _, check := range []func(Job) error{v.revisions, v.log, v.asides} {
			if err := check(j); err != nil {
				return err
			}
		}
	}
	return v.photos()
}

// database runs SQLite's own checks; PostgreSQL has none to call.
func (v *verifier) database() error {
	if v.store.kind != sqlite {
		return nil
	}
	rows, err := v.tx.QueryContext(v.ctx, `PRAGMA integrity_check`)
	words, err := collect(rows, err, func(r *sql.Rows) (w string, err error) {
		err = r.Scan(&w)
		return w, err
	})
	for _, w := range words {
		if w != "ok" {
			v.flaw("store.flaw_file", phrase.With("detail", w))
		}
	}
	return err
}

// revisions checks that every revision is there as it was saved.
func (v *verifier) revisions(j Job) error {
	for n := int64(1); n <= j.Revision; n++ {
		r, err := revision(v.ctx, v.tx, j.ID, n)
		if isNotFound(err) {
			v.flaw("store.flaw_revision", phrase.With("job", j.ID), phrase.With("number", int(n)))
			continue
		}
		if err != nil {
			return err
		}
		v.Revisions++
		if digestOf(r.Document) != r.Digest {
			v.flaw("store.flaw_revision", phrase.With("job", j.ID), phrase.With("number", int(n)))
		}
	}
	return nil
}

// logRow is a row of the log with what was noted beside the record.
type logRow struct {
	cursor         int64
	id, hash, body string
}

// log checks a job's records, in their order, and its receipts against them.
func (v *verifier) log(j Job) error {
	rows, err := v.tx.QueryContext(v.ctx, `SELECT log_cursor, id, hash, body FROM record WHERE job = $1 ORDER BY log_cursor`, j.ID)
	list, err := collect(rows, err, func(r *sql.Rows) (l logRow, err error) {
		err = r.Scan(&l.cursor, &l.id, &l.hash, &l.body)
		return l, err
	})
	if err != nil {
		return err
	}
	v.Records += len(list)
	links := []string{""}
	var good []record.Record
	for i, l := range list {
		r, f := record.Decode([]byte(l.body))
		if f != nil || l.cursor != int64(i+1) || r.Job != j.ID || r.ID.String() != l.id || r.Hash().String() != l.hash {
			v.flaw("store.flaw_record", phrase.With("job", j.ID), phrase.With("cursor", int(l.cursor)))
		} else {
			good = append(good, r)
		}
		links = append(links, nextLink(links[i], l.hash))
	}
	for _, c := range record.Verify(good) {
		for _, b := range c.Breaks {
			v.Breaks = append(v.Breaks, JobBreak{j.ID, b})
		}
	}
	return v.ends(j, links)
}

// ends checks the log's end and its receipt; links are by cursor.
func (v *verifier) ends(j Job, links []string) error {
	r := Receipt{Job: j.ID}
	err := v.tx.QueryRowContext(v.ctx, `SELECT log_cursor, link, signed, signature FROM job WHERE id = $1`, j.ID).Scan(&r.Cursor, &r.Link, &r.Signed, &r.Signature)
	if err != nil {
		return err
	}
	if r.Cursor != int64(len(links)-1) || r.Link != links[len(links)-1] {
		v.flaw("store.flaw_end", phrase.With("job", j.ID), phrase.With("cursor", int(r.Cursor)), phrase.With("count", len(links)-1))
	}
	if r.Cursor > 0 && !r.Genuine(v.store.Key()) {
		v.flaw("store.flaw_receipt", phrase.With("job", j.ID), phrase.With("cursor", int(r.Cursor)))
	}
	return nil
}

// asides checks the quarantine.
func (v *verifier) asides(j Job) error {
	rows, err := v.tx.QueryContext(v.ctx, `SELECT number, id, hash, body FROM quarantine WHERE job = $1 ORDER BY number`, j.ID)
	list, err := collect(rows, err, func(r *sql.Rows) (l logRow, err error) {
		err = r.Scan(&l.cursor, &l.id, &l.hash, &l.body)
		return l, err
	})
	v.Asides += len(list)
	for i, l := range list {
		sum := sha256.Sum256([]byte(l.body))
		if l.cursor != int64(i+1) || hex.EncodeToString(sum[:]) != l.hash {
			v.flaw("store.flaw_aside", phrase.With("job", j.ID), phrase.With("number", int(l.cursor)))
		}
	}
	return err
}

// photos reads every picture.
func (v *verifier) photos() error {
	list, err := photos(v.ctx, v.tx)
	if err != nil {
		return err
	}
	v.Photos = len(list)
	for _, p := range list {
		sum := sha256.New()
		n, err := io.Copy(sum, &photoReader{ctx: v.ctx, q: v.tx, digest: p.Digest})
		if err != nil {
			return err
		}
		if n != p.Size || hex.EncodeToString(sum.Sum(nil)) != p.Digest {
			v.flaw("store.flaw_photo", phrase.With("digest", p.Digest))
		}
	}
	return nil
}
