package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"spadework/engine/phrase"
)

// Export writes everything into a folder that is not there yet, in open
// formats: a job's documents as TOML, lists as JSON lines, each record in its
// canonical form on a line of its own at its cursor, photos as they came, and
// manifest.json with the size and SHA-256 of every file. The key of receipts
// is not among them. One moment is written, while others go on.
func (s *Store) Export(ctx context.Context, folder string) error {
	err := os.Mkdir(folder, 0o755)
	if errors.Is(err, fs.ErrExist) {
		return fault(phrase.Conflict, "store.backup_there", phrase.With("path", folder))
	}
	if err != nil {
		return s.kind.explain(err)
	}
	return s.snapshot(ctx, func(tx *sql.Tx) error {
		return writeAll(ctx, tx, func(name string) (io.WriteCloser, error) {
			path := filepath.Join(folder, filepath.FromSlash(name))
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				return nil, err
			}
			return os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		}, false)
	})
}

// manifest lists what was written.
type manifest struct {
	Format int            `json:"format"`
	Files  []manifestFile `json:"files"`
}

type manifestFile struct {
	Name   string `json:"name"`
	Size   int64  `json:"size"`
	SHA256 string `json:"sha256"`
}

// exportFormat is the version of the layout.
const exportFormat = 1

// jobLine says which folder a job is in: an id need not do as a file name.
type jobLine struct {
	ID     string `json:"id"`
	Folder string `json:"folder"`
}

// revisionLine is what a revision's TOML does not say.
type revisionLine struct {
	Revision int64  `json:"revision"`
	File     string `json:"file"`
	SHA256   string `json:"sha256"`
	Person   string `json:"person"`
	Saved    int64  `json:"saved"`
}

// asideLine is a record in quarantine.
type asideLine struct {
	Number   int64  `json:"number"`
	Status   string `json:"status"`
	Reason   string `json:"reason"`
	Received int64  `json:"received"`
	Record   string `json:"record"`
}

// exporter writes files.
type exporter struct {
	ctx    context.Context
	tx     *sql.Tx
	create func(name string) (io.WriteCloser, error)
	manifest
}

func writeAll(ctx context.Context, tx *sql.Tx, create func(string) (io.WriteCloser, error), withKey bool) error {
	e := exporter{ctx: ctx, tx: tx, create: create}
	e.Format = exportFormat
	for _, step := range []func() error{e.crew, e.jobs, e.photos} {
		if err := step(); err != nil {
			return err
		}
	}
	if withKey {
		seed, err := readSeed(ctx, tx)
		if err != nil {
			return err
		}
		if err := e.file("key.txt", text(seed+"\n")); err != nil {
			return err
		}
	}
	return e.file("manifest.json", func(w io.Writer) error {
		out := json.NewEncoder(w)
		out.SetIndent("", "  ")
		return out.Encode(e.manifest)
	})
}

// text writes a text.
func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// counter counts what passes.
type counter struct{ n int64 }

func (c *counter) Write(p []byte) (int, error) {
	c.n += int64(len(p))
	return len(p), nil
}

// file writes a file and notes it.
func (e *exporter) file(name string, write func(io.Writer) error) error {
	w, err := e.create(name)
	if err != nil {
		return err
	}
	sum, size := sha256.New(), &counter{}
	if err := write(io.MultiWriter(w, sum, size)); err != nil {
		_ = w.Close()
		return err
	}
	e.Files = append(e.Files, manifestFile{name, size.n, hex.EncodeToString(sum.Sum(nil))})
	return w.Close()
}

// lines writes JSON lines.
func lines[T any](e *exporter, name string, list []T, err error) error {
	if err != nil {
		return err
	}
	return e.file(name, func(w io.Writer) error {
		out := json.NewEncoder(w)
		for _, v := range list {
			if err := out.Encode(v); err != nil {
				return err
			}
		}
		return nil
	})
}

func (e *exporter) crew() error {
	list, err := people(e.ctx, e.tx)
	if err := lines(e, "people.jsonl", list, err); err != nil {
		return err
	}
	phones, err := devices(e.ctx, e.tx)
	return lines(e, "devices.jsonl", phones, err)
}

func (e *exporter) jobs() error {
	list, err := jobs(e.ctx, e.tx)
	if err != nil {
		return err
	}
	var index []jobLine
	for i, j := range list {
		index = append(index, jobLine{j.ID, fmt.Sprintf("jobs/%04d", i+1)})
		if err := e.job(j, index[i].Folder); err != nil {
			return err
		}
	}
	return lines(e, "jobs.jsonl", index, nil)
}

// job writes a job's folder.
func (e *exporter) job(j Job, folder string) error {
	var list []revisionLine
	for n := int64(1); n <= j.Revision; n++ {
		r, err := revision(e.ctx, e.tx, j.ID, n)
		if err != nil {
			return err
		}
		name := fmt.Sprintf("%s/revisions/%06d.toml", folder, n)
		if err := e.file(name, text(r.Document)); err != nil {
			return err
		}
		list = append(list, revisionLine{n, name, r.Digest, r.Person, r.Saved})
	}
	if err := lines(e, folder+"/revisions.jsonl", list, nil); err != nil {
		return err
	}
	if err := e.file(folder+"/records.jsonl", func(w io.Writer) error { return e.records(w, j.ID) }); err != nil {
		return err
	}
	set, err := e.asides(j.ID)
	if err := lines(e, folder+"/quarantine.jsonl", set, err); err != nil {
		return err
	}
	ids, err := acceptances(e.ctx, e.tx, j.ID)
	if err := lines(e, folder+"/acceptances.jsonl", ids, err); err != nil {
		return err
	}
	signed, err := e.receipt(j.ID)
	return lines(e, folder+"/receipts.jsonl", signed, err)
}

// receipt is the newest receipt, none while the log is empty.
func (e *exporter) receipt(job string) ([]Receipt, error) {
	r, err := newestReceipt(overSQL{e.ctx, e.tx}, job)
	if err != nil || r == nil {
		return nil, err
	}
	return []Receipt{*r}, nil
}

// records writes a job's log page by page.
func (e *exporter) records(w io.Writer, job string) error {
	for after := int64(0); ; {
		page, err := records(e.ctx, e.tx, job, after, MaxBatch)
		if err != nil || len(page) == 0 {
			return err
		}
		for _, l := range page {
			if _, err := w.Write(append(l.Body, '\n')); err != nil {
				return err
			}
		}
		after = page[len(page)-1].Cursor
	}
}

func (e *exporter) asides(job string) ([]asideLine, error) {
	list, err := quarantine(e.ctx, e.tx, job)
	var out []asideLine
	for _, a := range list {
		out = append(out, asideLine{a.Number, a.Status, string(a.Reason), a.Received, string(a.Body)})
	}
	return out, err
}

func acceptances(ctx context.Context, q querier, job string) ([]string, error) {
	rows, err := q.QueryContext(ctx, `SELECT id FROM acceptance WHERE job = $1`, job)
	out, err := collect(rows, err, func(r *sql.Rows) (id string, err error) {
		err = r.Scan(&id)
		return id, err
	})
	sortBy(out, func(id string) string { return id })
	return out, err
}

func (e *exporter) photos() error {
	list, err := photos(e.ctx, e.tx)
	if err := lines(e, "photos.jsonl", list, err); err != nil {
		return err
	}
	for _, p := range list {
		err := e.file("photos/"+p.Digest, func(w io.Writer) error {
			_, err := io.Copy(w, &photoReader{ctx: e.ctx, q: e.tx, digest: p.Digest})
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}
