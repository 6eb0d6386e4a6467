package beam_test

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// bad are the figures no entrance may compute with.
var bad = []float64{math.NaN(), math.Inf(1), math.Inf(-1)}

// entrances spoil one figure each and call the entrance it goes into.
func entrances() map[string]func(x float64) *phrase.Fault {
	run := func(change func(*beam.Run)) beam.Run {
		r := beam.Run{ID: "T1", To: geom.Point{X: 10}, FromElevation: 0.1, ToElevation: 0}
		change(&r)
		return r
	}
	sights := func(change func(*beam.Instrument, *beam.Backsight)) *phrase.Fault {
		in, bs := beam.Instrument{}, beam.Backsight{Benchmark: "BM", Elevation: 1, Rod: 1}
		change(&in, &bs)
		_, _, f := beam.FromBacksights(in, []beam.Backsight{bs})
		return f
	}
	dial := func(r beam.Run, l beam.Laser, aim beam.Aim, pin geom.Point) *phrase.Fault {
		_, f := beam.DialForRun(r, l, aim, pin)
		return f
	}
	oneRod := func(pl beam.Plane, r beam.Run, b beam.Band) *phrase.Fault {
		_, f := beam.OneRod(pl, r, b)
		return f
	}
	good := run(func(*beam.Run) {})
	return map[string]func(float64) *phrase.Fault{
		"FromHI hi": func(x float64) *phrase.Fault { _, f := beam.FromHI(flat, unit.Elevation(x)); return f },
		"FromHI at": func(x float64) *phrase.Fault { _, f := beam.FromHI(beam.Instrument{At: geom.Point{X: x}}, 1); return f },
		"FromHI gradient": func(x float64) *phrase.Fault {
			_, f := beam.FromHI(beam.Instrument{Gradient: geom.Vector{Y: x}}, 1)
			return f
		},
		"FromHI accuracy": func(x float64) *phrase.Fault {
			_, f := beam.FromHI(beam.Instrument{Accuracy: unit.Grade(x)}, 1)
			return f
		},
		"measured over":   func(x float64) *phrase.Fault { _, f := beam.FromMeasuredHeight(flat, unit.Elevation(x), 1); return f },
		"measured height": func(x float64) *phrase.Fault { _, f := beam.FromMeasuredHeight(flat, 1, unit.Length(x)); return f },
		"backsight rod": func(x float64) *phrase.Fault {
			return sights(func(_ *beam.Instrument, b *beam.Backsight) { b.Rod = unit.Reading(x) })
		},
		"backsight at": func(x float64) *phrase.Fault {
			return sights(func(_ *beam.Instrument, b *beam.Backsight) { b.At.Y = x })
		},
		"backsight z": func(x float64) *phrase.Fault {
			return sights(func(_ *beam.Instrument, b *beam.Backsight) { b.Elevation = unit.Elevation(x) })
		},
		"backsight sigma": func(x float64) *phrase.Fault {
			return sights(func(_ *beam.Instrument, b *beam.Backsight) { b.Sigma = unit.Length(x) })
		},
		"reading sigma": func(x float64) *phrase.Fault {
			return sights(func(_ *beam.Instrument, b *beam.Backsight) { b.ReadingSigma = unit.Length(x) })
		},
		"backsight laser": func(x float64) *phrase.Fault {
			return sights(func(i *beam.Instrument, _ *beam.Backsight) { i.At.X = x })
		},
		"run from": func(x float64) *phrase.Fault {
			return dial(run(func(r *beam.Run) { r.From.X = x }), tenPercent(2), beam.Aim{}, geom.Point{})
		},
		"run elevation": func(x float64) *phrase.Fault {
			return dial(run(func(r *beam.Run) { r.ToElevation = unit.Elevation(x) }), tenPercent(2), beam.Aim{}, geom.Point{})
		},
		"run width": func(x float64) *phrase.Fault {
			return dial(run(func(r *beam.Run) { r.Width = unit.Length(x) }), tenPercent(2), beam.Aim{}, geom.Point{})
		},
		"aim bearing": func(x float64) *phrase.Fault {
			return dial(good, tenPercent(2), beam.Aim{Bearing: unit.Angle(x)}, geom.Point{})
		},
		"aim stake": func(x float64) *phrase.Fault {
			return dial(good, tenPercent(2), beam.Aim{Mark: "T4", At: geom.Point{X: x}}, geom.Point{})
		},
		"pin": func(x float64) *phrase.Fault { return dial(good, tenPercent(2), beam.Aim{}, geom.Point{Y: x}) },
		"two runs": func(x float64) *phrase.Fault {
			_, f := beam.DialForTwo(good, run(func(r *beam.Run) { r.To.Y = x }), tenPercent(2), beam.Aim{}, geom.Point{})
			return f
		},
		"takes":          func(x float64) *phrase.Fault { return tenPercent(2).Takes(beam.Dial{Cross: unit.Grade(x)}) },
		"proof accuracy": func(x float64) *phrase.Fault { _, f := beam.ProveDial(beam.Plane{}, unit.Grade(x), nil); return f },
		"proof point": func(x float64) *phrase.Fault {
			_, f := beam.ProveDial(beam.Plane{}, 0, []beam.Known{{At: geom.Point{X: x}}})
			return f
		},
		"proof plane": func(x float64) *phrase.Fault {
			_, f := beam.ProveDial(beam.Plane{HI: unit.Elevation(x)}, 0, []beam.Known{{ID: "A"}, {ID: "B", At: geom.Point{X: 9}}})
			return f
		},
		"one rod hi": func(x float64) *phrase.Fault { return oneRod(beam.Plane{HI: unit.Elevation(x)}, good, beam.Band{}) },
		"one rod gradient": func(x float64) *phrase.Fault {
			return oneRod(beam.Plane{Gradient: geom.Vector{X: x}}, good, beam.Band{})
		},
		"one rod band": func(x float64) *phrase.Fault { return oneRod(beam.Plane{}, good, beam.Band{Above: unit.Length(x)}) },
		"one rod run": func(x float64) *phrase.Fault {
			return oneRod(beam.Plane{}, run(func(r *beam.Run) { r.To.X = x }), beam.Band{})
		},
		"level under size": func(x float64) *phrase.Fault {
			_, _, f := beam.LevelUnder(beam.Plane{}, unit.Length(x), beam.Band{})
			return f
		},
		"groups run": func(x float64) *phrase.Fault {
			_, _, f := beam.Groups([]beam.Want{{OneRod: true, Run: run(func(r *beam.Run) { r.From.Y = x })}}, tenPercent(2))
			return f
		},
		"groups allowed": func(x float64) *phrase.Fault {
			_, _, f := beam.Groups([]beam.Want{{OneRod: true, Run: good, Allowed: beam.Band{Below: unit.Length(x)}}}, tenPercent(2))
			return f
		},
		"stake hub":    func(x float64) *phrase.Fault { _, f := beam.Stake{HubElevation: unit.Elevation(x)}.Text(); return f },
		"stake offset": func(x float64) *phrase.Fault { _, f := beam.Stake{Offset: unit.Length(x)}.Text(); return f },
		"tape corner": func(x float64) *phrase.Fault {
			_, f := beam.TapeFrom(beam.Corner{}, beam.Corner{At: geom.Point{X: 9}}, []beam.Corner{{At: geom.Point{Y: x}}})
			return f
		},
		"tape control": func(x float64) *phrase.Fault {
			_, f := beam.TapeFrom(beam.Corner{At: geom.Point{X: x}}, beam.Corner{}, nil)
			return f
		},
		"window bottom": func(x float64) *phrase.Fault {
			_, f := beam.WindowFor(beam.Plane{}, beam.Rod{}, []beam.Bottom{{Elevation: unit.Elevation(x)}})
			return f
		},
		"window rod": func(x float64) *phrase.Fault {
			_, f := beam.WindowFor(beam.Plane{}, beam.Rod{Longest: unit.Reading(x)}, []beam.Bottom{{}})
			return f
		},
		"clamp rod": func(x float64) *phrase.Fault {
			_, f := beam.ClampStrip([]beam.ClampRod{beam.Within("F1", unit.Reading(x), beam.Band{})}, 0)
			return f
		},
		"clamp step": func(x float64) *phrase.Fault { _, f := beam.ClampStrip(nil, unit.Reading(x)); return f },
		"clamp limit": func(x float64) *phrase.Fault {
			_, f := beam.ClampStrip([]beam.ClampRod{{ID: "F1", High: unit.Reading(x)}}, 0)
			return f
		},
	}
}

