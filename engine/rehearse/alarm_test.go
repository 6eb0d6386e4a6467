package rehearse

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/watch"
)

// bumpDays is how many days of each sort a row of docs/trust.md takes; every change
// runs a part of them. SPADEWORK_DAYS takes as many as it says.
func bumpDays(long, short int) int {
	if days, err := strconv.Atoi(os.Getenv("SPADEWORK_DAYS")); err == nil && days > 0 {
		return days
	}
	if os.Getenv("SPADEWORK_LONG") != "" {
		return long
	}
	return short
}

func escapes(e Escapes) string {
	return fmt.Sprintf("| %s | %.3g | %.2f %% | %.1f | %.2f %% |", e.Method, e.Limit, 100*e.False, e.Days, 100*e.Bottoms)
}

func watched(t *testing.T, s BumpDay, days int) []Escapes {
	t.Helper()
	tooSlowInThePhone(t)
	out, f := s.Watched(seed, days, 0.01)
	if f != nil {
		t.Fatal(f)
	}
	t.Logf("%s, %d points, sd %g, tolerance %g: %d bumped days, %d bad bottoms", s.Kind, s.Points, s.Reading, s.Tolerance, days, out[0].Bad)
	for _, e := range out {
		t.Log(escapes(e))
	}
	return out
}

// bestChart is the least share of bad bottoms that a chart of 1 % lets through.
func bestChart(out []Escapes) float64 {
	best := 1.0
	for _, e := range out {
		if strings.HasPrefix(string(e.Method), "Shewhart") || strings.HasPrefix(string(e.Method), "CUSUM") || strings.HasPrefix(string(e.Method), "EWMA") {
			best = min(best, e.Bottoms)
		}
	}
	return best
}

// TestThreePointsLetLittleThrough: the reference scenario, 1 % of bad bottoms at
// most, and in the long run a tenth of the best chart.
func TestThreePointsLetLittleThrough(t *testing.T) {
	out := watched(t, ReferenceBumps(), bumpDays(4000, 250))
	if !(out[0].Bottoms <= 0.01) || !(out[6].Bottoms <= 0.01) || !(out[7].Bottoms <= 0.01) {
		t.Errorf("%.2f %% of bad bottoms escape, %.2f %% as shipped, %.2f %% by odds, want 1 %% at most", 100*out[0].Bottoms, 100*out[6].Bottoms, 100*out[7].Bottoms)
	}
	if !(out[0].False <= 0.03) {
		t.Errorf("%.1f %% of unbumped days are flagged, want about 1 %%", 100*out[0].False)
	}
	t.Logf("the odds let through of what the best chart does: %.2f", out[7].Bottoms/bestChart(out))
}

// TestFewerPoints: two points, and one, which sees no tilt about itself.
func TestFewerPoints(t *testing.T) {
	three := watched(t, ReferenceBumps(), bumpDays(4000, 100))
	for _, n := range []int{2, 1} {
		s := ReferenceBumps()
		s.Points = n
		out := watched(t, s, bumpDays(4000, 100))
		t.Logf("the odds let through of what the best chart does: %.2f", out[7].Bottoms/bestChart(out))
		if n == 1 && !(out[0].Bottoms > three[0].Bottoms) {
			t.Error("one point tells as much as three")
		}
	}
}

// TestKindsOfBumps with three points.
func TestKindsOfBumps(t *testing.T) {
	for _, k := range BumpKinds()[1:] {
		t.Run(strings.ReplaceAll(string(k), " ", "_"), func(t *testing.T) {
			s := ReferenceBumps()
			s.Kind = k
			out := watched(t, s, bumpDays(2000, 100))
			if !(out[0].Bottoms <= 0.02) {
				t.Errorf("%.2f %% of bad bottoms escape", 100*out[0].Bottoms)
			}
		})
	}
}

// TestBlunders: misreads and a moved benchmark mixed in.
func TestBlunders(t *testing.T) {
	for _, n := range []int{3, 2} {
		s := ReferenceBumps()
		s.Points, s.Blunders = n, true
		out := watched(t, s, bumpDays(1000, 40))
		if n == 3 && !(out[0].Bottoms <= 0.05) {
			t.Errorf("%.2f %% of bad bottoms escape", 100*out[0].Bottoms)
		}
	}
}

