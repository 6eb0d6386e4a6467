package server

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"spadework/engine/phrase"
	"spadework/engine/unit"
	"spadework/store"
)

// TooLarge is the code of bodies over their limit, Unsupported of a form that is
// not read, and Internal of faults of the program.
const (
	TooLarge    phrase.Code = "too_large"
	Unsupported phrase.Code = "unsupported"
	Forbidden   phrase.Code = "forbidden"
	Internal    phrase.Code = "internal"
)

// statuses is the one table from codes to HTTP.
var statuses = map[phrase.Code]int{
	phrase.Invalid:    http.StatusUnprocessableEntity,
	phrase.NotFound:   http.StatusNotFound,
	phrase.Conflict:   http.StatusConflict,
	store.Unavailable: http.StatusServiceUnavailable,
	TooLarge:          http.StatusRequestEntityTooLarge,
	Unsupported:       http.StatusUnsupportedMediaType,
	Forbidden:         http.StatusForbidden,
	Internal:          http.StatusInternalServerError,
}

// Trouble is what a failed request is told.
type Trouble struct {
	Code    string `json:"code"`
	Key     string `json:"key" doc:"names the rule"`
	Message string `json:"message" doc:"in the language of Accept-Language"`
	Remedy  string `json:"remedy"`
	Place   string `json:"place" doc:"file, line and column, empty where there is none"`
}

// Theirs is the revision that won a lost race.
type Theirs struct {
	Revision int64  `json:"revision"`
	Person   string `json:"person"`
	Saved    int64  `json:"saved" doc:"milliseconds since 1970 UTC"`
}

// problem is the body of every failed request.
type problem struct {
	status int
	Told   Trouble `json:"error"`
	Theirs *Theirs `json:"theirs,omitempty" doc:"of a lost race: what is there instead"`
}

// Error is the message.
func (p *problem) Error() string { return p.Told.Message }

// GetStatus is the status of HTTP.
func (p *problem) GetStatus() int { return p.status }

// fault is a fault of the server's own.
func fault(code phrase.Code, key phrase.Key, args ...phrase.Arg) *phrase.Fault {
	f := phrase.NewFault(phrase.New(key, args...), phrase.New(key+".remedy", args...))
	f.Code = code
	return f
}

// fail tells an error in the language that the request asks for. An error that
// has no fault is the program's: it is logged, not shown.
func (v *Server) fail(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	var f *phrase.Fault
	if !errors.As(err, &f) {
		v.log.ErrorContext(ctx, "failed", "error", err)
		f = fault(Internal, "server.internal")
	}
	p := told(f, languageOf(ctx))
	var race *store.Race
	if errors.As(err, &race) {
		p.Theirs = &Theirs{race.Now.Number, race.Now.Person, race.Now.Saved}
	}
	if p.status >= http.StatusInternalServerError {
		v.log.ErrorContext(ctx, "fault", "code", f.Code, "key", f.What.Key, "error", err)
	}
	return p
}

// told is a fault as a body.
func told(f *phrase.Fault, lang phrase.Language) *problem {
	status, known := statuses[f.Code]
	if !known {
		status = http.StatusInternalServerError
	}
	return &problem{status: status, Told: Trouble{
		Code: string(f.Code), Key: string(f.What.Key),
		Message: f.Render(lang, unit.Style{}), Remedy: f.Remedy.Render(lang, unit.Style{}), Place: f.Place.String(),
	}}
}

// refuse is what huma makes of a request that does not fit its operation: a
// status and what it found, in English, which our own words quote.
func refuse(ctx huma.Context, status int, msg string, errs ...error) huma.StatusError {
	details := []string{msg}
	for _, err := range errs {
		if err != nil {
			details = append(details, err.Error())
		}
	}
	code, key := phrase.Invalid, phrase.Key("server.request")
	switch status {
	case http.StatusRequestEntityTooLarge:
		code, key = TooLarge, "server.too_large"
	case http.StatusUnsupportedMediaType:
		code, key = Unsupported, "server.media"
	}
	lang := phrase.English
	if ctx != nil {
		lang = languageOf(ctx.Context())
	}
	p := told(fault(code, key, phrase.With("detail", strings.Join(details, "; "))), lang)
	if status == http.StatusNotAcceptable || status == http.StatusRequestTimeout || status == http.StatusBadRequest {
		p.status = status
	}
	return p
}

// huma keeps the maker of its errors, and how it compares names, in variables of
// its package.
func init() {
	huma.NewError = func(status int, msg string, errs ...error) huma.StatusError { return refuse(nil, status, msg, errs...) }
	huma.NewErrorWithContext = refuse
	huma.ValidateStrictCasing = true // the description has no other names
}

type languageKey struct{}

// languageOf is the language of a request, English where none was asked for.
func languageOf(ctx context.Context) phrase.Language {
	if l, ok := ctx.Value(languageKey{}).(phrase.Language); ok {
		return l
	}
	return phrase.English
}

// askedLanguage is Spanish where Accept-Language names it first.
func askedLanguage(header string) phrase.Language {
	for _, part := range strings.Split(header, ",") {
		switch tag := strings.ToLower(strings.TrimSpace(part)); {
		case strings.HasPrefix(tag, "es"):
			return phrase.Spanish
		case strings.HasPrefix(tag, "en"):
			return phrase.English
		}
	}
	return phrase.English
}
