//go:build foreman || !js

package cab

import (
	"encoding/json"

	"spadework/engine/phrase"
	"spadework/exchange"
)

// NewForeman is an engine that answers a foreman's page as well: forms of the job
// file, the map, sheets, and what the log proves. It is a module of its own, so
// that a phone in the cab need not carry it.
func NewForeman() *Engine { return &Engine{more: foremanCalls()} }

// foremanCalls is the table of what a foreman's page asks beside the others.
func foremanCalls() map[string]call {
	return map[string]call{
		"tongue": withEngine(func(e *Engine, a struct{ Language phrase.Language }) (any, *phrase.Fault) {
			e.lang = a.Language
			return a.Language, nil
		}),
		"job_schema": withEngine(func(*Engine, struct{}) (any, *phrase.Fault) { return FormSchema(), nil }),
		"job_new":    withEngine(func(e *Engine, n NewJob) (any, *phrase.Fault) { return orFault(e.newJob(n)) }),
		"job_read": withEngine(func(e *Engine, a struct{ Bundle exchange.Bundle }) (any, *phrase.Fault) {
			return orFault(e.readForm(a.Bundle))
		}),
		"job_write": withEngine(func(e *Engine, in JobEdit) (any, *phrase.Fault) { return orFault(e.writeJob(in)) }),
		"validate": withEngine(func(e *Engine, a struct{ Bundle exchange.Bundle }) (any, *phrase.Fault) {
			form, f := e.readForm(a.Bundle)
			if f != nil {
				return []Misread{{Told: *e.told(f), File: f.Place.File, Line: f.Place.Line}}, nil
			}
			return form.Faults, nil
		}),
		"job_diff": withEngine(func(_ *Engine, a struct{ Mine, Theirs exchange.Bundle }) (any, *phrase.Fault) {
			return orFault(differences(a.Mine, a.Theirs))
		}),
		"pasted": withEngine(func(_ *Engine, a struct{ Name, Text string }) (any, *phrase.Fault) {
			return orFault(readPasted(a.Name, a.Text))
		}),
		"paper": withCab(func(c *Cab, a struct{ Name, Dig string }, _ func(Progress)) (any, *phrase.Fault) {
			return orFault(c.Paper(a.Name, a.Dig))
		}),
		"site": withCab(func(c *Cab, m Move, _ func(Progress)) (any, *phrase.Fault) { return c.Site(m), nil }),
		"pick": withCab(func(c *Cab, a struct {
			View View
			X, Y float64
		}, _ func(Progress)) (any, *phrase.Fault) {
			return c.Pick(a.View, a.X, a.Y), nil
		}),
		"draw_dig": withCab(func(c *Cab, t Tapped, _ func(Progress)) (any, *phrase.Fault) { return orFault(c.Draw(t)) }),
		"as_built": withCab(func(c *Cab, _ struct{}, _ func(Progress)) (any, *phrase.Fault) { return c.AsBuilt(), nil }),
	}
}

// withEngine is a call that needs no open job.
func withEngine[A any](work func(*Engine, A) (any, *phrase.Fault)) call {
	return func(e *Engine, args json.RawMessage, _ func(Progress)) (any, *phrase.Fault) {
		a, f := read[A](args)
		if f != nil {
			return nil, f
		}
		return work(e, a)
	}
}
