package cab

import (
	"bytes"
	"encoding/json"
	"errors"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Engine answers requests: {"call": …, "args": {…}} is answered with {"ok": …}
// or {"fault": {…}}. It holds one open job. The zero Engine has none.
type Engine struct {
	cab  *Cab
	lang phrase.Language
	more map[string]call // beside those of every page
}

// Speech is how a page is spoken to.
type Speech struct {
	Language phrase.Language `json:"language"`
	Comma    *bool           `json:"comma"` // the decimal mark, null: as it is
}

// Told is a fault as the page shows it.
type Told struct {
	Code    string `json:"code"`
	Key     string `json:"key"`
	Message string `json:"message"`
	Remedy  string `json:"remedy"`
	Place   string `json:"place"`
}

type request struct {
	Call string          `json:"call"`
	Args json.RawMessage `json:"args"`
}

type answer struct {
	OK    any   `json:"ok,omitempty"`
	Fault *Told `json:"fault,omitempty"`
}

// call is one thing that the engine does for a page.
type call func(e *Engine, args json.RawMessage, progress func(Progress)) (any, *phrase.Fault)

// calls is the table of them. docs/engine-calls.md tells what each takes and
// gives.
var calls = map[string]call{
	"open": openCall,
	"home": withCab(func(c *Cab, _ struct{}, _ func(Progress)) (any, *phrase.Fault) { return c.Home(), nil }),
	"stand": withCab(func(c *Cab, a struct{ Dig, Tag string }, _ func(Progress)) (any, *phrase.Fault) {
		return orFault(c.Stand(a.Dig, a.Tag))
	}),
	"draft": withCab(func(c *Cab, s Saying, _ func(Progress)) (any, *phrase.Fault) { return orFault(c.Draft(s)) }),
	"setup": withCab(func(c *Cab, n NewSetup, _ func(Progress)) (any, *phrase.Fault) { return orFault(c.SetUp(n)) }),
	"closes": withCab(func(c *Cab, a struct{ Tag string }, _ func(Progress)) (any, *phrase.Fault) {
		return c.Closes(a.Tag), nil
	}),
	"add": withCab(func(c *Cab, a struct{ Records []string }, progress func(Progress)) (any, *phrase.Fault) {
		if f := c.Add(a.Records, progress); f != nil {
			return nil, f
		}
		c.judgeEntries()
		return c.Home(), nil
	}),
	"speak": withCab(func(c *Cab, a Speech, _ func(Progress)) (any, *phrase.Fault) {
		c.view.Language = a.Language
		if a.Comma != nil {
			c.view.Style.Comma = *a.Comma
		}
		return c.Home(), nil
	}),
	"proving": withCab(func(c *Cab, a struct{ Tag string }, _ func(Progress)) (any, *phrase.Fault) {
		return c.Proving(a.Tag), nil
	}),
	"taped": withCab(func(c *Cab, a struct{ A, B Distance }, _ func(Progress)) (any, *phrase.Fault) {
		return orFault(c.Taped(a.A, a.B))
	}),
	"tapped": withCab(func(c *Cab, a struct{ X, Y float64 }, _ func(Progress)) (any, *phrase.Fault) {
		return c.Tapped(a.X, a.Y), nil
	}),
	"reach":      withCab(func(c *Cab, _ struct{}, _ func(Progress)) (any, *phrase.Fault) { return orFault(c.Reach()) }),
	"check":      withCab(func(c *Cab, _ struct{}, _ func(Progress)) (any, *phrase.Fault) { return c.Check(), nil }),
	"left":       withCab(func(c *Cab, _ struct{}, _ func(Progress)) (any, *phrase.Fault) { return c.Left(), nil }),
	"quantities": withCab(func(c *Cab, _ struct{}, _ func(Progress)) (any, *phrase.Fault) { return c.Quantities(), nil }),
	"findings":   withCab(func(c *Cab, _ struct{}, _ func(Progress)) (any, *phrase.Fault) { return c.Findings(), nil }),
	"watch":      withCab(func(c *Cab, _ struct{}, _ func(Progress)) (any, *phrase.Fault) { return orFault(c.Watch()) }),
	"map":        withCab(func(c *Cab, _ struct{}, _ func(Progress)) (any, *phrase.Fault) { return c.Map(), nil }),
	"plan": withCab(func(c *Cab, _ struct{}, _ func(Progress)) (any, *phrase.Fault) {
		return json.RawMessage(c.plan.AppendJSON(nil)), nil
	}),
}

// orFault keeps the value only where there is no fault.
func orFault[T any](v T, f *phrase.Fault) (any, *phrase.Fault) {
	if f != nil {
		return nil, f
	}
	return v, nil
}

// withCab is a call that needs an open job.
func withCab[A any](work func(*Cab, A, func(Progress)) (any, *phrase.Fault)) call {
	return func(e *Engine, args json.RawMessage, progress func(Progress)) (any, *phrase.Fault) {
		if e.cab == nil {
			return nil, phrase.NewFault(phrase.New("cab.nothing_open"), phrase.New("cab.nothing_open.remedy"))
		}
		a, f := read[A](args)
		if f != nil {
			return nil, f
		}
		return work(e.cab, a, progress)
	}
}

func openCall(e *Engine, args json.RawMessage, progress func(Progress)) (any, *phrase.Fault) {
	o, f := read[Opening](args)
	if f != nil {
		return nil, f
	}
	e.lang = o.Language
	c, f := Open(o, progress)
	if f != nil {
		return nil, f
	}
	c.judgeEntries()
	h := c.Home()
	if old := e.cab; old != nil && old.opening.ID == o.ID && old.opening.Revision != o.Revision {
		h.Changes = c.changes(old.plan)
	}
	e.cab = c
	return h, nil
}

// read decodes the arguments of a call strictly.
func read[A any](args json.RawMessage) (a A, f *phrase.Fault) {
	if len(args) == 0 {
		return a, nil
	}
	d := json.NewDecoder(bytes.NewReader(args))
	d.DisallowUnknownFields()
	if err := d.Decode(&a); err != nil {
		return a, phrase.NewFault(phrase.New("cab.request", phrase.With("detail", err.Error())), phrase.Message{})
	}
	return a, nil
}

// Call answers one request.
func (e *Engine) Call(data []byte, progress func(Progress)) []byte {
	out := e.answer(data, progress)
	body, err := json.Marshal(out)
	if err != nil { // a NaN or an infinity among the figures
		body, err = json.Marshal(answer{Fault: e.told(phrase.NewFault(phrase.New("cab.request", phrase.With("detail", err.Error())), phrase.Message{}))})
	}
	if err != nil {
		panic("cab: a fault of strings does not fail to encode: " + err.Error())
	}
	return body
}

func (e *Engine) answer(data []byte, progress func(Progress)) answer {
	q, f := read[request](data)
	if f != nil {
		return answer{Fault: e.told(f)}
	}
	work, known := calls[q.Call]
	if !known {
		work, known = e.more[q.Call]
	}
	if !known {
		return answer{Fault: e.told(notFound("cab.unknown_call", q.Call))}
	}
	ok, f := work(e, q.Args, progress)
	if f != nil {
		return answer{Fault: e.told(f)}
	}
	return answer{OK: ok}
}

// told is a fault in the page's language.
func (e *Engine) told(f *phrase.Fault) *Told {
	lang, style := e.lang, unit.Style{}
	if e.cab != nil {
		lang, style = e.cab.view.Language, e.cab.view.Style
	}
	if lang == "" {
		lang = phrase.English
	}
	t := &Told{Code: string(f.Code), Key: string(f.What.Key), Message: f.Render(lang, style), Place: f.Place.String()}
	if !f.Remedy.IsZero() {
		t.Remedy = f.Remedy.Render(lang, style)
	}
	return t
}

// faultOf is the fault of an error, or one of its text.
func faultOf(err error) *phrase.Fault {
	var f *phrase.Fault
	if errors.As(err, &f) {
		return f
	}
	return phrase.NewFault(phrase.New("cab.request", phrase.With("detail", err.Error())), phrase.Message{})
}
