package plan

import (
	"slices"

	"spadework/engine/beam"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// Assessment is a number taken apart: its budget and what would help.
type Assessment struct {
	Number
	Budget       []trust.Contribution // of the finished bottom, largest first
	Improvements []Help               // most helpful first
}

// Help is something to do about a number and what comes of it.
type Help struct {
	trust.Improvement
	Within unit.Chance // at the height worked to, aimed anew
}

// Assess takes the least trusted number of a dig from every set-up apart. Numbers
// that are not counted from a beam have no budget.
func (p *Plan) Assess(id string) []Assessment {
	var worst []Number
	for _, n := range p.Numbers {
		if n.Excavation != id || n.From != FromBeam {
			continue
		}
		i := slices.IndexFunc(worst, func(o Number) bool { return o.Setup == n.Setup })
		switch {
		case i < 0:
			worst = append(worst, n)
		case lessTrusted(n, worst[i]):
			worst[i] = n
		}
	}
	out := make([]Assessment, len(worst))
	for i, n := range worst {
		out[i] = p.assess(n)
	}
	return out
}

// lessTrusted says that a number of the same dig and set-up is worse than
// another: by its chance, or without a tolerance by its standard error.
func lessTrusted(a, b Number) bool {
	if a.Trust.Rated && a.Trust.Within != b.Trust.Within {
		return a.Trust.Within < b.Trust.Within
	}
	return a.Trust.Final > b.Trust.Final
}

func (p *Plan) assess(n Number) Assessment {
	s := p.setup(n.Setup)
	number := p.NumberOf(n)
	out := Assessment{Number: n}
	_, out.Budget = s.site.Budget(number)
	d := p.dig(n.Excavation)
	for _, i := range s.site.Improvements(number, p.reach(s), beam.DefaultReadingSigma) {
		h := Help{Improvement: i}
		if n.Trust.Rated {
			better := n
			better.Trust = Trust{Outlook: i.Outlook}
			p.rate(&better, d, p.aimRule(), p.Limit())
			h.Within = better.Trust.Within
		}
		out.Improvements = append(out.Improvements, h)
	}
	return out
}

// TrustJSON is how far the numbers of some digs can be trusted, taken apart: SI.
func (p *Plan) TrustJSON(ids []string) []byte {
	w := &planWriter{encoder: encoder{first: true}, p: p}
	w.object(func() {
		w.whole("format", Format)
		w.number("limit", float64(p.Limit()))
		w.key("numbers")
		w.list(func() {
			for _, id := range ids {
				for _, a := range p.Assess(id) {
					w.item()
					w.object(func() { w.assessment(a) })
				}
			}
		})
		array(&w.encoder, "conditions", p.ConditionsOf(ids), w.condition)
	})
	return w.b
}

// ConditionsOf are the conditions of some digs.
func (p *Plan) ConditionsOf(ids []string) []Condition {
	var out []Condition
	for _, c := range p.Conditions {
		if slices.Contains(ids, c.Excavation) {
			out = append(out, c)
		}
	}
	return out
}

func (w *planWriter) assessment(a Assessment) {
	w.text("excavation", a.Excavation)
	w.text("part", a.Part)
	w.text("point", a.Name)
	w.text("setup", a.Setup)
	w.place("at", a.At)
	w.trust(a.Number)
	w.number("mean", float64(a.Trust.Mean))
	w.number("sigma_first", float64(a.Trust.First))
	array(&w.encoder, "budget", a.Budget, func(c trust.Contribution) {
		w.text("cause", string(c.Cause))
		w.textOrNull("of", c.Of)
		w.number("sigma", float64(c.Sigma))
		w.number("share", c.Share)
	})
	array(&w.encoder, "improvements", a.Improvements, func(h Help) {
		w.text("change", string(h.Change))
		w.textOrNull("of", h.Of)
		w.number("sigma", float64(h.Sigma))
		if a.Trust.Rated {
			w.number("p_within", float64(h.Within))
		} else {
			w.null("p_within")
		}
	})
}
