package store

import (
	"context"
	"database/sql"
	"errors"

	"spadework/engine/phrase"
)

// Device is a phone of a person.
type Device struct {
	ID      string `json:"id"`
	Person  string `json:"person"`
	Name    string `json:"name"`
	Revoked int64  `json:"revoked"` // milliseconds since 1970 UTC, 0 not
	Reason  string `json:"reason"`
}

// SaveDevice adds or changes a device. A revoked one stays revoked.
func (s *Store) SaveDevice(ctx context.Context, d Device) error {
	for _, text := range []string{d.ID, d.Person, d.Name} {
		if !isName(text) {
			return fault(phrase.Invalid, "store.name", phrase.With("value", text))
		}
	}
	return s.inTx(ctx, func(tx *sql.Tx) error {
		var one int
		err := tx.QueryRowContext(ctx, `SELECT 1 FROM person WHERE id = $1`, d.Person).Scan(&one)
		if errors.Is(err, sql.ErrNoRows) {
			return fault(phrase.NotFound, "store.no_person", phrase.With("person", d.Person))
		}
		if err != nil {
			return err
		}
		return saveDevice(ctx, tx, d)
	})
}

func saveDevice(ctx context.Context, q querier, d Device) error {
	_, err := q.ExecContext(ctx, `INSERT INTO device (id, person, name, revoked, reason) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (id) DO UPDATE SET person = excluded.person, name = excluded.name`, d.ID, d.Person, d.Name, d.Revoked, d.Reason)
	return err
}

// RevokeDevice takes a device's say away: its sessions end, the passkeys made on
// it count no more, and what it sends from now on is held.
func (s *Store) RevokeDevice(ctx context.Context, id, reason, by string) error {
	if !isText(reason) || len(reason) > maxName {
		return fault(phrase.Invalid, "store.name", phrase.With("value", reason))
	}
	return s.inTx(ctx, func(tx *sql.Tx) error {
		var person string
		err := tx.QueryRowContext(ctx, `UPDATE device SET revoked = $1, reason = $2 WHERE id = $3 RETURNING person`, s.now().UnixMilli(), reason, id).Scan(&person)
		if errors.Is(err, sql.ErrNoRows) {
			return fault(phrase.NotFound, "store.no_device", phrase.With("device", id))
		}
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM passkey WHERE device = $1`, id); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `UPDATE session SET ended = $1 WHERE device = $2 AND ended = 0`, s.now().UnixMilli(), id)
		return errors.Join(err, s.note(ctx, tx, Audit{By: by, Act: ActRevoked, Person: person, Detail: id}))
	})
}

// Devices lists all devices by id.
func (s *Store) Devices(ctx context.Context) ([]Device, error) {
	out, err := devices(ctx, s.read)
	return out, s.kind.explain(err)
}

func devices(ctx context.Context, q querier) ([]Device, error) {
	rows, err := q.QueryContext(ctx, `SELECT id, person, name, revoked, reason FROM device`)
	out, err := collect(rows, err, func(r *sql.Rows) (d Device, err error) {
		err = r.Scan(&d.ID, &d.Person, &d.Name, &d.Revoked, &d.Reason)
		return d, err
	})
	sortBy(out, func(d Device) string { return d.ID })
	return out, err
}
