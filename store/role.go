package store

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"strings"

	"spadework/engine/phrase"
)

// The roles. A person may have several, of a job or of every job.
const (
	Foreman   = "foreman" // whose accepting records count
	Operator  = "operator"
	Checker   = "checker"
	Competent = "competent" // the competent person
	Inspector = "inspector"
)

// Roles are all roles, in the order that lists show.
var Roles = []string{Foreman, Operator, Checker, Competent, Inspector}

// EveryJob is the job of a role that counts in all of them.
const EveryJob = ""

// Grant is a role of a person. One that ended stays, so that what the person
// still sends is held, not refused.
type Grant struct {
	Person  string `json:"person"`
	Job     string `json:"job"` // EveryJob or one
	Role    string `json:"role"`
	Granted int64  `json:"granted"`
	Ended   int64  `json:"ended"` // 0 it counts
}

// Grants lists what a person may or might do, by job and role.
func (s *Store) Grants(ctx context.Context, person string) ([]Grant, error) {
	out, err := grants(ctx, s.read, `WHERE person = $1`, person)
	return out, s.kind.explain(err)
}

// GrantsIn lists the roles of a job with those of every job, by person; the
// ended ones too.
func (s *Store) GrantsIn(ctx context.Context, job string) ([]Grant, error) {
	out, err := grants(ctx, s.read, `WHERE job = $1 OR job = ''`, job)
	return out, s.kind.explain(err)
}

func grants(ctx context.Context, q querier, where string, args ...any) ([]Grant, error) {
	rows, err := q.QueryContext(ctx, `SELECT person, job, role, granted, ended FROM person_role `+where, args...)
	out, err := collect(rows, err, func(r *sql.Rows) (g Grant, err error) {
		err = r.Scan(&g.Person, &g.Job, &g.Role, &g.Granted, &g.Ended)
		return g, err
	})
	sortBy(out, func(g Grant) string { return g.Person + "\x00" + g.Job + "\x00" + g.Role })
	return out, err
}

func saveGrant(ctx context.Context, q querier, g Grant) error {
	_, err := q.ExecContext(ctx, `INSERT INTO person_role (person, job, role, granted, ended) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (person, job, role) DO UPDATE SET granted = excluded.granted, ended = excluded.ended`, g.Person, g.Job, g.Role, g.Granted, g.Ended)
	return err
}

// findForeman finds whether a person's acceptance counts in a job now.
const findForeman = `SELECT 1 FROM person_role WHERE person = $1 AND (job = $2 OR job = '') AND role = $3 AND ended = 0 LIMIT 1`

// RoleChange says which roles a person has in a job from now on.
type RoleChange struct {
	Person, Job string
	Roles       []string
	By          string
}

// SetRoles gives a person the roles of a change and ends its others in the job,
// each noted in the audit. The last foreman of every job stays one.
func (s *Store) SetRoles(ctx context.Context, c RoleChange) error {
	if f := checkRoles(c.Roles); f != nil {
		return f
	}
	return s.inTx(ctx, func(tx *sql.Tx) error {
		if err := wantPerson(ctx, tx, c.Person); err != nil {
			return err
		}
		return s.setRoles(ctx, tx, c)
	})
}

func checkRoles(roles []string) *phrase.Fault {
	for _, r := range roles {
		if !slices.Contains(Roles, r) {
			return fault(phrase.Invalid, "store.role", phrase.With("value", r), phrase.With("known", Roles))
		}
	}
	return nil
}

func wantPerson(ctx context.Context, tx *sql.Tx, person string) error {
	var one int
	err := tx.QueryRowContext(ctx, `SELECT 1 FROM person WHERE id = $1`, person).Scan(&one)
	if errors.Is(err, sql.ErrNoRows) {
		return fault(phrase.NotFound, "store.no_person", phrase.With("person", person))
	}
	return err
}

func (s *Store) setRoles(ctx context.Context, tx *sql.Tx, c RoleChange) error {
	// Two who take the last foremen's roles from each other wait here.
	if _, err := tx.ExecContext(ctx, `UPDATE signing_key SET id = id WHERE id = 1`); err != nil {
		return err
	}
	before, err := grants(ctx, tx, `WHERE person = $1 AND job = $2 AND ended = 0`, c.Person, c.Job)
	if err != nil {
		return err
	}
	had := func(role string) bool {
		return slices.ContainsFunc(before, func(g Grant) bool { return g.Role == role })
	}
	now := s.now().UnixMilli()
	for _, role := range Roles {
		g := Grant{c.Person, c.Job, role, now, 0}
		act := ActGranted
		switch wants := slices.Contains(c.Roles, role); {
		case wants == had(role):
			continue
		case !wants:
			act, g.Ended = ActEnded, now
		}
		if err := errors.Join(saveGrant(ctx, tx, g), s.note(ctx, tx, Audit{By: c.By, Act: act, Job: c.Job, Person: c.Person, Detail: role})); err != nil {
			return err
		}
	}
	if c.Job == EveryJob && had(Foreman) && !slices.Contains(c.Roles, Foreman) {
		return wantForeman(ctx, tx)
	}
	return nil
}

// wantForeman refuses a change after which nobody is foreman of every job: no
// right could be given any more.
func wantForeman(ctx context.Context, tx *sql.Tx) error {
	var n int
	err := tx.QueryRowContext(ctx, `SELECT count(*) FROM person_role r JOIN account a ON a.person = r.person WHERE r.job = '' AND r.role = $1 AND r.ended = 0`, Foreman).Scan(&n)
	if err == nil && n == 0 {
		return fault(phrase.Conflict, "store.last_foreman")
	}
	return err
}

// joined is roles as a row holds them.
func joined(roles []string) string { return strings.Join(roles, ",") }

func parted(roles string) []string {
	if roles == "" {
		return nil
	}
	return strings.Split(roles, ",")
}
