package plan

import (
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// limit works out, before anything is planned, what the job's rules keep free,
// cuts the hand-dig zones out of the digs and finds the heaps their room.
func (p *Plan) limit() *phrase.Fault {
	var overrides []safety.Override
	for _, o := range p.Job.Rules.Overrides {
		overrides = append(overrides, safety.Override(o))
	}
	book, err := safety.Rules(p.Job.Rules.Set, overrides...)
	if err != nil {
		f := *faultOf(err)
		f.Place.Path = "rules." + f.Place.Path
		return &f
	}
	p.book = book
	var site safety.Site
	p.digsAsJudged = make([]safety.Dig, 0, len(p.Digs))
	site.Digs = make([]safety.SiteDig, 0, len(p.Digs))
	for _, d := range p.Digs {
		facts := p.digFacts(d)
		p.digsAsJudged = append(p.digsAsJudged, facts)
		site.Digs = append(site.Digs, safety.SiteDig{ID: facts.ID, Ground: facts.Ground, Depth: facts.Depth, OpenHours: facts.OpenHours})
	}
	for _, u := range p.Job.Utilities {
		site.Services = append(site.Services, serviceOf(u))
	}
	for _, o := range p.Job.Overheads {
		site.Lines = append(site.Lines, overheadOf(o))
	}
	p.Bounds = safety.Limits(book, site)
	p.cutHandDig()
	p.placeHeaps()
	return nil
}

// findSafety judges the plan by the job's rule set and its overrides. What the
// named competent person released is told as a note, with when and what was
// seen; everything else stays open.
func (p *Plan) findSafety() *phrase.Fault {
	p.others[0] = slices.Clone(p.Findings)
	p.Findings = append(p.Findings, p.safetyFindings()...)
	p.safetyTo = len(p.Findings)
	return nil
}

// WithEntries is the plan with its safety judged by what a competent person entered
// in the log as well: those that the log leaves standing. Nothing is planned anew;
// the plan itself stays as it was, and is given back where nothing new was entered.
func (p *Plan) WithEntries(logged []safety.Entry) *Plan {
	if slices.Equal(logged, p.logged) {
		return p
	}
	out := *p
	out.logged = slices.Clone(logged)
	out.Findings = slices.Concat(p.others[0], out.safetyFindings(), p.others[1])
	slices.SortStableFunc(out.Findings, compareFindings)
	return &out
}

// safetyFindings judges by the rules and tells what was released.
func (p *Plan) safetyFindings() []phrase.Finding {
	facts := p.facts()
	p.judged = safety.Findings(p.book, facts)
	if len(facts.Entries) == 0 {
		return safety.Gather(p.judged)
	}
	var open, released []phrase.Finding
	for _, f := range p.judged {
		if f.Severity == phrase.Stop {
			if e, ok := safety.ReleasedBy(f, facts.Entries, facts.Watchman()); ok {
				released = append(released, safety.AsReleased(f, e))
				continue
			}
		}
		open = append(open, f)
	}
	return append(safety.Gather(open), released...)
}

// Open is the severe findings that nobody released: they are told before any
// number.
func (p *Plan) Open() []phrase.Finding {
	var out []phrase.Finding
	for _, f := range p.Findings {
		if f.Severity == phrase.Stop {
			out = append(out, f)
		}
	}
	return out
}

// InHole says whether shots from inside a dig may be offered, else why not: the
// named competent person's entry of today comes first, and nothing severe about
// the dig or the whole site stays open.
func (p *Plan) InHole(id string) (ok bool, why phrase.Message) {
	return safety.InHoleShotAllowed(safety.InHole{
		Dig: id, Findings: p.judged, Entries: p.entries(), Watchman: p.watchman(),
	})
}

func (p *Plan) watchman() safety.Watchman {
	return safety.Watchman{Competent: p.Job.Rules.CompetentPerson, Today: p.Job.Today, Rain: p.Job.Site.Rain}
}

// entries are what job and log say a competent person entered.
func (p *Plan) entries() []safety.Entry {
	var out []safety.Entry
	for _, e := range p.Job.Entries {
		out = append(out, safety.Entry{
			Who: e.Who, At: e.At, Rule: e.Rule, Saw: e.Saw,
			Where: phrase.Where{Excavation: e.Excavation, Part: e.Part, Stand: e.Stand, Heap: e.Heap, Setup: e.Setup},
		})
	}
	return append(out, p.logged...)
}

// facts is what the safety rules judge; what the job does not tell stays
// unknown.
func (p *Plan) facts() safety.Facts {
	site := p.Job.Site
	out := safety.Facts{
		Today: p.Job.Today, Competent: p.Job.Rules.CompetentPerson, Entries: p.entries(), Rain: site.Rain,
		Locate: safety.Locate{Ticket: site.Ticket, MarkedOn: site.MarkedOn, Expires: site.Expires, Private: safety.Answer(site.PrivateLocate)},
		Duties: safety.Duties{Encumbrances: safety.Answer(site.Encumbrances), Vests: safety.Answer(site.Vests),
			NobodyUnder: safety.Answer(site.NobodyUnder)},
		Digs: p.digsAsJudged,
	}
	out.Footings = append(p.footings(), p.ownFootings()...)
	out.Services = p.services()
	for _, o := range p.Job.Overheads {
		out.Overheads = append(out.Overheads, overheadOf(o))
	}
	out.Reaches = p.reaches()
	out.Heaps, out.Stands, out.Crossings = p.heaps(), p.stands(), p.crossings()
	for i := range p.Setups {
		out.Lasers = append(out.Lasers, p.laserFacts(&p.Setups[i]))
	}
	return out
}

// known is a length as the rules take it, nil for zero: not told.
func known(l unit.Length) *unit.Length {
	if !(l > 0) {
		return nil
	}
	return &l
}
