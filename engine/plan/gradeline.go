package plan

import (
	"errors"
	"math"
	"slices"

	"spadework/engine/dig"
	"spadework/engine/gradeline"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// GradeLine is the grade of a run that the drawing leaves open, as the program
// chose it.
type GradeLine struct {
	Excavation string
	gradeline.Line
	Problem gradeline.Problem
	Open    job.Open
}

// GradeLine finds the line of an excavation; ok is false where its grade is
// drawn.
func (p *Plan) GradeLine(id string) (GradeLine, bool) {
	i := slices.IndexFunc(p.Lines, func(l GradeLine) bool { return l.Excavation == id })
	if i < 0 {
		return GradeLine{}, false
	}
	return p.Lines[i], true
}

// chooseGrade gives a run whose grade is open the inverts of its grade line. A
// drawn grade is left alone.
func (p *Plan) chooseGrade(x *job.Excavation) *phrase.Fault {
	if x.Open == nil {
		return nil
	}
	problem, f := p.openProblem(x)
	if f != nil {
		return f
	}
	line, err := gradeline.Find(problem)
	if err != nil {
		return openFault(err)
	}
	x.Inverts = nil
	for _, v := range line.Vertices {
		x.Inverts = append(x.Inverts, dig.Invert{Station: v.Station, In: v.Invert, Out: v.Invert})
	}
	x.Bottom.Rule = dig.ByInvert
	x.Bottom.Cover, x.Bottom.From = x.Open.Cover, x.Open.From
	x.Chosen = chosen(x.Open)
	p.Lines = append(p.Lines, GradeLine{Excavation: x.ID, Line: line, Problem: problem, Open: *x.Open})
	slices.SortStableFunc(p.Lines, func(a, b GradeLine) int { return compareIDs(a.Excavation, b.Excavation) })
	return nil
}

// openFault places what the grade line cannot do.
func openFault(err error) *phrase.Fault {
	f := faultOf(err)
	var clash *gradeline.Clash
	if errors.As(err, &clash) {
		f = clash.Fault()
	}
	return f.At(phrase.Place{Path: "open"})
}

// chosen says who chose the grade and by what.
func chosen(o *job.Open) phrase.Message {
	least := min(max(float64(o.Falls.Least), float64(-o.Falls.Least)), max(float64(o.Falls.Most), float64(-o.Falls.Most)))
	if directed(o.Falls) {
		return phrase.New("plan.chosen_fall", phrase.With("cover", o.Cover), phrase.With("least", unit.Grade(least)))
	}
	return phrase.New("plan.chosen", phrase.With("cover", o.Cover))
}

// directed says that the line must fall one way.
func directed(f gradeline.Falls) bool { return f.Least >= 0 || f.Most < 0 }

// openProblem is a run whose grade is open as the grade line takes it.
func (p *Plan) openProblem(x *job.Excavation) (gradeline.Problem, *phrase.Fault) {
	o := x.Open
	ground := p.Job.Existing
	if o.From == dig.Finished {
		ground = p.Job.Finished
	}
	covered, f := along(ground, x, o.From)
	if f != nil {
		return gradeline.Problem{}, f
	}
	out := gradeline.Problem{
		Covered: covered, Width: x.Width + 2*x.Working, Cover: o.Cover, Under: x.Bedding + x.Blinding + x.Subbase,
		Falls: o.Falls, Bends: o.Bends, At: o.At, Fixed: o.Fixed, Passes: o.Passes,
	}
	if x.Pipe != nil {
		out.Wall = x.Pipe.Wall
		out.Over = x.Pipe.Inside() + x.Pipe.Wall
		out.Under += x.Pipe.Wall
	}
	if o.From == dig.Finished && p.Job.Existing != nil {
		if out.Dug, f = along(p.Job.Existing, x, dig.Existing); f != nil {
			return gradeline.Problem{}, f
		}
	}
	return out, nil
}

// along is the ground along a run, which must be known all the way.
func along(g *job.Ground, x *job.Excavation, from dig.Reference) ([]gradeline.Point, *phrase.Fault) {
	if g == nil {
		return nil, phrase.NewFault(phrase.New("plan.open_no_ground", phrase.With("ground", phrase.New(phrase.Key("dig.term."+string(from))))),
			phrase.New("plan.open_no_ground.remedy")).At(phrase.Place{Path: "open"})
	}
	var out []gradeline.Point
	profile := g.Profile(x.Line)
	for i, pt := range profile {
		if !pt.Known || math.IsNaN(pt.Z) || pt.Gap && i+1 < len(profile) {
			return nil, phrase.NewFault(phrase.New("plan.open_outside", phrase.With("station", unit.Station(pt.Station))),
				phrase.New("plan.open_outside.remedy")).At(phrase.Place{Path: "open"})
		}
		if n := len(out); n > 0 && !(unit.Station(pt.Station) > out[n-1].Station) {
			out[n-1].Z = min(out[n-1].Z, unit.Elevation(pt.Z))
			continue
		}
		out = append(out, gradeline.Point{Station: unit.Station(pt.Station), Z: unit.Elevation(pt.Z)})
	}
	return out, nil
}

// LineRow is the line at a station.
type LineRow struct {
	Station unit.Station
	Ground  unit.Elevation // dug
	Invert  unit.Elevation
	Cover   unit.Length
	Bottom  unit.Elevation
	Depth   unit.Length // Ground − Bottom
}

// Rows are the line at its bends, at what it rests on and at every interval.
func (l GradeLine) Rows(interval unit.Length) []LineRow {
	var at []unit.Station
	for _, v := range l.Vertices {
		at = append(at, v.Station)
	}
	for _, r := range l.Rests {
		at = append(at, r.Station)
	}
	end := l.Vertices[len(l.Vertices)-1].Station
	for k := 1; interval > 0 && unit.Station(interval)*unit.Station(k) < end; k++ {
		at = append(at, unit.Station(interval)*unit.Station(k))
	}
	slices.Sort(at)
	var out []LineRow
	for _, s := range at {
		if n := len(out); n > 0 && s-out[n-1].Station < unit.Station(unit.Micrometre) {
			continue
		}
		out = append(out, l.Row(s))
	}
	return out
}

// Row is the line at one station.
func (l GradeLine) Row(s unit.Station) LineRow {
	p := l.Problem
	out := LineRow{Station: s, Invert: l.At(s)}
	out.Cover = gradeline.Height(p.Covered, s).Above(out.Invert) - p.Over
	out.Ground = gradeline.Height(p.DugGround(), s)
	out.Bottom = out.Invert.Plus(-p.Under)
	out.Depth = out.Ground.Above(out.Bottom)
	return out
}

// Because says what holds the line where it is, in a sentence or two.
func (l GradeLine) Because() []phrase.Message {
	var out []phrase.Message
	var cover []unit.Station
	for _, r := range l.Rests {
		if r.Kind == gradeline.Cover {
			cover = append(cover, r.Station)
			continue
		}
		out = append(out, phrase.New("plan.line_rests_rule", phrase.With("rule", r.Message())))
	}
	switch n := len(cover); {
	case n == 1:
		out = append(out, phrase.New("plan.line_rests", phrase.With("stations", []phrase.Message{stationText(cover[0])})))
	case n > 1 && n <= maxNamed:
		out = append(out, phrase.New("plan.line_rests", phrase.With("stations", stationList(cover))))
	case n > maxNamed:
		out = append(out, phrase.New("plan.line_rests_many", phrase.With("count", n),
			phrase.With("first", cover[0]), phrase.With("last", cover[n-1])))
	}
	for _, s := range merged(l.AtLeast) {
		out = append(out, phrase.New("plan.line_least", phrase.With("from", s.From), phrase.With("to", s.To)))
	}
	for _, s := range merged(l.AtMost) {
		out = append(out, phrase.New("plan.line_most", phrase.With("from", s.From), phrase.With("to", s.To)))
	}
	return out
}

// maxNamed is how many stations a sentence names.
const maxNamed = 6

func stationText(s unit.Station) phrase.Message {
	return phrase.New("plan.station", phrase.With("station", s))
}

// stationList joins stations as a list is read: a, b and c.
func stationList(at []unit.Station) []phrase.Message {
	var out []phrase.Message
	for i, s := range at {
		key := phrase.Key("plan.station_more")
		switch i {
		case len(at) - 1:
			key = "plan.station"
		case len(at) - 2:
			key = "plan.station_and"
		}
		out = append(out, phrase.New(key, phrase.With("station", s)))
	}
	return out
}

// merged joins stretches that follow on each other.
func merged(in []gradeline.Stretch) []gradeline.Stretch {
	var out []gradeline.Stretch
	for _, s := range in {
		if n := len(out); n > 0 && out[n-1].To == s.From {
			out[n-1].To = s.To
			continue
		}
		out = append(out, s)
	}
	return out
}

// AppendLineJSON appends one grade line as JSON, as in the plan's.
func (p *Plan) AppendLineJSON(dst []byte, l GradeLine) []byte {
	w := &planWriter{encoder: encoder{b: dst, first: true}, p: p}
	w.object(func() {
		w.whole("format", Format)
		w.gradeLine(l)
	})
	return w.b
}

func (w *planWriter) gradeLine(l GradeLine) {
	w.text("excavation", l.Excavation)
	w.number("digging", float64(l.Digging))
	w.number("bound", float64(l.Bound))
	w.flag("proven", l.Proven)
	w.number("out_of_ground", float64(l.OutOf))
	w.number("cover", float64(l.Open.Cover))
	w.number("least_fall", float64(l.Open.Falls.Least))
	w.number("most_fall", float64(l.Open.Falls.Most))
	array(&w.encoder, "rows", l.Rows(w.p.Job.Interval), func(r LineRow) {
		w.number("station", float64(r.Station))
		w.number("ground", float64(r.Ground))
		w.number("invert", float64(r.Invert))
		w.number("cover", float64(r.Cover))
		w.number("bottom", float64(r.Bottom))
		w.number("depth", float64(r.Depth))
	})
	array(&w.encoder, "rests", l.Rests, func(r gradeline.Rule) {
		w.text("rule", string(r.Kind))
		w.textOrNull("id", r.ID)
		w.number("station", float64(r.Station))
		w.number("level", float64(r.Level))
	})
	stretch := func(s gradeline.Stretch) {
		w.number("from", float64(s.From))
		w.number("to", float64(s.To))
	}
	array(&w.encoder, "at_least_fall", merged(l.AtLeast), stretch)
	array(&w.encoder, "at_most_fall", merged(l.AtMost), stretch)
	w.key("because")
	w.list(func() {
		for _, m := range l.Because() {
			w.item()
			w.b = m.AppendJSON(w.b)
		}
	})
}
