package rehearse

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// BumpDay is the reference scenario of the watch: digs on a site, a close on every
// point after every few digs, one bump at a random time. All in SI and hours.
type BumpDay struct {
	Size      [2]float64 // of the site
	Digs      int
	PerClose  int     // digs between closes
	Hours     float64 // of the day
	Points    int     // closing points, 1 to 4
	Reading   float64 // sigma
	Tolerance float64 // what the beam's part of an error may be
	Height    float64 // of a bump, a standard deviation
	Tilt      float64 // likewise, an axis
	Twist     float64 // likewise, radians
	Gradient  float64 // dialled, of twist days
	Plane     float64 // sigma of the laser's plane, an axis
	Known     float64 // sigma of a benchmark
	Kind      Bumped
	Blunders  bool // misreads, and now and then a moved benchmark

	Alarm unit.Chance // from which the watch itself takes numbers, 0 its own
}

// Bumped is what a bump does.
type Bumped string

// The four kinds.
const (
	BumpHeight Bumped = "height only"
	BumpTwist  Bumped = "height and twist, dialled 2 %"
	BumpTilt   Bumped = "height and tilt"
	BumpSettle Bumped = "settling"
)

// BumpKinds are all of them.
func BumpKinds() []Bumped { return []Bumped{BumpTilt, BumpHeight, BumpTwist, BumpSettle} }

// ReferenceBumps is the scenario that docs/trust.md tells: readings of 2 mm, ±12 mm,
// 24 digs on 60 × 40 m in eight hours, a close after every four, 10 mm and 40″ an
// axis; a twist of 1.5° and settling of as much as the jump in three hours.
func ReferenceBumps() BumpDay {
	const second = math.Pi / 180 / 3600
	return BumpDay{
		Size: [2]float64{60, 40}, Digs: 24, PerClose: 4, Hours: 8, Points: 3, Reading: 0.002, Tolerance: 0.012,
		Height: 0.010, Tilt: 40 * second, Twist: 1.5 * math.Pi / 180, Gradient: 0.02, Plane: 1e-4 / math.Sqrt(3), Known: 0.002, Kind: BumpTilt,
	}
}

// Blunders of a day that has them: chances of a misread, and of a benchmark moved
// that day, with the standard deviations.
const (
	misreadChance = 1.0 / 500
	misreadBy     = 0.05
	movedChance   = 1.0 / 50
	movedBy       = 0.02
	settleHours   = 3
)

// log is a day without readings: what the watch is told before.
func (s BumpDay) log() watch.Log {
	l := watch.Log{Setup: watch.Setup{At: geom.Point{X: s.Size[0] / 2, Y: s.Size[1] / 2}, Tilt: unit.Grade(s.Plane)}}
	b := watch.Bump{Kind: watch.HeightJump, Rate: 1 / s.Hours, Height: unit.Length(s.Height)}
	switch s.Kind {
	case BumpTwist:
		b.Kind, b.Twist = watch.TwistJump, unit.Angle(s.Twist)
		l.Setup.Gradient = geom.Vector{X: s.Gradient}
	case BumpTilt:
		b.Kind, b.Tilt = watch.TiltJump, unit.Grade(s.Tilt)
	case BumpSettle:
		l.Habits.SettleRate, l.Habits.SettleBy, l.Habits.SettleTilt = b.Rate, b.Height/settleHours, unit.Grade(s.Tilt/settleHours)
	}
	if s.Kind != BumpSettle {
		l.Habits.Bumps = []watch.Bump{b}
	}
	if s.Blunders {
		l.Habits.Misread, l.Habits.MisreadBy = misreadChance, misreadBy
		l.Habits.Moved, l.Habits.MovedBy = movedChance/s.Hours/float64(s.Points), movedBy
	}
	for i := range s.Points {
		l.Points = append(l.Points, watch.Point{ID: string(rune('A' + i)), At: s.corner(i), Known: true, Sigma: unit.Length(s.Known)})
	}
	return l
}

// corner is a closing point: no three of them in a line.
func (s BumpDay) corner(i int) geom.Point {
	return [...]geom.Point{{X: -5, Y: -5}, {X: s.Size[0] + 5, Y: s.Size[1] + 5}, {X: s.Size[0] + 5, Y: -5}, {X: -5, Y: s.Size[1] + 5}}[i]
}

// bump is what nature does to a day's beam.
type bump struct {
	at     float64 // hours; never if over the day
	settle bool
	state  [3]float64
}

func (b bump) over(v geom.Vector, at float64) float64 {
	if at < b.at {
		return 0
	}
	share := 1.0
	if b.settle {
		share = math.Min((at-b.at)/settleHours, 1)
	}
	return share * (b.state[0] + float64(b.state[1]*v.X) + float64(b.state[2]*v.Y))
}

// bump draws one.
func (s BumpDay) bump(r *Rand) bump {
	b := bump{at: r.Between(0, s.Hours), settle: s.Kind == BumpSettle}
	b.state[0] = s.Height * r.Normal()
	switch s.Kind {
	case BumpTilt, BumpSettle:
		b.state[1], b.state[2] = s.Tilt*r.Normal(), s.Tilt*r.Normal()
	case BumpTwist:
		// Turned by an angle, not its first order.
		sin, cos := math.Sincos(s.Twist * r.Normal())
		b.state[1], b.state[2] = s.Gradient*(cos-1), s.Gradient*sin
	}
	return b
}

// Day is a day's log, and which digs the beam really took out. Unbumped days have
// no bump; all else is drawn alike.
func (s BumpDay) Day(r *Rand, bumped bool) (watch.Log, []bool) {
	l := s.log()
	b := s.bump(r)
	if !bumped {
		b.at = math.Inf(1)
	}
	tilt := [2]float64{s.Plane * r.Normal(), s.Plane * r.Normal()}
	off := make([]float64, s.Points)
	for i := range off {
		off[i] = s.Known * r.Normal()
	}
	moved, movedAt, movedOff := -1, 0.0, 0.0
	if s.Blunders && r.Uniform() < movedChance {
		moved, movedAt, movedOff = r.Below(s.Points), r.Between(0, s.Hours), movedBy*r.Normal()
	}
	read := func(at float64) {
		for i, p := range l.Points {
			v := p.At.Sub(l.Setup.At)
			y := float64(tilt[0]*v.X) + float64(tilt[1]*v.Y) + b.over(v, at) - off[i] + s.Reading*r.Normal()
			if i == moved && at > movedAt {
				y -= movedOff
			}
			if s.Blunders && r.Uniform() < misreadChance {
				y += misreadBy * r.Normal()
			}
			l.Readings = append(l.Readings, watch.Reading{At: watch.Hours(at), Point: p.ID, Off: unit.Length(y), Sigma: unit.Length(s.Reading)})
		}
	}
	read(0)
	pace := s.Hours / float64(s.Digs)
	var bad []bool
	for i := range s.Digs {
		d := watch.Dig{ID: string(rune('a' + i)), At: geom.Point{X: r.Between(0, s.Size[0]), Y: r.Between(0, s.Size[1])}}
		dug := (float64(i) + 0.5) * pace
		d.Dug, d.Band = watch.Hours(dug), beam.Band{Above: unit.Length(s.Tolerance), Below: unit.Length(s.Tolerance)}
		l.Digs = append(l.Digs, d)
		bad = append(bad, math.Abs(b.over(d.At.Sub(l.Setup.At), dug)) > s.Tolerance)
		if (i+1)%s.PerClose == 0 {
			read(float64(i+1) * pace)
		}
	}
	return l, bad
}
