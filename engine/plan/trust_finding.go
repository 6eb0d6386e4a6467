package plan

import (
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// most is how many digs a finding names before it counts the rest.
const mostNamed = 12

// weak is the numbers of one set-up that keep the limit no more.
type weak struct {
	ids   []string // digs, each once
	worst Number
	walk  digWalk
	aims  bool // working to the aim would bring all of them over the limit
}

// findTrust tells which numbers cannot be trusted as far as the job wants.
func (p *Plan) findTrust() {
	for i := range p.Setups {
		p.findWeak(&p.Setups[i])
	}
	for _, c := range p.Conditions {
		if !(c.Chance >= p.Limit()) {
			p.findCondition(c)
		}
	}
}

func (p *Plan) findWeak(s *Setup) {
	if s.Known && !s.belief.At(s.Plane.At, 0, s.way).Known {
		p.findOpen(s)
		return
	}
	w := weak{aims: true, walk: digWalk{p: p}}
	limit := p.Limit()
	for i := range p.Numbers {
		n := &p.Numbers[i]
		if n.Setup == s.ID && n.From == FromBeam && n.Trust.Rated && !(n.Trust.Within >= limit) {
			w.add(n, limit)
		}
	}
	if len(w.ids) == 0 {
		return
	}
	p.Findings = append(p.Findings, phrase.Finding{
		Rule: "trust_chance", Severity: phrase.Caution, Where: phrase.Where{Setup: s.ID, Excavation: onlyOne(w.ids)},
		What:     w.what(s.ID, limit),
		Measured: w.worst.Trust.Within, Limit: limit,
		Remedy: w.remedy(p), Decides: phrase.New("who.foreman"),
	})
}

func onlyOne(ids []string) string {
	if len(ids) == 1 {
		return ids[0]
	}
	return ""
}

func (w *weak) add(n *Number, limit unit.Chance) {
	if len(w.ids) == 0 || n.Trust.Within < w.worst.Trust.Within {
		w.worst = *n
	}
	if len(w.ids) == 0 || w.ids[len(w.ids)-1] != n.Excavation {
		w.ids = append(w.ids, n.Excavation)
	}
	w.aims = w.aims && n.Trust.Outlook.Within(w.walk.to(n.Excavation).band(), n.Trust.Aim) >= limit
}

func (w *weak) what(setup string, limit unit.Chance) phrase.Message {
	named := w.ids[:min(len(w.ids), mostNamed)]
	args := []phrase.Arg{
		phrase.With("setup", setup), phrase.With("ids", named), phrase.With("limit", limit),
		phrase.With("id", w.worst.Excavation), phrase.With("point", w.worst.Name), phrase.With("chance", w.worst.Trust.Within),
	}
	if more := len(w.ids) - len(named); more > 0 {
		return phrase.New("plan.find_chance_more", append(args, phrase.With("count", more))...)
	}
	return phrase.New("plan.find_chance", args...)
}

func (w *weak) remedy(p *Plan) phrase.Message {
	if w.aims && p.Job.WorkTo != job.Aim {
		return phrase.New("plan.find_chance.remedy_aim")
	}
	return phrase.New("plan.find_chance.remedy", phrase.With("id", w.worst.Excavation))
}

// findOpen tells of a set-up whose numbers have no uncertainty, and why.
func (p *Plan) findOpen(s *Setup) {
	why := phrase.New("plan.open_height")
	if s.belief.Known() {
		why = phrase.New("plan.open_depth")
	}
	p.Findings = append(p.Findings, phrase.Finding{
		Rule: "trust_open", Severity: phrase.Caution, Where: phrase.Where{Setup: s.ID},
		What:   phrase.New("plan.find_open", phrase.With("setup", s.ID), phrase.With("why", why)),
		Remedy: phrase.New(why.Key + ".remedy"), Decides: phrase.New("who.foreman"),
	})
}

func (p *Plan) findCondition(c Condition) {
	if !c.Outlook.Known { // the set-up has a finding of its own
		return
	}
	p.Findings = append(p.Findings, phrase.Finding{
		Rule: "trust_" + string(c.Kind), Severity: phrase.Caution,
		Where: phrase.Where{Excavation: c.Excavation, Part: c.Part, Setup: c.Setup},
		What: phrase.New("plan.find_condition", phrase.With("id", c.Excavation), phrase.With("setup", c.Setup),
			phrase.With("kind", c.Text()), phrase.With("chance", c.Chance), phrase.With("limit", p.Limit())),
		Measured: c.Chance, Limit: p.Limit(),
		Remedy: phrase.New("plan.find_condition.remedy"), Decides: phrase.New("who.foreman"),
	})
}

// Text is what the condition asks, in words.
func (c Condition) Text() phrase.Message {
	return phrase.New(phrase.Key("plan.condition_"+string(c.Kind)), phrase.With("limit", c.Limit),
		phrase.With("length", unit.Length(c.From.Distance(c.To))))
}

// Worse says that a judgement is worse than another.
func Worse(a, b trust.Judgement) bool { return rank(a) > rank(b) }

func rank(j trust.Judgement) int {
	switch j {
	case trust.DoNotTrust:
		return 2
	case trust.CheckEvery:
		return 1
	}
	return 0
}
