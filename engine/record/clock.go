package record

import "cmp"

// Clock is a hybrid logical clock: the largest time seen, milliseconds since
// 1970 UTC, and a count of records at it. It never runs back on a device and
// is later than that of every cause (Kulkarni et al., Logical Physical Clocks,
// 2014, figure 5).
type Clock struct {
	Wall  int64
	Count int64
}

// Tick is the clock of a device's next record, made at now.
func (c Clock) Tick(now int64) Clock {
	if now > c.Wall {
		return Clock{Wall: now}
	}
	return Clock{c.Wall, c.Count + 1}
}

// Seen is the clock after a record of another device was received: the later
// of the two.
func (c Clock) Seen(other Clock) Clock {
	if other.Compare(c) > 0 {
		return other
	}
	return c
}

// Compare orders clocks.
func (c Clock) Compare(o Clock) int {
	return cmp.Or(cmp.Compare(c.Wall, o.Wall), cmp.Compare(c.Count, o.Count))
}
