package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"spadework/engine/phrase"
)

// Invitation lets one person in, once, until it ends.
type Invitation struct {
	ID     string
	Person string // "" who comes tells it
	Job    string
	Roles  []string
	Made   int64
	By     string
	Ends   int64
	Used   int64
}

// Invite makes an invitation that ends after a while and gives the secret that
// opens it: it is nowhere else.
func (s *Store) Invite(ctx context.Context, i Invitation, lasts time.Duration) (secret string, made Invitation, err error) {
	if f := checkRoles(i.Roles); f != nil {
		return "", i, f
	}
	if i.Person != "" && !isName(i.Person) {
		return "", i, fault(phrase.Invalid, "store.name", phrase.With("value", i.Person))
	}
	secret, i.ID, i.Made = NewSecret(), newID(), s.now().UnixMilli()
	i.Ends, i.Used = i.Made+lasts.Milliseconds(), 0
	err = s.inTx(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO invitation (token, id, person, job, roles, made, made_by, ends, used) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, 0)`,
			hashed(secret), i.ID, i.Person, i.Job, joined(i.Roles), i.Made, i.By, i.Ends)
		return errors.Join(err, s.note(ctx, tx, Audit{By: i.By, Act: ActInvited, Job: i.Job, Person: i.Person, Detail: joined(i.Roles)}))
	})
	return secret, i, err
}

// Withdraw ends an invitation of a job that was not used.
func (s *Store) Withdraw(ctx context.Context, job, id, by string) error {
	return s.inTx(ctx, func(tx *sql.Tx) error {
		var person string
		err := tx.QueryRowContext(ctx, `UPDATE invitation SET ends = 0 WHERE id = $1 AND job = $2 AND used = 0 RETURNING person`, id, job).Scan(&person)
		if errors.Is(err, sql.ErrNoRows) {
			return fault(phrase.NotFound, "store.no_invitation")
		}
		return errors.Join(err, s.note(ctx, tx, Audit{By: by, Act: ActWithdrawn, Job: job, Person: person}))
	})
}

const invitationColumns = `SELECT id, person, job, roles, made, made_by, ends, used FROM invitation `

func scanInvitation(scan func(...any) error) (i Invitation, err error) {
	var roles string
	err = scan(&i.ID, &i.Person, &i.Job, &roles, &i.Made, &i.By, &i.Ends, &i.Used)
	i.Roles = parted(roles)
	return i, err
}

// Invited is the invitation that a secret opens now; one that was used, that
// ended or never was is the same fault.
func (s *Store) Invited(ctx context.Context, secret string) (Invitation, error) {
	i, err := scanInvitation(s.read.QueryRowContext(ctx, invitationColumns+`WHERE token = $1 AND used = 0 AND ends > $2`, hashed(secret), s.now().UnixMilli()).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		return i, fault(phrase.NotFound, "store.no_invitation")
	}
	return i, s.kind.explain(err)
}

// Invitations lists those of a job that are open, the newest first.
func (s *Store) Invitations(ctx context.Context, job string) ([]Invitation, error) {
	rows, err := s.read.QueryContext(ctx, invitationColumns+`WHERE job = $1 AND used = 0 AND ends > $2 ORDER BY made DESC, id`, job, s.now().UnixMilli())
	out, err := collect(rows, err, func(r *sql.Rows) (Invitation, error) { return scanInvitation(r.Scan) })
	return out, s.kind.explain(err)
}

// Joining is a person who follows an invitation.
type Joining struct {
	Secret   string
	Name     string // where the invitation has none
	Language string
	Handle   string   // of a new account
	Password string   // PHC string, "" none
	Passkey  *Passkey // nil none
}

// Join uses an invitation up and makes the account with its roles, all or
// nothing. A person who has an account gets it anew: its old password, passkeys
// and sessions count no more.
func (s *Store) Join(ctx context.Context, j Joining) (Person, error) {
	var p Person
	err := s.inTx(ctx, func(tx *sql.Tx) error {
		i, err := s.takeInvitation(ctx, tx, j.Secret)
		if err != nil {
			return err
		}
		p = Person{ID: i.Person, Name: i.Person, Role: "crew", Language: j.Language}
		if i.Person == "" {
			p.ID, p.Name = j.Name, j.Name
		}
		if !isName(p.ID) {
			return fault(phrase.Invalid, "store.name", phrase.With("value", p.ID))
		}
		return s.enrol(ctx, tx, i, j, p)
	})
	return p, err
}

func (s *Store) takeInvitation(ctx context.Context, tx *sql.Tx, secret string) (Invitation, error) {
	now := s.now().UnixMilli()
	i, err := scanInvitation(tx.QueryRowContext(ctx, `UPDATE invitation SET used = $1 WHERE token = $2 AND used = 0 AND ends > $1
		RETURNING id, person, job, roles, made, made_by, ends, used`, now, hashed(secret)).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		return i, fault(phrase.NotFound, "store.no_invitation")
	}
	return i, err
}

// enrol makes or renews the account.
func (s *Store) enrol(ctx context.Context, tx *sql.Tx, i Invitation, j Joining, p Person) error {
	var one int
	err := tx.QueryRowContext(ctx, `SELECT 1 FROM account WHERE person = $1`, p.ID).Scan(&one)
	there := err == nil
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	act := ActJoined
	switch {
	case there && i.Person == "": // who takes a name must not get another's account
		return fault(phrase.Conflict, "store.person_there", phrase.With("person", p.ID))
	case there:
		act = ActRecovered
		err = forget(ctx, tx, p.ID, s.now().UnixMilli())
	default:
		_, err = tx.ExecContext(ctx, `INSERT INTO person (id, name, role, language) VALUES ($1, $2, $3, $4) ON CONFLICT (id) DO NOTHING`, p.ID, p.Name, p.Role, p.Language)
	}
	if err != nil {
		return err
	}
	if err := saveAccount(ctx, tx, Account{p.ID, j.Handle, j.Password}); err != nil {
		return err
	}
	if j.Passkey != nil {
		key := *j.Passkey
		key.Person, key.Made = p.ID, s.now().UnixMilli()
		if err := savePasskey(ctx, tx, key); err != nil {
			return err
		}
	}
	if err := s.note(ctx, tx, Audit{By: i.By, Act: act, Job: i.Job, Person: p.ID}); err != nil || len(i.Roles) == 0 {
		return err
	}
	return s.setRoles(ctx, tx, RoleChange{p.ID, i.Job, i.Roles, i.By})
}

// forget ends all that a person could sign in with, and where it is signed in.
func forget(ctx context.Context, tx *sql.Tx, person string, now int64) error {
	for _, query := range []string{
		`DELETE FROM passkey WHERE person = $1`,
		`DELETE FROM session_person WHERE person = $1`,
	} {
		if _, err := tx.ExecContext(ctx, query, person); err != nil {
			return err
		}
	}
	_, err := tx.ExecContext(ctx, `UPDATE session SET ended = $1 WHERE person = $2 AND ended = 0`, now, person)
	return err
}
