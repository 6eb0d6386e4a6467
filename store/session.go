package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"spadework/engine/phrase"
)

// SessionIdle is how long a session lasts that nobody uses; one in use lasts till
// its job is done or it is ended. It is as long as browsers keep a cookie (RFC
// 6265bis, 5.5).
const SessionIdle = 400 * 24 * time.Hour

// seenEvery is how often the use of a session is noted.
const seenEvery = 10 * time.Minute

// Session is a device where people are signed in, one of them at work.
type Session struct {
	ID      string
	Device  string
	Name    string // of the device
	Person  string // at work
	People  []SignedIn
	Started int64
	Seen    int64
	Ended   int64 // 0 not; the device may still hand in what it has
	Revoked int64 // of the device
}

// SignedIn is a person on a device.
type SignedIn struct {
	Person string
	Signed int64 // when it last proved who it is
}

// Signed says when a person last proved on the device who it is, 0 never.
func (s Session) Signed(person string) int64 {
	for _, p := range s.People {
		if p.Person == person {
			return p.Signed
		}
	}
	return 0
}

// Live says that the session lets its person work.
func (s Session) Live() bool { return s.Ended == 0 && s.Revoked == 0 }

// SignIn is a person who proved on a device who it is.
type SignIn struct {
	Person string
	Device Device
	Old    string // secret that the device had, "" none
}

// SignIn begins a session, or joins the person to the one that the device has.
// Either way the device gets a new secret, so that one planted before is worth
// nothing.
func (s *Store) SignIn(ctx context.Context, in SignIn) (secret string, err error) {
	d := in.Device
	d.Person = in.Person
	for _, text := range []string{d.ID, d.Name} {
		if !isName(text) {
			return "", fault(phrase.Invalid, "store.name", phrase.With("value", text))
		}
	}
	secret = NewSecret()
	err = s.inTx(ctx, func(tx *sql.Tx) error {
		if err := useDevice(ctx, tx, d); err != nil {
			return err
		}
		id, err := s.renew(ctx, tx, in, hashed(secret))
		if err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO session_person (session, person, signed) VALUES ($1, $2, $3)
			ON CONFLICT (session, person) DO UPDATE SET signed = excluded.signed`, id, in.Person, s.now().UnixMilli())
		return errors.Join(err, s.note(ctx, tx, Audit{By: in.Person, Act: ActSignedIn, Person: in.Person, Detail: d.Name}))
	})
	return secret, err
}

// useDevice notes the device, unless it was revoked.
func useDevice(ctx context.Context, tx *sql.Tx, d Device) error {
	var revoked int64
	err := tx.QueryRowContext(ctx, `SELECT revoked FROM device WHERE id = $1`, d.ID).Scan(&revoked)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	if revoked != 0 {
		return fault(phrase.Conflict, "store.device_revoked", phrase.With("device", d.Name))
	}
	return saveDevice(ctx, tx, d)
}

// renew gives the device's session a new secret, or makes one.
func (s *Store) renew(ctx context.Context, tx *sql.Tx, in SignIn, token string) (id string, err error) {
	now := s.now().UnixMilli()
	if in.Old != "" {
		err = tx.QueryRowContext(ctx, `UPDATE session SET token = $1, person = $2, seen = $3 WHERE token = $4 AND device = $5 AND ended = 0 RETURNING id`,
			token, in.Person, now, hashed(in.Old), in.Device.ID).Scan(&id)
		if err == nil || !errors.Is(err, sql.ErrNoRows) {
			return id, err
		}
	}
	id = newID()
	_, err = tx.ExecContext(ctx, `INSERT INTO session (token, id, device, person, started, seen, ended) VALUES ($1, $2, $3, $4, $5, $5, 0)`,
		token, id, in.Device.ID, in.Person, now)
	return id, err
}

const sessionColumns = `SELECT s.id, s.device, d.name, s.person, s.started, s.seen, s.ended, d.revoked FROM session s JOIN device d ON d.id = s.device `

func scanSession(scan func(...any) error) (v Session, err error) {
	err = scan(&v.ID, &v.Device, &v.Name, &v.Person, &v.Started, &v.Seen, &v.Ended, &v.Revoked)
	return v, err
}

// Session is the one that a secret belongs to, ok false for none. It may have
// ended.
func (s *Store) Session(ctx context.Context, secret string) (v Session, ok bool, err error) {
	v, err = scanSession(s.read.QueryRowContext(ctx, sessionColumns+`WHERE s.token = $1`, hashed(secret)).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		return v, false, nil
	}
	if err == nil {
		v.People, err = signedIn(ctx, s.read, v.ID)
	}
	now := s.now().UnixMilli()
	if v.Ended == 0 && now-v.Seen > SessionIdle.Milliseconds() {
		v.Ended = v.Seen + SessionIdle.Milliseconds()
	}
	if err == nil && v.Live() && now-v.Seen > seenEvery.Milliseconds() {
		_, err = s.write.ExecContext(ctx, `UPDATE session SET seen = $1 WHERE id = $2`, now, v.ID)
	}
	return v, err == nil, s.kind.explain(err)
}

func signedIn(ctx context.Context, q querier, session string) ([]SignedIn, error) {
	rows, err := q.QueryContext(ctx, `SELECT person, signed FROM session_person WHERE session = $1`, session)
	out, err := collect(rows, err, func(r *sql.Rows) (p SignedIn, err error) {
		err = r.Scan(&p.Person, &p.Signed)
		return p, err
	})
	sortBy(out, func(p SignedIn) string { return p.Person })
	return out, err
}

// Sessions lists the sessions that last, by start.
func (s *Store) Sessions(ctx context.Context) ([]Session, error) {
	rows, err := s.read.QueryContext(ctx, sessionColumns+`WHERE s.ended = 0 ORDER BY s.started, s.id`)
	out, err := collect(rows, err, func(r *sql.Rows) (Session, error) { return scanSession(r.Scan) })
	for i := range out {
		if err == nil {
			out[i].People, err = signedIn(ctx, s.read, out[i].ID)
		}
	}
	return out, s.kind.explain(err)
}

// TakePerson puts another of the people signed in on a device to work.
func (s *Store) TakePerson(ctx context.Context, session, person string) error {
	return s.inTx(ctx, func(tx *sql.Tx) error {
		var before string
		err := tx.QueryRowContext(ctx, `SELECT s.person FROM session s JOIN session_person p ON p.session = s.id WHERE s.id = $1 AND p.person = $2`, session, person).Scan(&before)
		if errors.Is(err, sql.ErrNoRows) {
			return fault(phrase.NotFound, "store.not_signed_in", phrase.With("person", person))
		}
		if err != nil || before == person {
			return err
		}
		_, err = tx.ExecContext(ctx, `UPDATE session SET person = $1 WHERE id = $2`, person, session)
		return errors.Join(err, s.note(ctx, tx, Audit{By: before, Act: ActPersonTaken, Person: person}))
	})
}

// EndSession ends a session. What its device sends from now on is held.
func (s *Store) EndSession(ctx context.Context, id, by string) error {
	return s.inTx(ctx, func(tx *sql.Tx) error {
		var person, device string
		err := tx.QueryRowContext(ctx, `UPDATE session SET ended = $1 WHERE id = $2 AND ended = 0 RETURNING person, device`, s.now().UnixMilli(), id).Scan(&person, &device)
		if errors.Is(err, sql.ErrNoRows) {
			return fault(phrase.NotFound, "store.no_session")
		}
		return errors.Join(err, s.note(ctx, tx, Audit{By: by, Act: ActSessionEnd, Person: person, Detail: device}))
	})
}
