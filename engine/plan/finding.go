package plan

import (
	"slices"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// find gathers what a person must know before digging to the numbers.
func (p *Plan) find() {
	p.findGround()
	p.findTrust()
	for i := range p.Digs {
		p.findDig(&p.Digs[i])
	}
	for i := range p.Setups {
		p.findSetup(&p.Setups[i])
	}
	for _, u := range p.Unserved {
		p.Findings = append(p.Findings, phrase.Finding{
			Rule: "unserved", Severity: phrase.Caution, Where: phrase.Where{Excavation: u.Excavation, Part: u.Part},
			What:   phrase.New("plan.find_unserved", phrase.With("id", u.Excavation), phrase.With("reason", u.Reason)),
			Remedy: phrase.New("plan.find_unserved.remedy"), Decides: phrase.New("who.foreman"),
		})
	}
	p.others[1] = slices.Clone(p.Findings[p.safetyTo:])
	slices.SortStableFunc(p.Findings, compareFindings)
}

// severityRank is the order in which findings are read.
var severityRank = map[phrase.Severity]int{phrase.Stop: 0, phrase.Caution: 1, phrase.Note: 2}

func compareFindings(a, b phrase.Finding) int {
	if c := severityRank[a.Severity] - severityRank[b.Severity]; c != 0 {
		return c
	}
	if c := compareIDs(a.Rule, b.Rule); c != 0 {
		return c
	}
	return compareIDs(a.Where.Excavation+a.Where.Setup, b.Where.Excavation+b.Where.Setup)
}

// findGround tells what the survey held that a person should look at.
func (p *Plan) findGround() {
	if p.Job.Existing == nil {
		p.Findings = append(p.Findings, phrase.Finding{
			Rule: "no_ground", Severity: phrase.Note,
			What: phrase.New("plan.find_no_ground"), Remedy: phrase.New("plan.find_no_ground.remedy"), Decides: phrase.New("who.foreman"),
		})
		return
	}
	r := p.Job.Existing.Report
	for _, row := range []struct {
		rule  string
		count int
	}{{"ground_conflicts", r.Conflicts}, {"ground_nearby", r.Nearby}, {"ground_crossings", r.Crossings}} {
		if row.count > 0 {
			p.Findings = append(p.Findings, phrase.Finding{
				Rule: row.rule, Severity: phrase.Note,
				What:     phrase.New(phrase.Key("plan.find_"+row.rule), phrase.With("count", row.count)),
				Measured: row.count, Limit: 0,
				Remedy: phrase.New("plan.find_ground.remedy"), Decides: phrase.New("who.surveyor"),
			})
		}
	}
}

// findDig tells what the drawing leaves open about a dig.
func (p *Plan) findDig(d *Dig) {
	id := d.Excavation.ID
	if d.Excavation.Tolerance == nil {
		p.Findings = append(p.Findings, phrase.Finding{
			Rule: "no_tolerance", Severity: phrase.Caution, Where: phrase.Where{Excavation: id},
			What: phrase.New("plan.find_no_tolerance", phrase.With("id", id)), Remedy: phrase.New("plan.find_no_tolerance.remedy"),
			Decides: phrase.New("who.engineer"),
		})
	}
	for _, note := range d.Notes {
		p.Findings = append(p.Findings, phrase.Finding{
			Rule: string(note.Key), Severity: phrase.Note, Where: phrase.Where{Excavation: id},
			What:   phrase.New("plan.find_dig_note", phrase.With("id", id), phrase.With("note", note)),
			Remedy: phrase.New("plan.find_dig_note.remedy"), Decides: phrase.New("who.foreman"),
		})
	}
}

// findSetup tells what weakens a set-up.
func (p *Plan) findSetup(s *Setup) {
	where := phrase.Where{Setup: s.ID}
	// A height from one benchmark only hides a wrong or moved benchmark: HI
	// from one hub, checked on at least two more (Carmel CA wastewater code).
	if n := len(s.source.Sights); s.State == beam.Live && n < 2 {
		p.Findings = append(p.Findings, phrase.Finding{
			Rule: "one_backsight", Severity: phrase.Caution, Where: where,
			What:     phrase.New("plan.find_one_backsight", phrase.With("setup", s.ID), phrase.With("count", n)),
			Measured: n, Limit: 2,
			Remedy: phrase.New("plan.find_one_backsight.remedy"), Decides: phrase.New("who.foreman"),
		})
	}
	for _, note := range s.Notes {
		p.Findings = append(p.Findings, phrase.Finding{
			Rule: string(note.Key), Severity: phrase.Note, Where: where,
			What:   phrase.New("plan.find_setup_note", phrase.With("setup", s.ID), phrase.With("note", note)),
			Remedy: phrase.New("plan.find_setup_note.remedy"), Decides: phrase.New("who.foreman"),
		})
	}
	p.findRounding(s)
	if len(s.aside) > 0 {
		p.Findings = append(p.Findings, phrase.Finding{
			Rule: "needs_setup", Severity: phrase.Caution, Where: where,
			What:   phrase.New("plan.find_needs_setup", phrase.With("setup", s.ID), phrase.With("ids", s.aside), phrase.With("count", len(s.aside))),
			Remedy: phrase.New("plan.find_needs_setup.remedy"), Decides: phrase.New("who.foreman"),
		})
	}
}

// findRounding tells where rounding the dial takes more of a tolerance than the
// beam is allowed.
func (p *Plan) findRounding(s *Setup) {
	if s.Plan == nil {
		return
	}
	for _, e := range s.Plan.Rounding {
		d, ok := p.Dig(e.Run)
		if !ok {
			continue
		}
		limit := unit.Length(beam.ToleranceShare) * min(d.band().Above, d.band().Below)
		worst := max(e.Start, -e.Start, e.End, -e.End)
		if d.Excavation.Tolerance != nil && worst > limit {
			p.Findings = append(p.Findings, phrase.Finding{
				Rule: "dial_step", Severity: phrase.Caution, Where: phrase.Where{Excavation: e.Run, Setup: s.ID},
				What:     phrase.New("plan.find_dial_step", phrase.With("id", e.Run), phrase.With("setup", s.ID), phrase.With("worst", worst), phrase.With("limit", limit)),
				Measured: worst, Limit: limit,
				Remedy: phrase.New("plan.find_dial_step.remedy"), Decides: phrase.New("who.foreman"),
			})
		}
	}
}
