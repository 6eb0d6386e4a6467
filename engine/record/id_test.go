package record

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestIDsOfADeviceRise: whatever the clock does and whatever the random bytes.
func TestIDsOfADeviceRise(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var last ID
		for range rapid.IntRange(2, 30).Draw(rt, "records") {
			var random [10]byte
			copy(random[:], rapid.SliceOfN(rapid.SampledFrom([]byte{0, 1, 0x7f, 0xff}), 10, 10).Draw(rt, "random"))
			id := NextID(last, rapid.Int64Range(-5, 5).Draw(rt, "time"), random)
			if id.Compare(last) <= 0 || id.String() <= last.String() {
				rt.Fatalf("NextID(%s) = %s, want a later one", last, id)
			}
			if _, f := ParseID(id.String()); f != nil {
				rt.Fatalf("NextID gives %s, which is no id: %v", id, f)
			}
			last = id
		}
	})
}

// TestClockRuns: a device's clock never stands, and is later than all it saw.
func TestClockRuns(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var c Clock
		for range 20 {
			before := c
			if rapid.Bool().Draw(rt, "hears") {
				c = c.Seen(Clock{rapid.Int64Range(0, 9).Draw(rt, "wall"), rapid.Int64Range(0, 3).Draw(rt, "count")})
			}
			seen := c
			c = c.Tick(rapid.Int64Range(0, 9).Draw(rt, "now"))
			if c.Compare(before) <= 0 || c.Compare(seen) <= 0 {
				rt.Fatalf("clock %v after %v and %v", c, before, seen)
			}
		}
	})
}

// TestStampAgainstTime: package time is the referee.
func TestStampAgainstTime(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := Stamp{rapid.Int64Range(minStamp+dayMillis, maxStamp-dayMillis).Draw(rt, "millis"), rapid.IntRange(-maxOffset, maxOffset).Draw(rt, "offset")}
		ref := time.UnixMilli(s.Millis).In(time.FixedZone("", s.Offset*60))
		want := ref.Format("2006-01-02T15:04:05.000-07:00")
		if got := s.String(); got != want {
			rt.Fatalf("Stamp%v = %s, want %s", s, got, want)
		}
		if back, ok := ParseStamp(want); !ok || back != s {
			rt.Fatalf("ParseStamp(%s) = %v %v, want %v", want, back, ok, s)
		}
	})
	for _, bad := range []string{"", "2026-02-29T00:00:00.000+00:00", "2026-13-01T00:00:00.000+00:00", "2026-05-04T24:00:00.000+00:00",
		"2026-05-04T07:10:00.000Z", "2026-05-04T07:10:00.000-00:00", "2026-05-04T07:60:00.000+00:00", "2026-05-04T07:10:00,000+00:00"} {
		if _, ok := ParseStamp(bad); ok {
			t.Errorf("ParseStamp(%q) takes it", bad)
		}
	}
}
