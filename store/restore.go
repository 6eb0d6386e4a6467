package store

import (
	"bufio"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// Restore fills an empty store from a backup, or from an export, which keeps
// the receipts but needs a new key, so that they are left out. All or nothing
// is taken; it is verified before it is kept.
func (s *Store) Restore(ctx context.Context, from fs.FS) (Report, error) {
	r := restorer{ctx: ctx, store: s, from: from, noted: map[string]manifestFile{}}
	if err := r.readManifest(); err != nil {
		return Report{}, s.kind.explain(err)
	}
	old := s.key
	var report Report
	err := s.inTx(ctx, func(tx *sql.Tx) error {
		r.tx = tx
		if err := r.all(); err != nil {
			return err
		}
		v := verifier{ctx: ctx, store: s, tx: tx}
		if err := v.all(); err != nil {
			return err
		}
		report = v.Report
		if !report.Sound() {
			return fault(phrase.Invalid, "store.restore_unsound", phrase.With("detail", report.Flaws[0]))
		}
		return nil
	})
	if err != nil {
		s.key = old
	}
	return report, err
}

// restorer is a Restore under way.
type restorer struct {
	ctx   context.Context
	store *Store
	tx    *sql.Tx
	from  fs.FS
	noted map[string]manifestFile
}

func (r *restorer) readManifest() error {
	data, err := fs.ReadFile(r.from, "manifest.json")
	if err != nil {
		return badBackup("manifest.json", err)
	}
	var m manifest
	if err := json.Unmarshal(data, &m); err != nil {
		return badBackup("manifest.json", err)
	}
	if m.Format != exportFormat {
		return fault(phrase.Invalid, "store.backup_format", phrase.With("value", m.Format), phrase.With("format", exportFormat))
	}
	for _, f := range m.Files {
		r.noted[f.Name] = f
	}
	return nil
}

func badBackup(name string, err error) error {
	return &Error{fault(phrase.Invalid, "store.backup_file", phrase.With("name", name), phrase.With("detail", err.Error())), err}
}

var errManifest = errors.New("not as in manifest.json")

// check reads a file through once against the manifest.
func (r *restorer) check(name string) error {
	f, err := r.from.Open(name)
	if err != nil {
		return badBackup(name, err)
	}
	defer f.Close()
	noted, ok := r.noted[name]
	sum := sha256.New()
	n, err := io.Copy(sum, io.LimitReader(f, noted.Size+1))
	if err == nil && (!ok || n != noted.Size || hex.EncodeToString(sum.Sum(nil)) != noted.SHA256) {
		err = errManifest
	}
	if err != nil {
		return badBackup(name, err)
	}
	return nil
}

// open opens a file that is as in the manifest.
func (r *restorer) open(name string) (fs.File, error) {
	if err := r.check(name); err != nil {
		return nil, err
	}
	return r.from.Open(name)
}

// eachLine runs work on every line of a file.
func (r *restorer) eachLine(name string, work func(line []byte) error) error {
	f, err := r.open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	in := bufio.NewReader(f)
	for {
		line, err := in.ReadBytes('\n')
		if errors.Is(err, io.EOF) && len(line) == 0 {
			return nil
		}
		if err != nil {
			return badBackup(name, err)
		}
		if err := work(line[:len(line)-1]); err != nil {
			return err
		}
	}
}

// each decodes every line of a file.
func each[T any](r *restorer, name string, work func(T) error) error {
	return r.eachLine(name, func(line []byte) error {
		var v T
		if err := json.Unmarshal(line, &v); err != nil {
			return badBackup(name, err)
		}
		return work(v)
	})
}

func (r *restorer) all() error {
	if err := r.wantEmpty(); err != nil {
		return err
	}
	if err := r.key(); err != nil {
		return err
	}
	if err := each(r, "people.jsonl", func(p Person) error { return savePerson(r.ctx, r.tx, p) }); err != nil {
		return err
	}
	if err := each(r, "devices.jsonl", func(d Device) error { return saveDevice(r.ctx, r.tx, d) }); err != nil {
		return err
	}
	if err := each(r, "photos.jsonl", r.photo); err != nil {
		return err
	}
	return each(r, "jobs.jsonl", r.job)
}

// wantEmpty refuses a store that holds something.
func (r *restorer) wantEmpty() error {
	var n int
	err := r.tx.QueryRowContext(r.ctx, `SELECT (SELECT count(*) FROM job) + (SELECT count(*) FROM person) + (SELECT count(*) FROM photo)`).Scan(&n)
	if err == nil && n > 0 {
		return fault(phrase.Conflict, "store.not_empty")
	}
	return err
}

// key takes the backup's key over; an export has none.
func (r *restorer) key() error {
	if _, ok := r.noted["key.txt"]; !ok {
		return nil
	}
	if err := r.check("key.txt"); err != nil {
		return err
	}
	data, err := fs.ReadFile(r.from, "key.txt")
	if err != nil {
		return badBackup("key.txt", err)
	}
	seed := strings.TrimSpace(string(data))
	if err := r.store.useSeed(seed); err != nil {
		return err
	}
	_, err = r.tx.ExecContext(r.ctx, `UPDATE signing_key SET seed = $1 WHERE id = 1`, seed)
	return err
}

func (r *restorer) photo(p Photo) error {
	f, err := r.open("photos/" + p.Digest)
	if err != nil {
		return err
	}
	defer f.Close()
	return insertPhoto(r.ctx, r.tx, p, f)
}

// job restores a job's folder.
func (r *restorer) job(j jobLine) error {
	_, err := r.tx.ExecContext(r.ctx, `INSERT INTO job (id, revision, log_cursor, link) VALUES ($1, 0, 0, '')`, j.ID)
	if err != nil {
		return err
	}
	if err := each(r, j.Folder+"/revisions.jsonl", func(line revisionLine) error { return r.revision(j.ID, line) }); err != nil {
		return err
	}
	l := &jobLog{session: overSQL{r.ctx, r.tx}, job: j.ID}
	if err := r.eachLine(j.Folder+"/records.jsonl", func(line []byte) error { return r.record(l, line) }); err != nil {
		return err
	}
	if err := each(r, j.Folder+"/quarantine.jsonl", func(a asideLine) error { return r.aside(j.ID, a) }); err != nil {
		return err
	}
	if err := each(r, j.Folder+"/acceptances.jsonl", func(id string) error {
		_, err := r.tx.ExecContext(r.ctx, `INSERT INTO acceptance (job, id) VALUES ($1, $2)`, j.ID, id)
		return err
	}); err != nil {
		return err
	}
	return r.receipts(j, l)
}

func (r *restorer) revision(job string, line revisionLine) error {
	f, err := r.open(line.File)
	if err != nil {
		return err
	}
	defer f.Close()
	document, err := io.ReadAll(io.LimitReader(f, MaxDocument+1))
	if err != nil {
		return badBackup(line.File, err)
	}
	_, err = r.tx.ExecContext(r.ctx, `INSERT INTO job_revision (job, revision, document, digest, person, saved) VALUES ($1, $2, $3, $4, $5, $6)`,
		job, line.Revision, string(document), line.SHA256, line.Person, line.Saved)
	if err != nil {
		return err
	}
	_, err = r.tx.ExecContext(r.ctx, `UPDATE job SET revision = $1 WHERE id = $2`, line.Revision, job)
	return err
}

func (r *restorer) record(l *jobLog, line []byte) error {
	rec, f := record.Decode(line)
	if f != nil {
		return f
	}
	_, err := l.insert(rec, rec.Hash().String(), string(line))
	return err
}

func (r *restorer) aside(job string, a asideLine) error {
	rec, f := record.Decode([]byte(a.Record))
	if f != nil {
		return f
	}
	_, err := r.tx.ExecContext(r.ctx, `INSERT INTO quarantine (job, number, id, hash, body, status, reason, received) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
		job, a.Number, rec.ID.String(), rec.Hash().String(), a.Record, a.Status, a.Reason, a.Received)
	return err
}

// receipts restores the newest receipt under the key that signed it; under
// another the log's end is signed anew.
func (r *restorer) receipts(j jobLine, l *jobLog) error {
	if _, ok := r.noted["key.txt"]; !ok {
		l.now = r.store.now().UnixMilli()
		_, err := r.store.receiptFor(l, 0)
		return err
	}
	newest := Receipt{Cursor: l.cursor, Link: l.link}
	err := each(r, j.Folder+"/receipts.jsonl", func(one Receipt) error {
		if one.Cursor == l.cursor {
			newest = one
		}
		return nil
	})
	return errors.Join(err, l.end(newest))
}
