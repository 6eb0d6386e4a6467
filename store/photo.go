package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"io"
	"os"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// chunkSize is what one row of a photo holds, so that no photo is ever in
// memory as a whole.
const chunkSize = 256 << 10

// Photo is what is known of a picture, whose name is the SHA-256 of its bytes.
type Photo struct {
	Digest   string `json:"digest"` // hexadecimal
	Size     int64  `json:"size"`   // bytes
	Media    string `json:"media"`
	Received int64  `json:"received"` // milliseconds since 1970 UTC
}

// SavePhoto keeps a picture that a reader gives, if its bytes have the digest
// and stay within the store's limit. It waits in a file of the store's folder
// until its digest is known, so that a slow sender holds nobody up. A picture
// that is here already is left as it is.
func (s *Store) SavePhoto(ctx context.Context, digest record.Hash, media string, r io.Reader) (Photo, error) {
	if !isName(media) {
		return Photo{}, fault(phrase.Invalid, "store.name", phrase.With("value", media))
	}
	file, err := os.CreateTemp(s.spool, ".photo-*")
	if err != nil {
		return Photo{}, s.kind.explain(err)
	}
	defer os.Remove(file.Name())
	defer file.Close()
	size, err := s.receive(file, digest, r)
	if err != nil {
		return Photo{}, s.kind.explain(err)
	}
	p := Photo{digest.String(), size, media, s.now().UnixMilli()}
	err = s.inTx(ctx, func(tx *sql.Tx) error { return insertPhoto(ctx, tx, p, file) })
	return p, err
}

// receive copies a picture and checks it.
func (s *Store) receive(file *os.File, digest record.Hash, r io.Reader) (int64, error) {
	sum := sha256.New()
	size, err := io.Copy(io.MultiWriter(file, sum), io.LimitReader(r, s.limit+1))
	if err != nil {
		return 0, err
	}
	if size > s.limit {
		return 0, fault(phrase.Invalid, "store.photo_long", phrase.With("limit", int(s.limit)))
	}
	if got := record.Hash(sum.Sum(nil)); got != digest {
		return 0, fault(phrase.Invalid, "store.photo_digest", phrase.With("want", digest.String()), phrase.With("got", got.String()))
	}
	_, err = file.Seek(0, io.SeekStart)
	return size, err
}

func insertPhoto(ctx context.Context, tx *sql.Tx, p Photo, r io.Reader) error {
	result, err := tx.ExecContext(ctx, `INSERT INTO photo (digest, size, media, received) VALUES ($1, $2, $3, $4) ON CONFLICT DO NOTHING`,
		p.Digest, p.Size, p.Media, p.Received)
	if err != nil {
		return err
	}
	if n, err := result.RowsAffected(); n == 0 || err != nil {
		return err
	}
	buffer := make([]byte, chunkSize)
	for number := 1; ; number++ {
		n, err := io.ReadFull(r, buffer)
		if n > 0 {
			if _, err := tx.ExecContext(ctx, `INSERT INTO photo_chunk (digest, number, data) VALUES ($1, $2, $3)`, p.Digest, number, buffer[:n]); err != nil {
				return err
			}
		}
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

// Photo gives a picture's data and a reader of its bytes.
func (s *Store) Photo(ctx context.Context, digest record.Hash) (Photo, io.Reader, error) {
	p := Photo{Digest: digest.String()}
	err := s.read.QueryRowContext(ctx, `SELECT size, media, received FROM photo WHERE digest = $1`, p.Digest).Scan(&p.Size, &p.Media, &p.Received)
	if errors.Is(err, sql.ErrNoRows) {
		return p, nil, fault(phrase.NotFound, "store.no_photo", phrase.With("digest", p.Digest))
	}
	if err != nil {
		return p, nil, s.kind.explain(err)
	}
	return p, &photoReader{ctx: ctx, q: s.read, digest: p.Digest}, nil
}

// JobsWithPhoto lists the jobs whose log names a picture.
func (s *Store) JobsWithPhoto(ctx context.Context, digest record.Hash) ([]string, error) {
	rows, err := s.read.QueryContext(ctx, `SELECT DISTINCT job FROM record WHERE body LIKE '%' || $1 || '%'`, digest.String())
	out, err := collect(rows, err, func(r *sql.Rows) (job string, err error) {
		err = r.Scan(&job)
		return job, err
	})
	sortBy(out, func(job string) string { return job })
	return out, s.kind.explain(err)
}

// photoReader reads a picture chunk by chunk.
type photoReader struct {
	ctx    context.Context
	q      querier
	digest string
	number int64
	left   []byte
}

// Read reads on.
func (r *photoReader) Read(p []byte) (int, error) {
	for len(r.left) == 0 {
		r.number++
		err := r.q.QueryRowContext(r.ctx, `SELECT data FROM photo_chunk WHERE digest = $1 AND number = $2`, r.digest, r.number).Scan(&r.left)
		if errors.Is(err, sql.ErrNoRows) {
			return 0, io.EOF
		}
		if err != nil {
			return 0, err
		}
	}
	n := copy(p, r.left)
	r.left = r.left[n:]
	return n, nil
}

func photos(ctx context.Context, q querier) ([]Photo, error) {
	rows, err := q.QueryContext(ctx, `SELECT digest, size, media, received FROM photo`)
	out, err := collect(rows, err, func(r *sql.Rows) (p Photo, err error) {
		err = r.Scan(&p.Digest, &p.Size, &p.Media, &p.Received)
		return p, err
	})
	sortBy(out, func(p Photo) string { return p.Digest })
	return out, err
}
