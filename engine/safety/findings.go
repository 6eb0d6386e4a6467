package safety

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Facts is what the rules judge.
type Facts struct {
	Digs      []Dig
	Located   bool   // buried services of the site are located and their ticket is known
	Competent string // the named competent person, "" none
}

// Dig is one excavation.
type Dig struct {
	ID      string
	Depth   *unit.Length // the deepest, nil unknown
	Batter  float64      // least horizontal over vertical of its sides, 0 vertical
	Support bool         // a shield or shoring is planned
}

// Findings judges the facts: the site first, then the digs in the order given.
func Findings(f Facts) []phrase.Finding {
	var out []phrase.Finding
	if len(f.Digs) == 0 {
		return nil
	}
	if !f.Located {
		out = append(out, find("services", phrase.Where{}))
	}
	if f.Competent == "" {
		out = append(out, find("inspection", phrase.Where{}))
	}
	for _, d := range f.Digs {
		out = append(out, d.findings()...)
	}
	return out
}

// find is the finding of a rule with the arguments of its text.
func find(id string, where phrase.Where, args ...phrase.Arg) phrase.Finding {
	r := rules()[id]
	what := phrase.New(phrase.Key("safety."+id), args...)
	if r.Mark == SecondHand {
		what = phrase.New("safety.unchecked", phrase.With("what", what))
	}
	return phrase.Finding{
		Rule: r.ID, Severity: r.Severity, Where: where, What: what, Clause: r.Clause,
		Remedy:  phrase.New(phrase.Key("safety." + id + ".remedy")),
		Decides: phrase.New(phrase.Key("who." + r.Decides)),
	}
}

// limit is the depth of a rule.
func limit(id string) unit.Length { return unit.Length(rules()[id].Limit) * unit.Foot }

// findings judges one dig. A depth that is not known is taken as deep.
func (d Dig) findings() []phrase.Finding {
	where := phrase.Where{Excavation: d.ID}
	if d.Depth == nil {
		out := find("protection", where)
		out.What = phrase.New("safety.depth_unknown", phrase.With("id", d.ID))
		out.Limit = limit("protection")
		return []phrase.Finding{out}
	}
	var out []phrase.Finding
	judge := func(id string, args ...phrase.Arg) {
		f := find(id, where, append(args, phrase.With("id", d.ID), phrase.With("depth", *d.Depth))...)
		f.Measured, f.Limit = *d.Depth, limit(id)
		out = append(out, f)
	}
	if d.at("deep") {
		judge("deep")
	}
	switch {
	case !d.at("protection") || d.Support:
	case d.Batter == 0:
		judge("protection")
	case d.Batter < rules()["slope"].Limit:
		judge("slope", phrase.With("batter", d.Batter), phrase.With("least", rules()["slope"].Limit))
		last := &out[len(out)-1]
		last.Measured, last.Limit = d.Batter, rules()["slope"].Limit
	}
	if d.at("way_out") {
		judge("way_out")
	}
	return out
}

// at says that the dig is at least as deep as a rule's limit, to the micrometre
// that heights are snapped to.
func (d Dig) at(id string) bool { return *d.Depth >= limit(id)-unit.Micrometre/2 }