func TestNoEntranceComputesWithNaNOrInf(t *testing.T) {
	for name, call := range entrances() {
		if f := call(0.05); f != nil && name != "proof point" && name != "proof accuracy" {
			t.Errorf("%s: fault %v on a good figure, so the check below proves nothing", name, f)
		}
		for _, x := range bad {
			f := call(x)
			if f == nil {
				t.Errorf("%s = %g gave no fault", name, x)
				continue
			}
			if !strings.Contains(f.Error(), "not a figure to compute with") {
				t.Errorf("%s = %g: fault %q, want not finite", name, x, f)
			}
		}
	}
}

func TestFiguresTooLargeForAFallAreRefused(t *testing.T) {
	far := beam.Run{ID: "T1", To: geom.Point{X: math.MaxFloat64}, FromElevation: 1}
	if _, f := beam.DialForRun(far, tenPercent(2), beam.Aim{}, geom.Point{}); f == nil {
		t.Error("DialForRun over a run of no finite length gave no fault")
	}
	sight := beam.Backsight{Elevation: 1, Sigma: 1e200}
	if _, _, f := beam.FromBacksights(beam.Instrument{}, []beam.Backsight{sight}); f == nil {
		t.Error("FromBacksights with a standard error of 1e200 m gave no fault")
	}
}

