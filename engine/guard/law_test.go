package guard

import (
	"encoding/json"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/record"
	"spadework/engine/unit"
)

// randomDay lets two phones work and sync or not.
func randomDay(t testing.TB, rt *rapid.T, laser string) *crew {
	c := newCrew(t, yardPlan(t, laser, ""), "a", "b")
	s := c.add(c.phones[0], setup("A1"))
	c.sync()
	for i := range rapid.IntRange(1, 16).Draw(rt, "records") {
		ph := c.phones[rapid.IntRange(0, 1).Draw(rt, "phone")]
		switch rapid.IntRange(0, 6).Draw(rt, "kind") {
		case 0:
			c.add(ph, event(rapid.SampledFrom([]record.Kind{record.KindAlarm, record.KindStopped, record.KindBattery}).Draw(rt, "event")))
		case 1, 2, 3:
			point := rapid.SampledFrom([]string{"BM1", "BM2", "BM3"}).Draw(rt, "point")
			c.add(ph, closeOn(s, point, unit.Length(rapid.SampledFrom([]float64{0, 0.001, -0.003, 0.02}).Draw(rt, "off"))))
		default:
			c.add(ph, shot(s, i%12+1, 0))
		}
		if rapid.Bool().Draw(rt, "sync") {
			c.sync()
		}
	}
	return c
}

func beamsOf(rt *rapid.T, c *crew, records []record.Record) ([]Beam, string) {
	out, f := Beams(c.p, record.Replay(record.Input{Records: records}), "")
	if f != nil {
		rt.Fatal(f)
	}
	text, err := json.Marshal(out)
	if err != nil {
		rt.Fatal(err)
	}
	return out, string(text)
}

// TestArrivalOrderMeansNothing: law 1. Shuffled and doubled records have one verdict.
func TestArrivalOrderMeansNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := randomDay(t, rt, levelLaser)
		all := c.records()
		_, want := beamsOf(rt, c, all)
		some := slices.Clone(all)
		for i := len(some) - 1; i > 0; i-- {
			j := rapid.IntRange(0, i).Draw(rt, "swap")
			some[i], some[j] = some[j], some[i]
		}
		if _, got := beamsOf(rt, c, append(some, some[:len(some)/2]...)); got != want {
			rt.Fatalf("arrived otherwise:\n%s\nwant\n%s", got, want)
		}
	})
}

// TestWatchGivesNothing: law 2. A tag has numbers here only where the log gives
// them, a dig that the log holds for unclosed is never told as closed, and one that
// it calls good hangs on a close that the watch has seen.
func TestWatchGivesNothing(t *testing.T) {
	numbers := [2]int{}
	rapid.Check(t, func(rt *rapid.T) {
		c := randomDay(t, rt, levelLaser)
		beams, _ := beamsOf(rt, c, c.records())
		for _, b := range beams {
			if b.Numbers && (b.Tag.State != record.TagLive || !b.Verdict.State.Numbers()) {
				rt.Fatalf("%s has numbers, the log says %s, the watch %s", b.Tag.Tag, b.Tag.State, b.Verdict.State)
			}
			if b.Numbers {
				numbers[0]++
			} else {
				numbers[1]++
			}
			for i, d := range b.Digs {
				if data := d.data(b.Log.Digs[i]); data.Closed && !d.Point.Closed || d.Point.Verdict == record.Good && !d.Closed {
					rt.Fatalf("%s is %s and closed: %v in the log, here %v", d.Excavation, d.Point.Verdict, d.Point.Closed, d.Closed)
				}
			}
		}
	})
	if numbers[0] == 0 || numbers[1] == 0 {
		t.Errorf("numbers %d times and not %d times: the law was not tried both ways", numbers[0], numbers[1])
	}
}

// TestFastClocksMeanNothing: law 3. A clock that is off all day changes no verdict.
func TestFastClocksMeanNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := randomDay(t, rt, levelLaser)
		want, _ := beamsOf(rt, c, c.records())
		off := rapid.Int64Range(-1e8, 1e8).Draw(rt, "off")
		got, _ := beamsOf(rt, c, retimed(c.records(), off))
		for i := range want {
			if got[i].State != want[i].State || got[i].Numbers != want[i].Numbers || got[i].Verdict.Out != want[i].Verdict.Out {
				rt.Fatalf("%s %v %g with other clocks, %s %v %g before", got[i].State, got[i].Numbers, got[i].Verdict.Out, want[i].State, want[i].Numbers, want[i].Verdict.Out)
			}
		}
	})
}

// retimed sets every clock off by as much.
func retimed(in []record.Record, off int64) []record.Record {
	out := slices.Clone(in)
	last := map[string]record.Hash{}
	for i := range out {
		r := &out[i]
		r.Clock.Wall = max(0, r.Clock.Wall+off)
		r.Time.Millis += off
		if r.Seq > 1 {
			r.Previous = last[r.Device]
		}
		last[r.Device] = r.Hash()
	}
	return out
}

// TestAnUnseenBumpTakesNumbers: law 4. A phone that nobody heard from wrote of a
// bump: no beam keeps its numbers, whatever its clock shows.
func TestAnUnseenBumpTakesNumbers(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := randomDay(t, rt, levelLaser)
		dead := &phone{name: "dead", off: rapid.SampledFrom([]int64{-9e7, 0, 9e7}).Draw(rt, "clock"), seen: map[string]record.ID{}}
		c.add(dead, event(record.KindAlarm))
		beams, _ := beamsOf(rt, c, append(c.records(), dead.made...))
		for _, b := range beams {
			if b.Numbers {
				rt.Fatalf("%s has numbers although a phone wrote of an alarm", b.Tag.Tag)
			}
		}
	})
}
