package guard

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// sensorMachine digs by its own sensors; leaves is a line of its table or none.
func sensorMachine(leaves string) string {
	return `[[machine]]
id = "M1"
type = "tracked"
guidance = "sensors_beam"
receiver = "R1"
depth_accuracy = "10 mm"
max_reach = 8
max_depth = 5
footprint = [2.5, 4]
` + leaves
}

// leftDay is a day on which a machine leaves bottoms by so much, from two stands.
func leftDay(t *testing.T, p *plan.Plan, offs ...unit.Length) *crew {
	c := newCrew(t, p, "ana")
	a := c.phones[0]
	s := c.add(a, setup("A1"))
	tie := func() record.Record {
		return c.add(a, &record.Tie{Setup: s.ID, Machine: "M1", At: &[2]unit.Length{20, 20}, Elevation: ptr(unit.Elevation(101.5))})
	}
	at := tie()
	for i, off := range offs {
		if i == len(offs)/2 {
			c.add(a, &record.MachineEvent{What: record.KindMoved, Machine: "M1"})
			at = tie()
		}
		dug := shot(s, i+1, 0)
		dug.Setup, dug.Tie, dug.Beam, dug.Reading, dug.Call = record.ID{}, at.ID, nil, nil, record.On
		switch {
		case off > 0:
			dug.Call, dug.Amount = record.High, off
		case off < 0:
			dug.Call, dug.Amount = record.Low, -off
		}
		c.add(a, dug)
	}
	return c
}

func trendWords(t Trend, lang phrase.Language) string {
	var lines []string
	for _, m := range t.Text() {
		lines = append(lines, m.Render(lang, unit.Style{}))
	}
	return strings.Join(lines, "\n")
}

// TestTrendByHand: bias, its 95 % and the spread of six shots as the sums give them,
// by stand too; a second shot at a point is not what the bucket left.
func TestTrendByHand(t *testing.T) {
	p := yardPlan(t, levelLaser, sensorMachine(""))
	c := leftDay(t, p, 0.008, 0.010, 0.012, 0.010, 0.014, 0.006)
	again := shot(c.phones[0].made[0], 1, -0.3)
	c.add(c.phones[0], again)
	all := Trends(p, c.state())
	if len(all) != 1 || all[0].Machine != "M1" || all[0].Operator != "P-ana" || !all[0].Sensors || all[0].Count != 6 {
		t.Fatalf("trends %+v, want M1 by P-ana with six shots", all)
	}
	one := all[0]
	// Mean 10 mm; squares 4 + 0 + 4 + 0 + 16 + 16 = 40 mm², over 5 is 8; t(5) 2.57 (JCGM 100, table G.2).
	for _, v := range []struct {
		what      string
		got, want float64
	}{
		{"bias", float64(one.Bias), 0.010}, {"spread", float64(one.Spread), math.Sqrt(8) * 1e-3}, {"95 % of the bias", float64(one.Within), 2.57 * math.Sqrt(8.0/6) * 1e-3},
		{"bias of stand 1", float64(one.Stands[0].Bias), 0.010}, {"bias of stand 2", float64(one.Stands[1].Bias), 0.010}, {"spread of stand 1", float64(one.Stands[0].Spread), 0.002},
	} {
		if !(math.Abs(v.got-v.want) <= 1e-12) {
			t.Errorf("%s = %.9f m, want %.9f (tol 1e-12 m)", v.what, v.got, v.want)
		}
	}
	if !one.Biased() || len(one.Stands) != 2 || one.Stands[1].Number != 2 {
		t.Errorf("biased %v, stands %+v", one.Biased(), one.Stands)
	}
	for lang, word := range map[phrase.Language]string{phrase.English: `leaves = "10 mm" in [[machine]] M1`, phrase.Spanish: "nada de esto cuenta hasta que alguien lo escriba"} {
		if got := trendWords(one, lang); !strings.Contains(got, word) {
			t.Errorf("%q is not said in\n%s", word, got)
		}
	}
}

// TestTheCorrectionIsOffered, counted once it is written, and then there is nothing
// left to offer.
func TestTheCorrectionIsOffered(t *testing.T) {
	offs := []unit.Length{0.008, 0.010, 0.012, 0.010, 0.014, 0.006}
	plain, told := yardPlan(t, levelLaser, sensorMachine("")), yardPlan(t, levelLaser, sensorMachine(`leaves = "10 mm"`+"\n"))
	for i, n := range plain.Numbers {
		if with := told.Numbers[i]; n.From == plan.FromBeam && !(math.Abs(float64(with.Trust.Mean-n.Trust.Mean)-0.010) <= 1e-12) {
			t.Errorf("%s: the mean went from %.4f to %.4f, want 10 mm more", n.Excavation, n.Trust.Mean, with.Trust.Mean)
		}
	}
	before := plain.Numbers[0].Trust
	Trends(plain, leftDay(t, plain, offs...).state())
	if plain.Numbers[0].Trust != before {
		t.Error("a trend changed a number in silence")
	}
	one := Trends(told, leftDay(t, told, offs...).state())[0]
	if one.Biased() || strings.Contains(trendWords(one, phrase.English), "[[machine]]") || !(math.Abs(float64(one.Bias)) <= 1e-12) {
		t.Errorf("with the correction written: bias %.4f, %s", one.Bias, trendWords(one, phrase.English))
	}
}

