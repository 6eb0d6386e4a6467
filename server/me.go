package server

import (
	"context"
	"encoding/json"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"

	"spadework/engine/phrase"
	"spadework/store"
)

// Me is what the page needs to know of who uses it.
type Me struct {
	Open       bool       `json:"open" doc:"the server runs for one person, without accounts"`
	Person     string     `json:"person" doc:"at work on this device, empty nobody"`
	Ended      bool       `json:"ended" doc:"the session here was ended; what waits may still be handed in and is held"`
	People     []string   `json:"people" nullable:"false" doc:"signed in on this device, one tap away"`
	Roles      []RoleLine `json:"roles" nullable:"false" doc:"of the person at work"`
	Passkeys   bool       `json:"passkeys" doc:"browsers make passkeys for this address"`
	OnlineOnly bool       `json:"online_only" doc:"browsers keep no page of this address"`
}

// RoleLine is a role in a job.
type RoleLine struct {
	Job  string   `json:"job" doc:"empty every job"`
	Role string   `json:"role" enum:"foreman,operator,checker,competent,inspector"`
	Adds []string `json:"adds" nullable:"false" doc:"kinds of records; others are held"`
}

type meOutput struct{ Body Me }

type takeInput struct {
	Body struct {
		Person string `json:"person" maxLength:"200"`
	}
}

type newPasswordInput struct {
	Body struct {
		Password string `json:"password" maxLength:"1000"`
	}
}

type newPasskeyInput struct {
	Body struct {
		Ceremony   string          `json:"ceremony" maxLength:"200"`
		Credential json.RawMessage `json:"credential" doc:"as the browser gives it"`
	}
}

// SessionLine is a device where somebody is signed in.
type SessionLine struct {
	ID      string   `json:"id"`
	Device  string   `json:"device"`
	Name    string   `json:"name" doc:"of the device"`
	People  []string `json:"people" nullable:"false"`
	Started int64    `json:"started"`
	Seen    int64    `json:"seen" doc:"last use, to ten minutes"`
	Here    bool     `json:"here" doc:"the device that asks"`
}

type sessionsOutput struct {
	Body struct {
		Sessions []SessionLine `json:"sessions" nullable:"false"`
	}
}

type sessionInput struct {
	Session string `path:"session" maxLength:"100"`
}

// registerMe adds what people do about themselves.
func (v *Server) registerMe(api huma.API) {
	huma.Register(api, huma.Operation{OperationID: "me", Method: http.MethodGet, Path: "/api/me", Summary: "Who is at work on this device"}, v.me)
	huma.Register(api, huma.Operation{
		OperationID: "take-person", Method: http.MethodPut, Path: "/api/me/person", MaxBodyBytes: maxSmall,
		Summary: "Another of the people signed in on this device goes to work",
	}, v.takePerson)
	huma.Register(api, huma.Operation{
		OperationID: "set-password", Method: http.MethodPut, Path: "/api/me/password", MaxBodyBytes: maxSmall, DefaultStatus: http.StatusNoContent, Summary: "A new password",
	}, v.setPassword)
	huma.Register(api, huma.Operation{
		OperationID: "begin-own-passkey", Method: http.MethodPost, Path: "/api/me/passkeys", Summary: "Begin to make a passkey on this device",
	}, v.beginOwnPasskey)
	huma.Register(api, huma.Operation{
		OperationID: "add-passkey", Method: http.MethodPost, Path: "/api/me/passkeys/finish", MaxBodyBytes: maxSmall, DefaultStatus: http.StatusNoContent, Summary: "Keep the passkey made",
	}, v.addPasskey)
	huma.Register(api, huma.Operation{OperationID: "my-sessions", Method: http.MethodGet, Path: "/api/me/sessions", Summary: "Devices where the person is signed in"}, v.mySessions)
	huma.Register(api, huma.Operation{
		OperationID: "end-my-session", Method: http.MethodDelete, Path: "/api/me/sessions/{session}", DefaultStatus: http.StatusNoContent, Summary: "End one of them",
	}, v.endMySession)
}