func TestNegativeFiguresAreRefused(t *testing.T) {
	for name, call := range entrances() {
		if !slices.Contains([]string{"FromHI accuracy", "backsight sigma", "reading sigma", "run width", "one rod band",
			"level under size", "groups allowed", "stake offset"}, name) {
			continue
		}
		if f := call(-0.01); f == nil || !strings.Contains(f.Error(), "cannot be under zero") {
			t.Errorf("%s = -0.01: fault %v, want under zero", name, f)
		}
	}
	for _, l := range []beam.ClampRod{{ID: "F1", Rod: 1, Low: 1.1, High: 1.2}, {ID: "F1", Rod: 1, Low: 0.8, High: 0.9}} {
		if _, f := beam.ClampStrip([]beam.ClampRod{l}, 0); f == nil || !strings.Contains(f.Error(), `"F1" reads 1.000, which is not between`) {
			t.Errorf("ClampStrip(%v) fault = %v", l, f)
		}
	}
	if _, _, f := beam.FromBacksights(flat, nil); f == nil {
		t.Error("FromBacksights without any gave no fault")
	}
	if _, f := beam.WindowFor(beam.Plane{}, beam.Rod{}, nil); f == nil {
		t.Error("WindowFor without bottoms gave no fault")
	}
	if _, f := beam.TapeFrom(beam.Corner{ID: "A"}, beam.Corner{ID: "B"}, nil); f == nil || !strings.Contains(f.Error(), `"A" and "B" are one point`) {
		t.Errorf("TapeFrom one point fault = %v", f)
	}
}

// Every key in the code has a text in both languages with the same values, and
// no text lies unused.
func TestEveryKeyHasBothTexts(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no code found: %v", err)
	}
	used := map[string]bool{}
	key := regexp.MustCompile(`phrase\.New\("(beam\.[a-z_]+)"`)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		for _, m := range key.FindAllStringSubmatch(read(t, name), -1) {
			used[m[1]] = true
		}
	}
	en, es := texts(t, "en"), texts(t, "es")
	for k := range used {
		if en[k] == "" || es[k] == "" {
			t.Errorf("key %s has no text in English or in Spanish", k)
		}
	}
	hole := regexp.MustCompile(`\{([a-z_]+)`)
	for k, text := range en {
		if base, _, _ := strings.Cut(k, "#"); !used[base] {
			t.Errorf("text %s is used nowhere", k)
		}
		a, b := hole.FindAllString(text, -1), hole.FindAllString(es[k], -1)
		slices.Sort(a)
		slices.Sort(b)
		if !slices.Equal(a, b) {
			t.Errorf("text %s has values %v in English and %v in Spanish", k, a, b)
		}
	}
	if len(en) != len(es) {
		t.Errorf("%d English texts, %d Spanish", len(en), len(es))
	}
}

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func texts(t *testing.T, language string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, line := range strings.Split(read(t, "../phrase/text/"+language+"/beam.txt"), "\n") {
		if k, v, ok := strings.Cut(line, " = "); ok && !strings.HasPrefix(line, "#") {
			out[k] = v
		}
	}
	return out
}