// TestChartsOfATrend: a shift of two standard deviations is signalled, told to the
// right side with what to look at, and the charts start anew; a level one is not.
func TestChartsOfATrend(t *testing.T) {
	p := yardPlan(t, levelLaser, sensorMachine(""))
	quiet := Trends(p, leftDay(t, p, 0.002, -0.002, 0.001, -0.001, 0.002, -0.002).state())[0]
	if quiet.Signal >= 0 {
		t.Errorf("a level machine signals at %d", quiet.Signal)
	}
	if more, less := quiet.Spreads(); more || !less {
		t.Errorf("2 mm of spread where the budget has %.4f: more %v, less %v", quiet.Budget, more, less)
	}
	for _, sign := range []unit.Length{1, -1} {
		var offs []unit.Length
		for range 10 {
			offs = append(offs, sign*0.04)
		}
		off := Trends(p, leftDay(t, p, offs...).state())[0]
		if off.Signal < 0 || off.High != (sign > 0) || !off.Shots[off.Signal].Signals {
			t.Errorf("%v off: signal %d, high %v", sign*0.04, off.Signal, off.High)
			continue
		}
		words := map[bool]string{true: "left higher than the budget says", false: "left lower than the budget says"}
		if got := trendWords(off, phrase.English); !strings.Contains(got, words[sign > 0]) || !strings.Contains(got, "tie anew") {
			t.Errorf("%v off: %s", sign*0.04, got)
		}
		// By the charts' own rule, from the values.
		ewma, cusum, first := trendEwma, trendCusum, -1
		for i, s := range off.Shots {
			ewma, cusum = ewma.Add(s.Z), cusum.Add(s.Z)
			if first < 0 && (ewma.Signals() || cusum.Signals()) {
				first = i
			}
		}
		if first < 0 || !off.Shots[first].Signals {
			t.Errorf("the charts signal first at %d, the trend does not", first)
		}
	}
}

// TestCoverage: the factors of table G.2 against Student's t of a general library,
// to the two digits printed and on the wide side between rows.
func TestCoverage(t *testing.T) {
	for n := 2; n <= 60; n++ {
		want := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 1)}.Quantile(0.975)
		if got := coverage(n); !(got-want >= -0.006 && got-want <= 0.05) {
			t.Errorf("factor of %d values = %.3f, want %.3f (tol −0.006, +0.05)", n, got, want)
		}
	}
	if !math.IsInf(coverage(1), 1) {
		t.Error("the mean of one value has a 95 %")
	}
}

// TestRunLengthsTold are those of the charts used, from their integral equations.
func TestRunLengthsTold(t *testing.T) {
	ewma, cusum := RunLengths()
	if ewma.Quiet != (watch.Ewma{Lambda: 0.2, C: 2.86}).RunLength(0) || !(ewma.Quiet > 300) || !(ewma.Shifted < 12) {
		t.Errorf("moving average: %+v", ewma)
	}
	// One-sided h 5: 930.8870 with nothing wrong (exact), so half of it for two sides.
	if !(math.Abs(cusum.Quiet-930.8870/2) <= 1e-3) || !(cusum.Shifted < 12) {
		t.Errorf("sums: %+v", cusum)
	}
	if got := ChartsText().Render(phrase.English, unit.Style{}); !strings.Contains(got, "once in 465") || !strings.Contains(got, "once in 371 shots") {
		t.Error(got)
	}
}

// TestTrendAsData has what a chart is drawn from.
func TestTrendAsData(t *testing.T) {
	p := yardPlan(t, levelLaser, sensorMachine(""))
	data, err := json.Marshal(Trends(p, leftDay(t, p, 0.004).state()))
	if err != nil {
		t.Fatal(err)
	}
	var out []struct {
		Limits []float64
		Level  struct {
			Bias, Within, Spread *float64
		}
		Shots []struct{ Off, Average float64 }
	}
	if err := json.Unmarshal(data, &out); err != nil || len(out) != 1 || len(out[0].Limits) != 2 || out[0].Level.Within != nil || out[0].Level.Spread != nil ||
		out[0].Level.Bias == nil || len(out[0].Shots) != 1 || !(math.Abs(out[0].Shots[0].Off-0.004) <= 1e-12) {
		t.Errorf("%v: %s", err, data)
	}
}
