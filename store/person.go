package store

import (
	"context"
	"database/sql"
	"errors"

	"spadework/engine/phrase"
)

// Person is somebody of the crew.
type Person struct {
	ID       string `json:"id"` // the name that records tell
	Name     string `json:"name"`
	Role     string `json:"role"` // trade in words; what the person may do are Grants
	Language string `json:"language"`
}

// SavePerson adds or changes a person whose role is of every job.
func (s *Store) SavePerson(ctx context.Context, p Person) error {
	for _, text := range []string{p.ID, p.Name, p.Role} {
		if !isName(text) {
			return fault(phrase.Invalid, "store.name", phrase.With("value", text))
		}
	}
	return s.inTx(ctx, func(tx *sql.Tx) error {
		return errors.Join(savePerson(ctx, tx, p), saveGrant(ctx, tx, Grant{p.ID, EveryJob, p.Role, s.now().UnixMilli(), 0}))
	})
}

func savePerson(ctx context.Context, q querier, p Person) error {
	_, err := q.ExecContext(ctx, `INSERT INTO person (id, name, role, language) VALUES ($1, $2, $3, $4)
		ON CONFLICT (id) DO UPDATE SET name = excluded.name, role = excluded.role, language = excluded.language`, p.ID, p.Name, p.Role, p.Language)
	return err
}

// People lists everybody by id.
func (s *Store) People(ctx context.Context) ([]Person, error) {
	out, err := people(ctx, s.read)
	return out, s.kind.explain(err)
}

func people(ctx context.Context, q querier) ([]Person, error) {
	rows, err := q.QueryContext(ctx, `SELECT id, name, role, language FROM person`)
	out, err := collect(rows, err, func(r *sql.Rows) (p Person, err error) {
		err = r.Scan(&p.ID, &p.Name, &p.Role, &p.Language)
		return p, err
	})
	sortBy(out, func(p Person) string { return p.ID })
	return out, err
}
