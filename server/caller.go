package server

import (
	"context"
	"net"
	"net/http"
	"slices"
	"time"

	"spadework/engine/phrase"
	"spadework/store"
)

// NotSignedIn is the code of requests of nobody, TooMany of those that come too
// often.
const (
	NotSignedIn phrase.Code = "not_signed_in"
	TooMany     phrase.Code = "too_many"
)

// freshFor is how long after a person proved who it is it may change rights.
const freshFor = 12 * time.Hour

// caller is who sends a request.
type caller struct {
	open    bool // the server runs for one person, who may do everything
	host    string
	address string // for counting
	secret  string // of the cookie, "" none
	session store.Session
	known   bool // the secret belongs to a session
	grants  []store.Grant
	now     int64
}

type callerKey struct{}

// callerOf is who sends the request of a context.
func callerOf(ctx context.Context) *caller {
	if c, ok := ctx.Value(callerKey{}).(*caller); ok {
		return c
	}
	return &caller{}
}

// person is the person at work.
func (c *caller) person() string {
	if c.open {
		return somebody
	}
	return c.session.Person
}

// in says that the person works now.
func (c *caller) in() bool { return c.known && c.session.Live() }

// may says that the person has one of the roles in a job, or of every job.
func (c *caller) may(job string, roles []string) bool {
	return c.open || c.in() && has(c.grants, job, roles)
}

// mayAnywhere says that the person has one of the roles in some job.
func (c *caller) mayAnywhere(roles []string) bool {
	return c.in() && slices.ContainsFunc(c.grants, func(g store.Grant) bool { return g.Ended == 0 && slices.Contains(roles, g.Role) })
}

// had says that the person has or had a part in a job.
func (c *caller) had(job string) bool {
	return slices.ContainsFunc(c.grants, func(g store.Grant) bool { return g.Job == job || g.Job == store.EveryJob })
}

// has says that one of the roles is granted in a job or in every job.
func has(grants []store.Grant, job string, roles []string) bool {
	return slices.ContainsFunc(grants, func(g store.Grant) bool {
		return g.Ended == 0 && (g.Job == job || g.Job == store.EveryJob) && slices.Contains(roles, g.Role)
	})
}

// rolesIn are the roles that count in a job.
func rolesIn(grants []store.Grant, job string) []string {
	out := []string{}
	for _, role := range store.Roles {
		if has(grants, job, []string{role}) {
			out = append(out, role)
		}
	}
	return out
}

// refuses says why a caller may not use a route, nil it may.
func (r right) refuses(c *caller, job string) *phrase.Fault {
	switch {
	case c.open && r.people:
		return fault(phrase.Conflict, "server.open")
	case c.open || r.scope == public:
		return nil
	case !c.known:
		return fault(NotSignedIn, "server.sign_in")
	case r.handsIn && c.had(job):
		return nil
	case !c.in():
		return fault(NotSignedIn, "server.session_ended")
	case !r.holds(c, job):
		return fault(Forbidden, "server.no_right", phrase.With("person", c.person()))
	case r.fresh && c.now-c.session.Signed(c.person()) > freshFor.Milliseconds():
		return fault(NotSignedIn, "server.sign_in_again")
	}
	return nil
}

func (r right) holds(c *caller, job string) bool {
	switch r.scope {
	case signedIn:
		return true
	case anyJob:
		return c.mayAnywhere(r.roles)
	case ofJob:
		return c.may(job, r.roles)
	case everyJob:
		return c.may(store.EveryJob, r.roles)
	}
	return false
}

// gate lets a route's requests through as the table of rights says: the one
// place where that is decided.
func (v *Server) gate(pattern string, next http.Handler) http.Handler {
	r, told := rights[pattern]
	if !told {
		panic("server: the route " + pattern + " is not in the table of rights")
	}
	return http.HandlerFunc(func(w http.ResponseWriter, q *http.Request) {
		c, err := v.identify(q)
		if err != nil {
			writeProblem(w, v.problemOf(q.Context(), err))
			return
		}
		if f := r.refuses(c, q.PathValue("job")); f != nil {
			writeFault(w, q, f)
			return
		}
		next.ServeHTTP(w, q.WithContext(context.WithValue(q.Context(), callerKey{}, c)))
	})
}

// gated is the mux that every route is registered with.
type gated struct {
	*http.ServeMux
	server *Server
}

// HandleFunc registers a route behind the gate.
func (g gated) HandleFunc(pattern string, h func(http.ResponseWriter, *http.Request)) {
	g.ServeMux.Handle(pattern, g.server.gate(pattern, http.HandlerFunc(h)))
}

// identify finds out who sends a request.
func (v *Server) identify(q *http.Request) (*caller, error) {
	c := &caller{open: v.open(), host: q.Host, address: addressOf(q), now: v.now().UnixMilli()}
	cookie, err := q.Cookie(cookieName)
	if c.open || err != nil {
		return c, nil
	}
	c.secret = cookie.Value
	return c, v.meet(q.Context(), c)
}

// meet looks a caller's session and rights up.
func (v *Server) meet(ctx context.Context, c *caller) (err error) {
	c.session, c.known, err = v.store.Session(ctx, c.secret)
	if err == nil && c.known {
		c.grants, err = v.store.Grants(ctx, c.session.Person)
	}
	return err
}

// stays says that somebody may still read a job, for streams that last.
func (v *Server) stays(ctx context.Context, job string) bool {
	c := *callerOf(ctx)
	return c.open || v.meet(ctx, &c) == nil && c.may(job, everybody)
}

// addressOf is where a request comes from, for counting: of IPv6 the network,
// because one device has many addresses of it.
func addressOf(q *http.Request) string {
	host, _, err := net.SplitHostPort(q.RemoteAddr)
	if err != nil {
		return q.RemoteAddr
	}
	ip := net.ParseIP(host)
	if ip == nil || ip.To4() != nil {
		return host
	}
	return ip.Mask(net.CIDRMask(64, 128)).String()
}
