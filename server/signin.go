package server

import (
	"context"
	"encoding/json"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"spadework/store"
)

// maxSmall bounds the bodies of sign-in and of rights.
const maxSmall = 64 << 10

// DeviceBody is the device that somebody signs in on, as it calls itself.
type DeviceBody struct {
	ID   string `json:"id" minLength:"1" maxLength:"200"`
	Name string `json:"name" minLength:"1" maxLength:"200"`
}

type passwordInput struct {
	Body struct {
		Name     string     `json:"name" maxLength:"200"`
		Password string     `json:"password" maxLength:"1000"`
		Device   DeviceBody `json:"device"`
	}
}

type passkeyInput struct {
	Body struct {
		Ceremony   string          `json:"ceremony" maxLength:"200"`
		Credential json.RawMessage `json:"credential" doc:"as the browser gives it"`
		Device     DeviceBody      `json:"device"`
	}
}

// signedOutput brings the cookie of the session.
type signedOutput struct {
	SetCookie http.Cookie `header:"Set-Cookie"`
	Body      Me
}

// registerSignIn adds the ways in and out.
func (v *Server) registerSignIn(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "sign-in-by-password", Method: http.MethodPost, Path: "/api/sign-in/password", MaxBodyBytes: maxSmall,
		Summary: "Sign in on a device; others who are signed in there stay",
	}, v.signInByPassword)
	huma.Register(api, huma.Operation{
		OperationID: "begin-passkey", Method: http.MethodPost, Path: "/api/sign-in/passkey", Summary: "Begin to sign in by passkey",
	}, v.beginPasskeySignIn)
	huma.Register(api, huma.Operation{
		OperationID: "sign-in-by-passkey", Method: http.MethodPost, Path: "/api/sign-in/passkey/finish", MaxBodyBytes: maxSmall,
		Summary: "Sign in by the passkey that the browser used",
	}, v.signInByPasskey)
	huma.Register(api, huma.Operation{
		OperationID: "sign-out", Method: http.MethodPost, Path: "/api/sign-out", DefaultStatus: http.StatusNoContent,
		Summary: "End the session of this device, for everybody on it",
	}, v.signOut)
}

func (v *Server) signInByPassword(ctx context.Context, in *passwordInput) (*signedOutput, error) {
	if err := v.limit(ctx, "password", in.Body.Name); err != nil {
		return nil, v.fail(ctx, err)
	}
	a, ok, err := v.store.Account(ctx, in.Body.Name)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	fits, err := v.fitsPassword(ctx, a.Password, in.Body.Password)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	if !fits || !ok {
		return nil, v.fail(ctx, fault(NotSignedIn, "server.not_let_in"))
	}
	return v.signIn(ctx, a.Person, in.Body.Device)
}

func (v *Server) beginPasskeySignIn(ctx context.Context, _ *struct{}) (*ceremonyOutput, error) {
	if err := v.limit(ctx, "passkey", ""); err != nil {
		return nil, v.fail(ctx, err)
	}
	out, err := v.beginSignIn(ctx)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return out, nil
}

func (v *Server) signInByPasskey(ctx context.Context, in *passkeyInput) (*signedOutput, error) {
	if err := v.limit(ctx, "passkey finish", ""); err != nil {
		return nil, v.fail(ctx, err)
	}
	person, err := v.finishSignIn(ctx, in.Body.Ceremony, in.Body.Credential)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return v.signIn(ctx, person, in.Body.Device)
}

// signIn begins the session, or joins the one the device has; its secret is new.
func (v *Server) signIn(ctx context.Context, person string, d DeviceBody) (*signedOutput, error) {
	c := *callerOf(ctx)
	secret, err := v.store.SignIn(ctx, store.SignIn{Person: person, Device: store.Device{ID: d.ID, Name: d.Name}, Old: c.secret})
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	c.secret = secret
	if err := v.meet(ctx, &c); err != nil {
		return nil, v.fail(ctx, err)
	}
	me, err := v.meOf(ctx, &c)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return &signedOutput{cookieOf(secret), me}, nil
}

type goneOutput struct {
	SetCookie http.Cookie `header:"Set-Cookie"`
}

func (v *Server) signOut(ctx context.Context, _ *struct{}) (*goneOutput, error) {
	c := callerOf(ctx)
	if err := v.store.EndSession(ctx, c.session.ID, c.person()); err != nil {
		return nil, v.fail(ctx, err)
	}
	v.wake.tellAll()
	gone := cookieOf("")
	gone.MaxAge = -1
	return &goneOutput{gone}, nil
}
