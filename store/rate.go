package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"spadework/engine/phrase"
)

// Count counts something in a window of time and gives how often it was there
// and when the window ends. Servers on one store count together.
func (s *Store) Count(ctx context.Context, what string, window time.Duration) (n int64, ends time.Time, err error) {
	now, width := s.now().UnixMilli(), window.Milliseconds()
	end := (now/width + 1) * width
	err = s.inTx(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM rate WHERE ends < $1`, now); err != nil {
			return err
		}
		return tx.QueryRowContext(ctx, `INSERT INTO rate (name, ends, count) VALUES ($1, $2, 1)
			ON CONFLICT (name, ends) DO UPDATE SET count = rate.count + 1 RETURNING count`, hashed(what), end).Scan(&n)
	})
	return n, time.UnixMilli(end), err
}

// KeepCeremony keeps what a sign-in by passkey began with, for a while.
func (s *Store) KeepCeremony(ctx context.Context, body string, lasts time.Duration) (secret string, err error) {
	secret = NewSecret()
	now := s.now().UnixMilli()
	err = s.inTx(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM ceremony WHERE ends < $1`, now); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO ceremony (id, body, ends) VALUES ($1, $2, $3)`, hashed(secret), body, now+lasts.Milliseconds())
		return err
	})
	return secret, err
}

// TakeCeremony gives it back, once.
func (s *Store) TakeCeremony(ctx context.Context, secret string) (body string, err error) {
	err = s.inTx(ctx, func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, `DELETE FROM ceremony WHERE id = $1 AND ends > $2 RETURNING body`, hashed(secret), s.now().UnixMilli()).Scan(&body)
		if errors.Is(err, sql.ErrNoRows) {
			return fault(phrase.NotFound, "store.no_ceremony")
		}
		return err
	})
	return body, err
}
