package server

import (
	"context"
	"encoding/json"

	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/store"
)

// entries are records as the store takes them, each with why it is held, if it
// is. None is refused for who sends it: a foreman can let it in.
func (v *Server) entries(ctx context.Context, job string, raw []json.RawMessage) ([]store.Entry, error) {
	out := make([]store.Entry, len(raw))
	h := holding{server: v, ctx: ctx, caller: callerOf(ctx), job: job, roles: map[string][]string{}}
	for i, body := range raw {
		out[i].Body = body
		if h.caller.open {
			continue
		}
		r, f := record.Decode(body)
		if f != nil {
			continue // the store tells what is wrong with it
		}
		why, err := h.why(r)
		if err != nil {
			return nil, err
		}
		out[i].Held = why
	}
	return out, nil
}

// holding decides over the records of a push.
type holding struct {
	server *Server
	ctx    context.Context
	caller *caller
	job    string
	roles  map[string][]string // by person, looked up
}

// why says why a record is held, "" it is not. A foreman hands in what others
// wrote too: a phone refills a store that lost it.
func (h *holding) why(r record.Record) (phrase.Key, error) {
	c := h.caller
	switch {
	case !c.session.Live():
		return "store.held_session", nil
	case !c.may(h.job, everybody):
		return "store.held_role", nil
	case c.may(h.job, justForeman):
		return "", nil
	case r.Device != c.session.Device:
		return "store.held_device", nil
	case c.session.Signed(r.Person) == 0:
		return "store.held_person", nil
	}
	roles, err := h.rolesOf(r.Person)
	switch {
	case err != nil:
		return "", err
	case len(roles) == 0:
		return "store.held_role", nil
	case !adds(roles, r.Payload):
		return "store.held_kind", nil
	}
	return "", nil
}

func (h *holding) rolesOf(person string) ([]string, error) {
	if roles, looked := h.roles[person]; looked {
		return roles, nil
	}
	grants, err := h.server.store.Grants(h.ctx, person)
	h.roles[person] = rolesIn(grants, h.job)
	return h.roles[person], err
}