// TestOtherSites is the table over readings, tolerances and points.
func TestOtherSites(t *testing.T) {
	if os.Getenv("SPADEWORK_LONG") == "" {
		t.Skip("minutes; the reference scenario runs on every change")
	}
	for _, sd := range []float64{0.001, 0.002, 0.003} {
		for _, tolerance := range []float64{0.006, 0.012, 0.015} {
			for n := 1; n <= 4; n++ {
				s := ReferenceBumps()
				s.Points, s.Reading, s.Tolerance = n, sd, tolerance
				out := watched(t, s, 300)
				t.Logf("TABLE | %g mm | ±%g mm | %d | %.2f %% | %.2f %% | %.2f %% |", 1000*sd, 1000*tolerance, n,
					100*out[7].Bottoms, 100*bestChart(out), 100*out[5].Bottoms)
			}
		}
	}
}

// TestADeafWatchIsFound: a watch told that this laser only jumps in height lets more
// of tilted bottoms through than one told the truth, by the same alarm.
func TestADeafWatchIsFound(t *testing.T) {
	tooSlowInThePhone(t)
	r := NewRand(5)
	honest, deaf := 0, 0
	for range 120 {
		l, bad := ReferenceBumps().Day(r, true)
		wrong := l
		wrong.Habits.Bumps = []watch.Bump{{Kind: watch.HeightJump, Rate: 0.125, Height: 0.01}}
		for k, one := range []watch.Log{l, wrong} {
			v, f := watch.Judge(one, watch.DefaultLimit)
			if f != nil {
				t.Fatal(f)
			}
			for i, is := range bad {
				if is && v.Risks[i].Out < 0.5 {
					honest, deaf = honest+1-k, deaf+k
				}
			}
		}
	}
	if !(deaf > 2*honest) {
		t.Errorf("bad bottoms called rather good than bad: %d by a watch told the truth, %d by one told height only", honest, deaf)
	}
}

// TestRisksHappen: over bumped days the chances of single digs add up to the digs
// that were out. Days of one bump each, judged by a watch that takes a bump as one
// of several things a day may hold, so that only digs of a sure alarm count.
func TestRisksHappen(t *testing.T) {
	tooSlowInThePhone(t)
	r := NewRand(11)
	var claims []Claim
	for day := range bumpDays(4000, 300) {
		s := ReferenceBumps()
		// A bump a day by a Poisson process: none with a chance of e⁻¹; days of two are
		// what the scenario does not draw, so the rate is made small.
		const chance = 0.1
		l, bad := s.Day(r, r.Uniform() < chance/(1+chance))
		for i := range l.Habits.Bumps {
			l.Habits.Bumps[i].Rate = chance / s.Hours
		}
		v, f := watch.Judge(l, watch.DefaultLimit)
		if f != nil {
			t.Fatal(f)
		}
		for i, x := range v.Risks {
			claims = append(claims, Claim{day, 1 - float64(x.Out), !bad[i]})
		}
	}
	for _, g := range Calibrate(claims, 20)[:1] {
		t.Logf("claimed in %.4f, happened %.4f, z %+.2f", g.Claimed, g.Happened, g.Z)
		if !(g.Z > -4 && g.Z < 4) {
			t.Errorf("digs at most risk: claimed in %.4f, happened %.4f, z %.1f", g.Claimed, g.Happened, g.Z)
		}
	}
}

// TestBumpsByHand: a bump is there from its time on, settling grows to it.
func TestBumpsByHand(t *testing.T) {
	l, _ := ReferenceBumps().Day(NewRand(1), false)
	if len(l.Readings) != 21 || len(l.Digs) != 24 || l.Digs[0].Band != (beam.Band{Above: 0.012, Below: 0.012}) {
		t.Fatalf("a day of %d readings, %d digs", len(l.Readings), len(l.Digs))
	}
	v := l.Digs[0].At.Sub(l.Digs[0].At)
	b := bump{at: 2, state: [3]float64{0.01, 0, 0}}
	slow := bump{at: 2, settle: true, state: [3]float64{0.012, 0, 0}}
	for _, c := range []struct{ got, want float64 }{{b.over(v, 1.9), 0}, {b.over(v, 2), 0.01}, {slow.over(v, 3), 0.004}, {slow.over(v, 7), 0.012}} {
		if !(c.got-c.want < 1e-12 && c.want-c.got < 1e-12) {
			t.Errorf("a bump stands at %g, want %g", c.got, c.want)
		}
	}
}
