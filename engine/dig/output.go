package dig

import "spadework/engine/unit"

// Output is what a digging machine moves, by its assumptions.
type Output struct {
	Bucket         unit.Volume // heaped
	Fill           float64     // share of the bucket that is full
	CyclesPerHour  float64
	Factor         float64 // for depth and swing
	MinutesPerHour float64 // worked
}

// Loose is the loose volume an hour.
func (o Output) Loose() unit.Volume {
	return unit.Volume(float64(o.Bucket) * o.Fill * o.CyclesPerHour * o.Factor * o.MinutesPerHour / 60)
}

// Untrimmed is what a textbook gives small machines in easy ground that do not trim
// (Nunnally, from memory).
func Untrimmed(bucket unit.Volume) Output {
	return Output{Bucket: bucket, Fill: 0.95, CyclesPerHour: 250, Factor: 1, MinutesPerHour: 50}
}

// Digging says how hard ground digs: by which published rate.
type Digging string

// The kinds of ground that rates were read for, and those without one. The zero
// Digging is not told: the rates of both hold.
const (
	DigsAsSoil Digging = "soil"
	DigsAsClay Digging = "clay"
	DigsAsRock Digging = "rock" // no rate was read
)

// Pace is the bank volume an hour that a bucket of RatedBucket digs and trims, from
// the slowest to the fastest.
type Pace struct{ Least, Most unit.Volume }

// RatedBucket is the bucket of the published rates.
const RatedBucket unit.Volume = 0.3

// Pace of small buckets: sand or soil 6.7 to 9.9 m³ an hour, clay 3.3 to 5.2 (public
// estimating wiki, read); false where none was read.
func (d Digging) Pace() (Pace, bool) {
	switch d {
	case DigsAsSoil:
		return Pace{6.7, 9.9}, true
	case DigsAsClay:
		return Pace{3.3, 5.2}, true
	case "":
		return Pace{3.3, 9.9}, true
	}
	return Pace{}, false
}

// Hours is how long digging and trimming takes, by the range of the published rates,
// in proportion to the bucket. Nobody can tell it closer beforehand.
// Untrimmed is the textbook's figure, which leaves out trimming to grade.
type Hours struct{ Least, Most, Untrimmed float64 }

// HoursOf is the time of a volume in the bank with a bucket; the zero Hours where
// one is not known or no rate was read for the material.
func HoursOf(bank, bucket unit.Volume, m Material) Hours {
	pace, ok := m.Digs.Pace()
	if !(bucket > 0) || !ok {
		return Hours{}
	}
	size := float64(bucket / RatedBucket)
	return Hours{
		Least:     float64(bank/pace.Most) / size,
		Most:      float64(bank/pace.Least) / size,
		Untrimmed: float64(m.Loose(bank) / Untrimmed(bucket).Loose()),
	}
}
