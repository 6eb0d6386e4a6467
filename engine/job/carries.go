package job

import (
	"strconv"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/pipe"
	"spadework/engine/unit"
)

// Carries is what runs in a trench, for the checks of pipes and cables; zero is
// not known.
type Carries struct {
	Purpose   pipe.Purpose
	Flow      unit.Flow // of the design
	Roughness float64   // Manning's n
	Method    pipe.Method
	Under     pipe.Place
}

// carries reads what runs in a trench.
func (d *decoder) carries(t *table) Carries {
	c, given := t.inner("carries")
	if !given {
		return Carries{}
	}
	var words []string
	for _, p := range pipe.Purposes() {
		words = append(words, string(p))
	}
	out := Carries{Purpose: pipe.Purpose(words[c.choice("purpose", words, 0)])}
	c.need("purpose")
	out.Flow = c.flow("flow")
	out.Roughness = c.number("roughness", 0)
	if c.has("roughness") && !(out.Roughness >= 0.005 && out.Roughness <= 0.1) && c.r.fault == nil {
		c.fail("roughness", phrase.New("job.roughness", phrase.With("value", c.n.get("roughness").describe())), phrase.New("job.roughness.remedy"))
	}
	if c.has("method") {
		out.Method = []pipe.Method{pipe.DirectBurial, pipe.RigidMetal, pipe.PlasticConduit}[c.choice("method",
			[]string{string(pipe.DirectBurial), string(pipe.RigidMetal), string(pipe.PlasticConduit)}, 0)]
	} else {
		c.take("method")
	}
	if c.has("under") {
		out.Under = []pipe.Place{pipe.Street, pipe.DwellingDrive}[c.choice("under", []string{string(pipe.Street), string(pipe.DwellingDrive)}, 0)]
	} else {
		c.take("under")
	}
	c.done()
	return out
}

// flowUnits are the units of a flow, the longest names first.
var flowUnits = []struct {
	suffix string
	size   unit.Flow
}{
	{"gal/min", unit.GallonPerMinute}, {"ft³/s", unit.CubicFootPerSecond}, {"ft3/s", unit.CubicFootPerSecond},
	{"m³/s", 1}, {"m3/s", 1}, {"gpm", unit.GallonPerMinute}, {"mgd", unit.MillionGallonsPerDay},
	{"cfs", unit.CubicFootPerSecond}, {"l/s", unit.LitrePerSecond},
}

// flow reads a flow with its unit, 0 if absent.
func (t *table) flow(key string) unit.Flow {
	text := strings.ToLower(t.text(key))
	if text == "" {
		return 0
	}
	for _, u := range flowUnits {
		figure, ok := strings.CutSuffix(text, u.suffix)
		if !ok {
			continue
		}
		v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(figure), ",", ".", 1), 64)
		if err != nil || !(v > 0 && v < 1e6) {
			break
		}
		return unit.Flow(v) * u.size
	}
	t.fail(key, phrase.New("job.flow", phrase.With("value", text)), phrase.New("job.flow.remedy"))
	return 0
}
