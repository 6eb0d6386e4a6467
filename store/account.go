package store

import (
	"context"
	"database/sql"
	"errors"

	"spadework/engine/phrase"
)

// Account is how a person proves who it is.
type Account struct {
	Person   string `json:"person"`
	Handle   string `json:"handle"`   // what passkeys know the person by
	Password string `json:"password"` // as PHC string, "" none
}

// Passkey is a public key of a person (W3C Web Authentication).
type Passkey struct {
	ID     string `json:"id"` // base64url
	Person string `json:"person"`
	Device string `json:"device"` // it was made on
	Body   string `json:"body"`   // as its library writes it
	Made   int64  `json:"made"`
}

// HasAccounts says that somebody can sign in.
func (s *Store) HasAccounts(ctx context.Context) (bool, error) {
	var n int
	err := s.read.QueryRowContext(ctx, `SELECT count(*) FROM account`).Scan(&n)
	return n > 0, s.kind.explain(err)
}

// Account is a person's, ok false without one.
func (s *Store) Account(ctx context.Context, person string) (a Account, ok bool, err error) {
	return s.account(ctx, `person = $1`, person)
}

// AccountByHandle is the account that a passkey's handle names.
func (s *Store) AccountByHandle(ctx context.Context, handle string) (a Account, ok bool, err error) {
	return s.account(ctx, `handle = $1`, handle)
}

func (s *Store) account(ctx context.Context, where, value string) (a Account, ok bool, err error) {
	err = s.read.QueryRowContext(ctx, `SELECT person, handle, password FROM account WHERE `+where, value).Scan(&a.Person, &a.Handle, &a.Password)
	if errors.Is(err, sql.ErrNoRows) {
		return a, false, nil
	}
	return a, err == nil, s.kind.explain(err)
}

func accounts(ctx context.Context, q querier) ([]Account, error) {
	rows, err := q.QueryContext(ctx, `SELECT person, handle, password FROM account`)
	out, err := collect(rows, err, func(r *sql.Rows) (a Account, err error) {
		err = r.Scan(&a.Person, &a.Handle, &a.Password)
		return a, err
	})
	sortBy(out, func(a Account) string { return a.Person })
	return out, err
}

func saveAccount(ctx context.Context, q querier, a Account) error {
	_, err := q.ExecContext(ctx, `INSERT INTO account (person, handle, password) VALUES ($1, $2, $3)
		ON CONFLICT (person) DO UPDATE SET password = excluded.password`, a.Person, a.Handle, a.Password)
	return err
}

// SetPassword changes a person's own password.
func (s *Store) SetPassword(ctx context.Context, person, password string) error {
	return s.inTx(ctx, func(tx *sql.Tx) error {
		result, err := tx.ExecContext(ctx, `UPDATE account SET password = $1 WHERE person = $2`, password, person)
		if err != nil {
			return err
		}
		if n, err := result.RowsAffected(); n == 0 || err != nil {
			return errors.Join(err, fault(phrase.NotFound, "store.no_person", phrase.With("person", person)))
		}
		return s.note(ctx, tx, Audit{By: person, Act: ActPassword, Person: person})
	})
}

// AddPasskey adds one to a person that has an account.
func (s *Store) AddPasskey(ctx context.Context, p Passkey) error {
	p.Made = s.now().UnixMilli()
	return s.inTx(ctx, func(tx *sql.Tx) error {
		return errors.Join(savePasskey(ctx, tx, p), s.note(ctx, tx, Audit{By: p.Person, Act: ActPasskey, Person: p.Person, Detail: p.Device}))
	})
}

func savePasskey(ctx context.Context, q querier, p Passkey) error {
	_, err := q.ExecContext(ctx, `INSERT INTO passkey (id, person, device, body, made) VALUES ($1, $2, $3, $4, $5)`, p.ID, p.Person, p.Device, p.Body, p.Made)
	return err
}

// UsePasskey keeps what a passkey came to by its use: its counter.
func (s *Store) UsePasskey(ctx context.Context, id, body string) error {
	_, err := s.write.ExecContext(ctx, `UPDATE passkey SET body = $1 WHERE id = $2`, body, id)
	return s.kind.explain(err)
}

// Passkeys lists a person's by id.
func (s *Store) Passkeys(ctx context.Context, person string) ([]Passkey, error) {
	out, err := passkeys(ctx, s.read, `WHERE person = $1`, person)
	return out, s.kind.explain(err)
}

func passkeys(ctx context.Context, q querier, where string, args ...any) ([]Passkey, error) {
	rows, err := q.QueryContext(ctx, `SELECT id, person, device, body, made FROM passkey `+where, args...)
	out, err := collect(rows, err, func(r *sql.Rows) (p Passkey, err error) {
		err = r.Scan(&p.ID, &p.Person, &p.Device, &p.Body, &p.Made)
		return p, err
	})
	sortBy(out, func(p Passkey) string { return p.ID })
	return out, err
}