func (v *Server) me(ctx context.Context, _ *struct{}) (*meOutput, error) {
	me, err := v.meOf(ctx, callerOf(ctx))
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return &meOutput{me}, nil
}

func (v *Server) meOf(_ context.Context, c *caller) (Me, error) {
	me := Me{Open: c.open, People: []string{}, Roles: []RoleLine{}, Ended: c.known && !c.in()}
	if c.open {
		return me, nil
	}
	me.OnlineOnly = v.onlineOnly(c.host)
	me.Passkeys = !me.OnlineOnly
	if !c.in() {
		return me, nil
	}
	me.Person = c.person()
	for _, p := range c.session.People {
		me.People = append(me.People, p.Person)
	}
	for _, g := range c.grants {
		if g.Ended == 0 {
			me.Roles = append(me.Roles, RoleLine{g.Job, g.Role, kindsOf(g.Role)})
		}
	}
	return me, nil
}

func (v *Server) takePerson(ctx context.Context, in *takeInput) (*meOutput, error) {
	c := *callerOf(ctx)
	if err := v.store.TakePerson(ctx, c.session.ID, in.Body.Person); err != nil {
		return nil, v.fail(ctx, err)
	}
	if err := v.meet(ctx, &c); err != nil {
		return nil, v.fail(ctx, err)
	}
	me, err := v.meOf(ctx, &c)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return &meOutput{me}, nil
}

func (v *Server) setPassword(ctx context.Context, in *newPasswordInput) (*struct{}, error) {
	person := callerOf(ctx).person()
	if f := checkPassword(in.Body.Password, person); f != nil {
		return nil, v.fail(ctx, f)
	}
	kept, err := v.hashPassword(ctx, in.Body.Password)
	if err == nil {
		err = v.store.SetPassword(ctx, person, kept)
	}
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return nil, nil
}

func (v *Server) beginOwnPasskey(ctx context.Context, _ *struct{}) (*ceremonyOutput, error) {
	a, _, err := v.store.Account(ctx, callerOf(ctx).person())
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	h, err := v.holderOf(ctx, a)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out, err := v.beginPasskey(ctx, h)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return out, nil
}

func (v *Server) addPasskey(ctx context.Context, in *newPasskeyInput) (*struct{}, error) {
	c := callerOf(ctx)
	key, k, err := v.finishPasskey(ctx, in.Body.Ceremony, in.Body.Credential)
	if err == nil && k.Name != c.person() {
		err = fault(phrase.NotFound, "store.no_ceremony")
	}
	if err == nil {
		key.Device = c.session.Device
		err = v.store.AddPasskey(ctx, key)
	}
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return nil, nil
}

func (v *Server) mySessions(ctx context.Context, _ *struct{}) (*sessionsOutput, error) {
	c := callerOf(ctx)
	all, err := v.store.Sessions(ctx)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out := &sessionsOutput{}
	out.Body.Sessions = []SessionLine{}
	for _, s := range all {
		if s.Signed(c.person()) != 0 {
			out.Body.Sessions = append(out.Body.Sessions, sessionLine(s, c))
		}
	}
	return out, nil
}

func sessionLine(s store.Session, c *caller) SessionLine {
	out := SessionLine{ID: s.ID, Device: s.Device, Name: s.Name, People: []string{}, Started: s.Started, Seen: s.Seen, Here: s.ID == c.session.ID}
	for _, p := range s.People {
		out.People = append(out.People, p.Person)
	}
	return out
}

// endMySession ends a session where the person is signed in.
func (v *Server) endMySession(ctx context.Context, in *sessionInput) (*struct{}, error) {
	c := callerOf(ctx)
	all, err := v.store.Sessions(ctx)
	if err == nil && !slices.ContainsFunc(all, func(s store.Session) bool { return s.ID == in.Session && s.Signed(c.person()) != 0 }) {
		err = fault(phrase.NotFound, "store.no_session")
	}
	if err == nil {
		err = v.store.EndSession(ctx, in.Session, c.person())
	}
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	v.wake.tellAll()
	return nil, nil
}
