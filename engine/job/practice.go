package job

import (
	"math"
	"strings"

	"spadework/engine/level"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Practice is the table [practice]: how this crew works. All are bounds, the ± of
// a rectangular error.
type Practice struct {
	Cutting, Trimming  unit.Length // what the bucket and hands leave
	Leave              unit.Length // cut left on by the rough dig, 0 not told
	RodPlumb, ArmPlumb unit.Angle  // lean of the rod and of the stick, an axis
	Aiming             unit.Angle  // direction of the laser's mark
	Wind, WarmUp       unit.Grade  // shake of the beam; drift of its plane after the backsight
	Refraction         float64     // departure of the refraction coefficient from the mean air
}

// Bounds where the job tells none, of a careful crew (common practice): a smooth
// bucket leaves an inch, hands a quarter of one; a rod with a bubble leans a
// degree, a stick judged by eye two; a mark is aimed within half a degree. The
// refraction coefficient near the ground swings by a quarter (from memory).
const (
	usualCutting    = unit.Inch
	usualTrimming   = unit.Inch / 4
	usualRodPlumb   = unit.Degree
	usualArmPlumb   = 2 * unit.Degree
	usualAiming     = unit.Degree / 2
	usualRefraction = 0.25
)

// practice reads [practice].
func (d *decoder) practice(t *table) Practice {
	out := Practice{
		Cutting: usualCutting, Trimming: usualTrimming, RodPlumb: usualRodPlumb, ArmPlumb: usualArmPlumb,
		Aiming: usualAiming, Refraction: t.number("refraction", usualRefraction),
		Wind: t.accuracy("wind"), WarmUp: t.accuracy("warm_up"), Leave: t.positive("leave"),
	}
	for _, l := range []struct {
		key string
		to  *unit.Length
	}{{"cutting", &out.Cutting}, {"trimming", &out.Trimming}} {
		if v := t.notNegative(l.key); t.has(l.key) {
			*l.to = v
		}
	}
	for _, a := range []struct {
		key string
		to  *unit.Angle
	}{{"rod_plumb", &out.RodPlumb}, {"stick_plumb", &out.ArmPlumb}, {"aiming", &out.Aiming}} {
		if v := t.lean(a.key); t.has(a.key) {
			*a.to = v
		}
	}
	t.within("refraction", out.Refraction, 0, 5)
	t.done()
	return out
}

// mostLean is the widest lean a crew would tell: beyond it the word is no bound.
const mostLean = 20 * unit.Degree

// lean reads an angle from 0 to mostLean.
func (t *table) lean(key string) unit.Angle {
	s, ok := t.scalar(key, "job.kind_bearing")
	if !ok {
		return 0
	}
	v, err := t.units().Angle(s)
	t.parseFault(key, err)
	t.within(key, float64(v/unit.Degree), 0, float64(mostLean/unit.Degree))
	return v
}

// within faults a figure outside its range.
func (t *table) within(key string, v, low, high float64) {
	if v >= low && v <= high || t.r.fault != nil {
		return
	}
	t.fail(key, phrase.New("job.not_within", phrase.With("key", key), phrase.With("value", t.n.get(key).describe())),
		phrase.New("job.not_within.remedy", phrase.With("low", low), phrase.With("high", high)))
}

// chance reads a probability over 0 and under 1; absent is 0.
func (t *table) chance(key string) unit.Chance {
	v := t.number(key, 0)
	if t.has(key) && t.r.fault == nil && !(v > 0 && v < 1) {
		t.fail(key, phrase.New("job.not_within", phrase.With("key", key), phrase.With("value", t.n.get(key).describe())),
			phrase.New("job.chance.remedy"))
	}
	return unit.Chance(v)
}

// mostCost bounds costs so that a slip does not hide all else.
const mostCost = 1e9

// cost reads a figure of zero or more.
func (t *table) cost(key string) float64 {
	v := t.number(key, 0)
	t.within(key, v, 0, mostCost)
	return v
}

// sigma reads a standard error, nil where it is not told.
func (t *table) sigma(key string) *unit.Length {
	v := t.notNegative(key)
	if !t.has(key) {
		return nil
	}
	return &v
}

// boundOrSigma reads a stated accuracy: a bound, or { sigma } as the bound whose
// rectangular error has that standard deviation.
func (t *table) boundOrSigma(key string) unit.Grade {
	if n := t.n.get(key); n == nil || n.kind != tableNode {
		return t.accuracy(key)
	}
	inner, _ := t.inner(key)
	inner.need("sigma")
	out := inner.accuracy("sigma") * unit.Grade(math.Sqrt(3))
	inner.done()
	return out
}

// signedAccuracy reads an accuracy that may be under zero.
func (t *table) signedAccuracy(key string) unit.Grade {
	s, ok := t.scalar(key, "job.kind_slope")
	if !ok {
		return 0
	}
	size, minus := strings.CutPrefix(strings.Replace(strings.TrimSpace(s), "−", "-", 1), "-")
	v, err := t.units().Accuracy(size)
	t.parseFault(key, err)
	if minus {
		return -v
	}
	return v
}

// ownCheck reads check = { tilt, cone, sigma }, the laser's four-direction check
// as the instrument command works it out.
func ownCheck(t *table) (*level.LaserCheck, unit.Grade) {
	c, given := t.inner("check")
	if !given {
		return nil, 0
	}
	out := &level.LaserCheck{Tilt: c.accuracy("tilt"), Cone: c.signedAccuracy("cone"), Coned: c.has("cone")}
	c.need("tilt")
	c.need("sigma")
	sigma := c.accuracy("sigma")
	c.done()
	return out, sigma
}
