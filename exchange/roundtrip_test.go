package exchange

import (
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/examples"
)

// planOf plans a job of the program's own examples.
func planOf(t *testing.T, name string) *plan.Plan {
	t.Helper()
	folder, err := fs.Sub(examples.Files, name)
	if err != nil {
		t.Fatal(err)
	}
	data, err := fs.ReadFile(folder, "job.toml")
	if err != nil {
		t.Fatal(err)
	}
	return planFiles(t, data, func(file string) ([]byte, error) { return fs.ReadFile(folder, file) })
}

func planFiles(t *testing.T, data []byte, open Open) *plan.Plan {
	t.Helper()
	j, _, err := ReadJob("job.toml", data, open)
	if err != nil {
		t.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	return p
}

// TestExamplesGoOutAndComeIn: the ground and the digs of every example are, once
// written, read and drafted as a job again, the same to 0.1 mm; what does not come
// back is told, no less and no more.
func TestExamplesGoOutAndComeIn(t *testing.T) {
	level := 0
	for _, name := range []string{"alder-quay", "fennel-yard", "sorrel-bank"} {
		p := planOf(t, name)
		out := SurveyOf(p, record.Replay(record.Input{}))
		for _, r := range roundTrips {
			in := r.pass(t, out)
			sameSurvey(t, name+" by "+r.name, in, out)
			draft := JobTables(in, "in")
			again := planFiles(t, []byte("[job]\nname = \"again\"\nunits = \"m\"\n"+draft.Lines), func(file string) ([]byte, error) {
				for _, f := range draft.Files {
					if f.Name == file {
						return f.Data, nil
					}
				}
				return nil, fs.ErrNotExist
			})
			level += sameDigs(t, name+" by "+r.name, out, again, draft)
			for _, g := range [][2]*job.Ground{{p.Job.Existing, again.Job.Existing}, {p.Job.Finished, again.Job.Finished}} {
				sameGround(t, name+" by "+r.name, out, p, again, g)
			}
		}
	}
	if level < 20 {
		t.Errorf("%d level bottoms came back, want at least 20", level)
	}
}

// sameDigs compares the level bottoms with those of the draft and the others with
// its losses.
func sameDigs(t *testing.T, name string, out Survey, again *plan.Plan, draft JobDraft) (level int) {
	t.Helper()
	back := SurveyOf(again, record.Replay(record.Input{}))
	lines := map[string]SurveyLine{}
	for _, l := range back.Lines {
		lines[l.ID] = l
	}
	sloping, runs, none := 0, 0, 0
	for _, l := range out.Lines {
		if slices.ContainsFunc(l.Points, func(p geom.Point3) bool { return figure(p.Z) != figure(l.Points[0].Z) }) {
			sloping++
			continue
		}
		if slices.Contains([]string{"strip", "trench", "field"}, l.Dig.Kind) {
			runs++
		}
		if l.Dig.Above == nil {
			none++
		}
		level++
		id := l.ID
		if !strings.HasSuffix(id, "/1") {
			id += "/1"
		}
		g, there := lines[id]
		if !there || len(g.Points) != len(l.Points) {
			t.Errorf("%s: dig %s came back as %v", name, id, g)
			continue
		}
		for _, want := range l.Points {
			if !slices.ContainsFunc(g.Points, func(p geom.Point3) bool { return near3(p, want) }) {
				t.Errorf("%s: dig %s has no corner at %v any more (tol 0.1 mm)", name, id, want)
			}
		}
	}
	for key, want := range map[phrase.Key]int{lostSloping: sloping, lostRuns: runs, lostTolerances: none, lostSides: level} {
		got := 0
		for _, l := range draft.Losses {
			if l.What == key {
				got = l.Count
			}
		}
		if got != want {
			t.Errorf("%s: %s counts %d, want %d", name, key, got, want)
		}
	}
	return level
}

// sameGround compares two grounds at the corners and middles of every facet.
func sameGround(t *testing.T, name string, out Survey, p, again *plan.Plan, g [2]*job.Ground) {
	t.Helper()
	if g[0] == nil || !(g[0].Surface.Bounds().Width() <= maxCoordinate) {
		return // a level ground without an end is no surface to write
	}
	if g[1] == nil {
		t.Errorf("%s: the ground did not come back", name)
		return
	}
	move := again.Job.Origin.Job(geom.Point{}).Sub(p.Job.Origin.Job(geom.Point{}))
	n, missed := 0, 0
	g[0].Surface.Facets(g[0].Surface.Bounds(), func(a, b, c geom.Point3) bool {
		middle := geom.Point3{X: (a.X + b.X + c.X) / 3, Y: (a.Y + b.Y + c.Y) / 3, Z: (a.Z + b.Z + c.Z) / 3}
		z, ok := g[1].Surface.Height(geom.Point{X: middle.X - move.X, Y: middle.Y - move.Y})
		n++
		if !ok {
			missed++
		} else if !(math.Abs(z-middle.Z) <= tenthOfAMillimetre) {
			t.Errorf("%s: the ground at %v is %.6f, want %.6f (tol 0.1 mm)", name, middle.Plan(), z, middle.Z)
		}
		return !t.Failed()
	})
	if n == 0 || missed > 0 {
		t.Errorf("%s: of %d facets %d are no ground any more", name, n, missed)
	}
}

// TestAnySurveyGoesOutAndComesIn: as a law, at real eastings.
func TestAnySurveyGoesOutAndComesIn(t *testing.T) {
	words := rapid.Map(rapid.StringMatching(`[ -~ñé½×–]{0,12}`), strings.TrimSpace) // blanks at the ends are not kept
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-6e6, 6e6)
		place := rapid.Custom(func(t *rapid.T) geom.Point3 {
			return geom.Point3{X: coordinate.Draw(t, "x"), Y: coordinate.Draw(t, "y"), Z: rapid.Float64Range(-500, 9000).Draw(t, "z")}
		})
		length := rapid.Ptr(rapid.Float64Range(0, 5), true)
		in := Survey{}
		for range rapid.IntRange(1, 4).Draw(t, "digs") {
			in.Lines = append(in.Lines, SurveyLine{ID: words.Draw(t, "id"), Kind: DigBottom, Words: words.Draw(t, "words"), Known: true,
				Points: rapid.SliceOfN(place, 3, 9).Draw(t, "outline"),
				Dig:    DigFacts{rapid.SampledFrom([]string{"", "pit", "footing", "strip"}).Draw(t, "kind"), length.Draw(t, "above"), length.Draw(t, "below"), length.Draw(t, "width")}})
		}
		for range rapid.IntRange(0, 3).Draw(t, "points") {
			in.Points = append(in.Points, SurveyPoint{ID: words.Draw(t, "id"), At: place.Draw(t, "at"), Known: true, Words: words.Draw(t, "words")})
		}
		for _, r := range roundTrips {
			sameSurvey(t, r.name, r.pass(t, in), in)
		}
	})
}
