package trust

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Change is something a crew can do about a number.
type Change string

// The changes.
const (
	SecondBacksight Change = "second_backsight" // read one more benchmark
	NearerSetup     Change = "nearer_setup"     // laser half way to the dig
	FinerBand       Change = "finer_band"       // receiver at its fine setting
	CheckLaser      Change = "check_laser"      // four directions, and adjusted
	CheckMachine    Change = "check_machine"    // depth measuring against a rod at that reach
	FinerTrimming   Change = "finer_trimming"   // trimmed twice as fine
)

// FineBand is the full dead band of a receiver at its fine setting, about ±1 mm
// (common practice).
const FineBand = 2 * unit.Millimetre

// CheckDistance is how far off the rod of a four-direction check stands, and
// checkRounds how often it is read (common practice).
const (
	CheckDistance = 30 * unit.Metre
	checkRounds   = 4
)

// machineChecks is how many rods a check of the depth measuring takes.
const machineChecks = 3

// Improvement is what a change would make of a number.
type Improvement struct {
	Change  Change
	Of      string // benchmark to read, "" for none
	Outlook Outlook
	Sigma   unit.Length // of the finished bottom
}

// Improvements are the changes that would make the finished bottom of a number
// better known, best first. reach are the points that the set-up can read;
// reading is the standard deviation of a backsight.
func (s *Site) Improvements(n Number, reach []string, reading unit.Length) []Improvement {
	now := s.Belief(n.Setup).At(n.At, n.Rod, n.Way)
	if !now.Known {
		return nil
	}
	var out []Improvement
	try := func(c Change, of string, o Outlook) {
		if o.Known && o.Final < now.Final*(1-1e-6) {
			out = append(out, Improvement{Change: c, Of: of, Outlook: o, Sigma: o.Final})
		}
	}
	if of, o := s.secondBacksight(n, reach, reading); of != "" {
		try(SecondBacksight, of, o)
	}
	try(NearerSetup, "", s.nearer(n))
	try(CheckLaser, "", s.checked(n, reading))
	for _, c := range waysOf(n.Way, reading) {
		better := n
		better.Way = c.way
		try(c.change, "", s.Belief(n.Setup).At(n.At, n.Rod, better.Way))
	}
	slices.SortStableFunc(out, func(a, b Improvement) int {
		return cmp.Or(cmp.Compare(a.Sigma, b.Sigma), cmp.Compare(a.Change, b.Change))
	})
	return out
}

// changedWay is a way after a change of equipment.
type changedWay struct {
	change Change
	way    Way
}

// waysOf are the better ways of one.
func waysOf(w Way, reading unit.Length) []changedWay {
	var out []changedWay
	if w.DeadBand > FineBand {
		fine := w
		fine.DeadBand = FineBand
		out = append(out, changedWay{FinerBand, fine})
	}
	if w.Guidance == beam.SensorsBeam {
		checked := w
		checked.Depth = reading / unit.Length(math.Sqrt(machineChecks))
		return append(out, changedWay{CheckMachine, checked})
	}
	fine := w
	fine.Trimming /= 2
	return append(out, changedWay{FinerTrimming, fine})
}

// secondBacksight is the unread point that helps a number most.
func (s *Site) secondBacksight(n Number, reach []string, reading unit.Length) (string, Outlook) {
	best, id := Outlook{}, ""
	for _, p := range reach {
		if slices.ContainsFunc(s.sights, func(r Sight) bool { return r.Setup == n.Setup && r.Point == p }) {
			continue
		}
		more := s.again(func(Control, []Setup) {})
		// What it will read is not known; what it is expected to read moves no mean.
		r := Sight{Setup: n.Setup, Point: p, Sigma: reading, Off: s.expected(n.Setup, p)}
		if f := more.Read(r); f != nil {
			continue
		}
		o := more.Belief(n.Setup).At(n.At, n.Rod, n.Way)
		if id == "" || o.Final < best.Final {
			best, id = o, p
		}
	}
	return id, best
}

// expected is what a rod on a point is expected to read off the nominal beam.
func (s *Site) expected(setup, point string) unit.Length {
	j := slices.IndexFunc(s.control.Points, func(p Point) bool { return p.ID == point })
	if j < 0 {
		return 0
	}
	return s.Belief(setup).Beam(s.control.Points[j].At).Mean - s.Point(point).Mean
}

// nearer is the number from half way between laser and dig.
func (s *Site) nearer(n Number) Outlook {
	moved := s.again(func(_ Control, setups []Setup) {
		for i, u := range setups {
			if u.ID == n.Setup {
				setups[i].At = geom.Point{X: (u.At.X + n.At.X) / 2, Y: (u.At.Y + n.At.Y) / 2}
			}
		}
	})
	return moved.Belief(n.Setup).At(n.At, n.Rod, n.Way)
}

// checked is the number after the laser was checked in four directions and
// adjusted: what is left is what the check cannot see.
func (s *Site) checked(n Number, reading unit.Length) Outlook {
	sigma := CheckSigma(reading, CheckDistance) / unit.Grade(math.Sqrt(checkRounds))
	checked := s.again(func(_ Control, setups []Setup) {
		for i, u := range setups {
			if u.ID == n.Setup {
				setups[i].Prior.Tilt = min(u.Prior.Tilt, sigma)
			}
		}
	})
	return checked.Belief(n.Setup).At(n.At, n.Rod, n.Way)
}

// again is the site with something changed and its rods read anew.
func (s *Site) again(change func(Control, []Setup)) *Site {
	g := s.control
	g.Points = slices.Clone(g.Points)
	setups := slices.Clone(s.setups)
	change(g, setups)
	out, f := NewSite(g, setups)
	for _, r := range s.sights {
		if f == nil {
			f = out.Read(r)
		}
	}
	if f != nil {
		panic("trust: " + f.Error()) // the same figures went through before
	}
	return out
}

// Text is the change in words.
func (i Improvement) Text() phrase.Message {
	return phrase.New(phrase.Key("trust.change_"+string(i.Change)), phrase.With("of", i.Of))
}
