package plan_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"spadework/engine/plan"
	"spadework/exchange"
)

// contract is the part of the JSON that the identities need.
type contract struct {
	Format int
	Setups []struct {
		ID       string
		HI       float64
		At       [2]float64
		Gradient [2]float64
	}
	Excavations []struct {
		ID    string
		Parts []struct {
			ID    string
			Trace trace
		}
	}
	Numbers []struct {
		Excavation, Part, Point, From string
		Setup                         *string
		At                            [2]float64
		Bottom                        float64
		Beam, Curvature               *float64
		GradeRod                      *float64 `json:"grade_rod"`
		GroundRod                     *float64 `json:"ground_rod"`
		Ground, Cut                   *float64
	}
}

type trace struct {
	Origin struct{ Elevation float64 }
	Terms  []struct{ Value float64 }
	Sum    float64
}

// planExample plans a job of a folder and gives its JSON.
func planExample(t *testing.T, folder string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := exchange.ReadJob("job.toml", data, func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(folder, name)) })
	if err != nil {
		t.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	return p.AppendJSON(nil)
}

var examples = []string{"../../examples/alder-quay", "../../examples/fennel-yard", "../../examples/sorrel-bank", "../../testdata/published/stakeout"}

// TestJSONHoldsItsIdentities: grade_rod = hi + gradient·(at − setup.at) + c − bottom
// and cut = ground − bottom = grade_rod − ground_rod to 1e-9 m, and a trace's sum
// to the last digit.
func TestJSONHoldsItsIdentities(t *testing.T) {
	for _, folder := range examples {
		var c contract
		if err := json.Unmarshal(planExample(t, folder), &c); err != nil {
			t.Fatalf("%s: %v", folder, err)
		}
		if c.Format != plan.Format || len(c.Numbers) == 0 {
			t.Fatalf("%s: format %d, %d numbers", folder, c.Format, len(c.Numbers))
		}
		for _, n := range c.Numbers {
			if n.From != "beam" {
				continue
			}
			for _, s := range c.Setups {
				if s.ID != *n.Setup {
					continue
				}
				beam := s.HI + s.Gradient[0]*(n.At[0]-s.At[0]) + s.Gradient[1]*(n.At[1]-s.At[1]) + *n.Curvature
				if !(math.Abs(beam-n.Bottom-*n.GradeRod) < 1e-9) {
					t.Errorf("%s: grade_rod of %s %s = %v, want %v", folder, n.Excavation, n.Point, *n.GradeRod, beam-n.Bottom)
				}
			}
			if n.Cut != nil && !(math.Abs(*n.Cut-(*n.Ground-n.Bottom)) < 1e-9 && math.Abs(*n.Cut-(*n.GradeRod-*n.GroundRod)) < 1e-9) {
				t.Errorf("%s: cut of %s %s = %v", folder, n.Excavation, n.Point, *n.Cut)
			}
		}
		for _, x := range c.Excavations {
			for _, part := range x.Parts {
				sum := part.Trace.Origin.Elevation
				for _, term := range part.Trace.Terms {
					sum += term.Value
				}
				if sum != part.Trace.Sum {
					t.Errorf("%s: trace of %s %s adds up to %v, want %v", folder, x.ID, part.ID, sum, part.Trace.Sum)
				}
			}
		}
	}
}

// contractKeys are the keys of a number's row (formulations 19); every one is
// present, null where it is not known.
var contractKeys = []string{
	"excavation", "part", "point", "station", "at", "from", "guidance", "setup", "state", "stand", "stage", "ground",
	"bottom", "beam", "curvature", "grade_rod", "ground_rod", "cut", "sigma", "sigma_beam", "p_within", "p_over", "aim", "aim_rod",
}

func TestEveryNumberHasEveryKey(t *testing.T) {
	for _, folder := range examples {
		var c struct{ Numbers []map[string]json.RawMessage }
		if err := json.Unmarshal(planExample(t, folder), &c); err != nil {
			t.Fatal(err)
		}
		for i, n := range c.Numbers {
			for _, key := range contractKeys {
				if _, ok := n[key]; !ok {
					t.Fatalf("%s: number %d has no %s", folder, i, key)
				}
			}
		}
	}
}

func TestTheSameJobGivesTheSameBytes(t *testing.T) {
	for _, folder := range examples {
		if a, b := planExample(t, folder), planExample(t, folder); !bytes.Equal(a, b) {
			t.Errorf("%s: two plans differ", folder)
		}
	}
}

func TestRowsAreSortedById(t *testing.T) {
	var c contract
	if err := json.Unmarshal(planExample(t, examples[0]), &c); err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, x := range c.Excavations {
		ids = append(ids, x.ID)
	}
	if i, j := slices.Index(ids, "P2"), slices.Index(ids, "P10"); i < 0 || j < 0 || i > j || ids[0] != "AF" {
		t.Errorf("excavations in the order %v, want P2 before P10 and AF first", ids)
	}
}
