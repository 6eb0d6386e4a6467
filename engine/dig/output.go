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

// SlowPerBucket is bank volume an hour for each volume of bucket where a small
// machine trims to grade in hard ground: a bucket of 0.3 m³ digs 3.3 m³ an hour in
// clay (public estimating wiki, read).
const SlowPerBucket = 3.3 / 0.3

// Fast is what a textbook gives small machines in easy ground, without trimming
// (Nunnally, from memory).
func Fast(bucket unit.Volume) Output {
	return Output{Bucket: bucket, Fill: 0.95, CyclesPerHour: 250, Factor: 1, MinutesPerHour: 50}
}

// Hours is how long digging takes, between the textbook's figure and that of
// trimming to grade. Nobody can tell it closer beforehand.
type Hours struct{ Least, Most float64 }

// HoursOf is the time of a volume in the bank with a bucket; the zero Hours where
// one is not known.
func HoursOf(bank, bucket unit.Volume, m Material) Hours {
	if !(bucket > 0) {
		return Hours{}
	}
	return Hours{
		Least: float64(m.Loose(bank) / Fast(bucket).Loose()),
		Most:  float64(bank) / (SlowPerBucket * float64(bucket)),
	}
}
