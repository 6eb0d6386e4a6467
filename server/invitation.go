package server

import (
	"context"
	"encoding/base64"
	"encoding/json"
	"net/http"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"spadework/engine/phrase"
	"spadework/store"
)

// invitationTime is how long an invitation may wait, firstTime how long the link
// that a first start prints.
const (
	invitationTime = 7 * 24 * time.Hour
	firstTime      = 24 * time.Hour
)

// terminal is who invites the first foreman: whoever runs the program.
const terminal = "terminal"

type lookInput struct {
	Body struct {
		Secret string `json:"secret" maxLength:"200" doc:"of the link"`
	}
}

// InvitedTo is what an invitation lets in to.
type InvitedTo struct {
	Person   string   `json:"person" doc:"empty: who comes tells its name"`
	Job      string   `json:"job" doc:"empty every job"`
	Roles    []string `json:"roles" nullable:"false"`
	Ends     int64    `json:"ends"`
	Passkeys bool     `json:"passkeys" doc:"browsers make passkeys for this address"`
}

type lookOutput struct{ Body InvitedTo }

type joinPasskeyInput struct {
	Body struct {
		Secret string `json:"secret" maxLength:"200"`
		Name   string `json:"name" maxLength:"100" doc:"where the invitation has none"`
	}
}

type joinInput struct {
	Body struct {
		Secret     string          `json:"secret" maxLength:"200"`
		Name       string          `json:"name" maxLength:"100" doc:"where the invitation has none"`
		Language   string          `json:"language" enum:"en,es"`
		Password   string          `json:"password,omitempty" maxLength:"1000" doc:"or a passkey"`
		Ceremony   string          `json:"ceremony,omitempty" maxLength:"200"`
		Credential json.RawMessage `json:"credential,omitempty" doc:"the passkey made, as the browser gives it"`
		Device     DeviceBody      `json:"device"`
	}
}

// registerInvitations adds what somebody does who was invited.
func (v *Server) registerInvitations(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "look-at-invitation", Method: http.MethodPost, Path: "/api/invitations/look", MaxBodyBytes: maxSmall, Summary: "What an invitation lets in to",
	}, v.lookAtInvitation)
	huma.Register(api, huma.Operation{
		OperationID: "begin-joining", Method: http.MethodPost, Path: "/api/invitations/passkey", MaxBodyBytes: maxSmall, Summary: "Begin to make the passkey to join with",
	}, v.beginJoining)
	huma.Register(api, huma.Operation{
		OperationID: "join", Method: http.MethodPost, Path: "/api/invitations/join", MaxBodyBytes: maxSmall, Summary: "Use the invitation up, and sign in",
	}, v.join)
}

// invited is the invitation that a secret opens; attempts are counted.
func (v *Server) invited(ctx context.Context, secret string) (store.Invitation, error) {
	if err := v.limit(ctx, "invitation", ""); err != nil {
		return store.Invitation{}, err
	}
	return v.store.Invited(ctx, secret)
}

func (v *Server) lookAtInvitation(ctx context.Context, in *lookInput) (*lookOutput, error) {
	i, err := v.invited(ctx, in.Body.Secret)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return &lookOutput{InvitedTo{i.Person, i.Job, append([]string{}, i.Roles...), i.Ends, !v.onlineOnly(callerOf(ctx).host)}}, nil
}

// nameFor is the name of who joins.
func nameFor(i store.Invitation, told string) string {
	if i.Person != "" {
		return i.Person
	}
	return strings.Join(strings.Fields(told), " ")
}

func (v *Server) beginJoining(ctx context.Context, in *joinPasskeyInput) (*ceremonyOutput, error) {
	i, err := v.invited(ctx, in.Body.Secret)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	name := nameFor(i, in.Body.Name)
	a, there, err := v.store.Account(ctx, name)
	switch {
	case err != nil:
		return nil, v.fail(ctx, err)
	case name == "":
		return nil, v.fail(ctx, fault(phrase.Invalid, "store.name", phrase.With("value", name)))
	case there && i.Person == "":
		return nil, v.fail(ctx, fault(phrase.Conflict, "store.person_there", phrase.With("person", name)))
	case !there:
		a = store.Account{Person: name, Handle: store.NewSecret()}
	}
	handle, err := base64.RawURLEncoding.DecodeString(a.Handle)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out, err := v.beginPasskey(ctx, holder{name: name, handle: handle})
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return out, nil
}

func (v *Server) join(ctx context.Context, in *joinInput) (*signedOutput, error) {
	i, err := v.invited(ctx, in.Body.Secret)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	j := store.Joining{Secret: in.Body.Secret, Name: nameFor(i, in.Body.Name), Language: in.Body.Language}
	if err := v.proof(ctx, &j, in); err != nil {
		return nil, v.fail(ctx, err)
	}
	p, err := v.store.Join(ctx, j)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return v.signIn(ctx, p.ID, in.Body.Device)
}

// proof takes over what the person will prove itself with.
func (v *Server) proof(ctx context.Context, j *store.Joining, in *joinInput) (err error) {
	if in.Body.Ceremony == "" {
		if f := checkPassword(in.Body.Password, j.Name); f != nil {
			return f
		}
		j.Handle = store.NewSecret()
		j.Password, err = v.hashPassword(ctx, in.Body.Password)
		return err
	}
	key, k, err := v.finishPasskey(ctx, in.Body.Ceremony, in.Body.Credential)
	if err != nil {
		return err
	}
	if k.Name != j.Name {
		return fault(phrase.NotFound, "store.no_ceremony")
	}
	key.Device = in.Body.Device.ID
	j.Passkey, j.Handle = &key, base64.RawURLEncoding.EncodeToString(k.Session.UserID)
	return nil
}

// FirstLink invites the first foreman, to whom every job belongs, and gives the
// path of the link. Links of before that were not used count no more. It belongs
// on the terminal and nowhere else.
func FirstLink(ctx context.Context, s *store.Store) (string, error) {
	open, err := s.Invitations(ctx, store.EveryJob)
	if err != nil {
		return "", err
	}
	for _, i := range open {
		if i.By == terminal {
			if err := s.Withdraw(ctx, store.EveryJob, i.ID, terminal); err != nil {
				return "", err
			}
		}
	}
	secret, _, err := s.Invite(ctx, store.Invitation{Job: store.EveryJob, Roles: []string{store.Foreman}, By: terminal}, firstTime)
	return linkPath(secret), err
}

// linkPath keeps the secret behind the #, which browsers send to nobody.
func linkPath(secret string) string { return "/#/invited/" + secret }
