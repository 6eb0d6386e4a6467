package dig

import (
	"sort"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// run is one line of a strip or trench, or of a field, while it is resolved.
type run struct {
	x      *Excavation
	site   Site
	line   alignment
	breaks []float64 // stations where parts end: points, steps, inverts
	steps  []float64 // stations of x.Steps
	flow   flowline  // ByInvert only
	notes  []phrase.Message
}

// note adds a finding.
func (r *run) note(m phrase.Message) { r.notes = append(r.notes, m) }

// checkSteps judges the steps and snaps their stations.
func (r *run) checkSteps() error {
	for i, s := range r.x.Steps {
		at, err := r.line.inside(s.Station, item("steps", i, "station"))
		if err != nil {
			return err
		}
		if at <= 0 || at >= r.line.length() {
			return fault(item("steps", i, "station"), "dig.step_at_end", phrase.With("value", s.Station))
		}
		if i > 0 && !(at > r.steps[i-1]) {
			return fault(item("steps", i, "station"), "dig.station_order",
				phrase.With("value", s.Station), phrase.With("last", unit.Station(r.steps[i-1])))
		}
		if s.Drop == 0 || !finite(float64(s.Drop)) {
			return fault(item("steps", i, "drop"), "dig.step_drop", phrase.With("value", s.Drop))
		}
		if t := r.x.Tolerance; t != nil && t.NoReverse && float64(s.Drop)*float64(r.x.Fall) < 0 {
			return conflict(item("steps", i, "drop"), "dig.step_reverse",
				phrase.With("value", s.Drop), phrase.With("fall", r.x.Fall))
		}
		r.steps = append(r.steps, at)
	}
	return nil
}

// setBreaks gathers the stations where the plane changes.
func (r *run) setBreaks() {
	all := append([]float64(nil), r.line.at...)
	all = append(all, r.steps...)
	for _, k := range r.flow.knots {
		all = append(all, k.station)
	}
	sort.Float64s(all)
	for i, s := range all {
		if i == 0 || s != all[i-1] {
			r.breaks = append(r.breaks, max(0, min(s, r.line.length())))
		}
	}
}

// stepsUpTo is how many steps lie at or before a station.
func (r *run) stepsUpTo(s float64) int {
	return sort.Search(len(r.steps), func(i int) bool { return r.steps[i] > s })
}

// drop is what the first n steps lower the run together.
func (r *run) drop(n int) unit.Length {
	var sum unit.Length
	for _, s := range r.x.Steps[:n] {
		sum += s.Drop
	}
	return sum
}

// addSteps adds the terms of the steps that lie between a place after the first
// n steps and one after the first m.
func (r *run) addSteps(t *Trace, n, m int) {
	for i := n; i < m; i++ {
		t.add(r.stepLabel(i), -r.x.Steps[i].Drop)
	}
	for i := n - 1; i >= m; i-- {
		t.add(r.stepLabel(i), r.x.Steps[i].Drop)
	}
}

func (r *run) stepLabel(i int) phrase.Message {
	return phrase.New("dig.term.step", phrase.With("station", unit.Station(r.steps[i])))
}

// leveller tells the trace and the rise of a part that starts at a station.
type leveller func(from float64) (Trace, unit.Grade)

// leveller of the rule of the run. bands are its parts' outlines.
func (r *run) leveller(bands []geom.Ring) (leveller, error) {
	switch r.x.Bottom.Rule {
	case ByInvert:
		return r.invertLevels, r.noteCover()
	case ByCover:
		return r.alongGround()
	case BelowGround:
		if r.x.Fall != 0 {
			return r.alongGround()
		}
		return r.lowestGround(bands)
	}
	return r.fixedLevels, nil
}

// fixedLevels counts from the first point.
func (r *run) fixedLevels(from float64) (Trace, unit.Grade) {
	t := r.x.fixedTrace()
	addFall(&t, r.x.rise(), 0, unit.Station(from))
	r.addSteps(&t, 0, r.stepsUpTo(from))
	r.x.addLayers(&t)
	return t, r.x.rise()
}

// invertLevels counts from the nearest invert behind.
func (r *run) invertLevels(from float64) (Trace, unit.Grade) {
	t, g := r.invertTrace(from)
	if r.x.Pipe != nil {
		t.add(phrase.New("dig.term.wall"), -r.x.Pipe.Wall)
	}
	r.x.addLayers(&t)
	return t, g
}

// invertTrace is the flow line itself just after a station.
func (r *run) invertTrace(s float64) (Trace, unit.Grade) {
	k, z, g := r.flow.after(s)
	label := phrase.New("dig.term.invert", phrase.With("station", unit.Station(k.station)))
	if !r.x.Chosen.IsZero() {
		label = phrase.New("dig.term.chosen", phrase.With("station", unit.Station(k.station)), phrase.With("chosen", r.x.Chosen))
	}
	t := startTrace(r.x.Words, label, z)
	addFall(&t, g, unit.Station(k.station), unit.Station(s))
	return t, g
}

// lowestGround is level between steps, as high as every part's depth under the
// lowest ground on its own outline allows.
func (r *run) lowestGround(bands []geom.Ring) (leveller, error) {
	from := r.x.Bottom.From
	g, err := r.site.ground(from)
	if err != nil {
		return nil, err
	}
	var low float64
	var least unit.Length
	governs := 0
	for k, ring := range bands {
		z, err := lowest(g, from, ring)
		if err != nil {
			return nil, err
		}
		n := r.stepsUpTo(r.breaks[k])
		if base := unit.Length(z) + r.drop(n); k == 0 || base < least {
			least, low, governs = base, z, n
		}
	}
	return func(s float64) (Trace, unit.Grade) {
		t := r.x.groundTrace(lowestLabel(from), low)
		r.addSteps(&t, governs, r.stepsUpTo(s))
		r.x.addLayers(&t)
		return t, 0
	}, nil
}

// alongGround is the highest line of the run's fall that keeps the depth or
// cover all along it.
func (r *run) alongGround() (leveller, error) {
	at, err := r.governing()
	if err != nil {
		return nil, err
	}
	from := r.x.Bottom.From
	return func(s float64) (Trace, unit.Grade) {
		t := r.x.groundTrace(stationLabel(from, at.station), at.z)
		addFall(&t, r.x.rise(), unit.Station(at.station), unit.Station(s))
		r.addSteps(&t, at.steps, r.stepsUpTo(s))
		r.x.addLayers(&t)
		return t, r.x.rise()
	}, nil
}

// groundLabel names a ground.
func groundLabel(from Reference) phrase.Message {
	if from == Finished {
		return phrase.New("dig.term.finished")
	}
	return phrase.New("dig.term.existing")
}

// lowestLabel names the lowest ground on an outline.
func lowestLabel(from Reference) phrase.Message {
	return phrase.New("dig.term.lowest", phrase.With("ground", groundLabel(from)))
}

// stationLabel names the ground at a station.
func stationLabel(from Reference, s float64) phrase.Message {
	return phrase.New("dig.term.ground_at",
		phrase.With("ground", groundLabel(from)), phrase.With("station", unit.Station(s)))
}
