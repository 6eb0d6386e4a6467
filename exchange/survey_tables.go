package exchange

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// NamedFile is a file to stand beside a job.
type NamedFile struct {
	Name string
	Data []byte
}

// JobDraft is a survey as a job has it: files to stand beside the job file, the
// lines that name them in it, and what was lost on the way.
type JobDraft struct {
	Files  []NamedFile
	Lines  string
	Losses []Loss
}

// Loss is something that a job file has no place for, or that the survey did not
// tell, with how often.
type Loss struct {
	What  phrase.Key
	Count int
}

// The losses, in the order in which they are told.
const (
	lostSurfaces   phrase.Key = "exchange.lost_surfaces"
	lostRims       phrase.Key = "exchange.lost_rims"
	lostLines      phrase.Key = "exchange.lost_lines"
	lostPoints     phrase.Key = "exchange.lost_points"
	lostSloping    phrase.Key = "exchange.lost_sloping"
	lostHeights    phrase.Key = "exchange.lost_heights"
	lostRuns       phrase.Key = "exchange.lost_runs"
	lostKinds      phrase.Key = "exchange.lost_kinds"
	lostTolerances phrase.Key = "exchange.lost_tolerances"
	lostWidths     phrase.Key = "exchange.lost_widths"
	lostInverts    phrase.Key = "exchange.lost_inverts"
	lostPipes      phrase.Key = "exchange.lost_pipes"
	lostSides      phrase.Key = "exchange.lost_sides"
	lostFaces      phrase.Key = "exchange.lost_faces"
	lostChords     phrase.Key = "exchange.lost_chords"
	lostSkipped    phrase.Key = "exchange.lost_skipped"
)

var losses = []phrase.Key{lostSurfaces, lostRims, lostLines, lostPoints, lostSloping, lostHeights, lostRuns, lostKinds, lostTolerances, lostWidths,
	lostInverts, lostPipes, lostSides, lostFaces, lostChords, lostSkipped}

// JobTables turns a survey into a draft of a job; stem begins the files' names.
// Every figure carries its unit, so that it holds in a job of any. The edges of a
// surface become breaklines, so that it is triangulated as it was; its rim becomes
// the boundary where it is one outline.
func JobTables(s Survey, stem string) JobDraft {
	t := &tables{stem: stem, lost: map[phrase.Key]int{lostFaces: s.Counts.Hidden, lostChords: s.Counts.Chords, lostSkipped: s.Counts.Skipped}}
	for i, one := range s.Surfaces {
		if i < 2 {
			t.surface(one, []string{"ground", "finished"}[i])
		} else {
			t.lost[lostSurfaces]++
		}
	}
	t.points(s.Points)
	var breaks []SurveyLine
	for _, l := range s.Lines {
		switch {
		case l.Kind == DigBottom:
			t.dig(l)
		case l.Kind == Alignment:
			t.alignment(l)
		case l.Known:
			breaks = append(breaks, l)
		default:
			t.lost[lostLines]++
		}
	}
	t.breaklines(breaks)
	for _, p := range s.Pipes {
		t.pipe(p)
	}
	out := JobDraft{Files: t.files, Lines: t.b.String()}
	for _, key := range losses {
		if n := t.lost[key]; n > 0 {
			out.Losses = append(out.Losses, Loss{key, n})
		}
	}
	return out
}

// tables gathers files, lines and losses.
type tables struct {
	stem  string
	files []NamedFile
	b     strings.Builder
	lost  map[phrase.Key]int
}

func (t *tables) file(suffix, data string) string {
	name := t.stem + "-" + suffix + ".csv"
	t.files = append(t.files, NamedFile{name, []byte(data)})
	return name
}

func metres(v float64) string { return figure(v) + " m" }

func csvCell(s string) string {
	if strings.ContainsAny(s, "\",;\n\r\t") {
		return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return s
}

func row(p geom.Point3) string { return metres(p.X) + "," + metres(p.Y) + "," + metres(p.Z) + "\n" }

// tomlText is a basic string of TOML 1.0.
func tomlText(s string) string { return quotedJSON(s) }

// surface writes a surface under [ground] or [finished].
func (t *tables) surface(s SurveySurface, table string) {
	var points, edges strings.Builder
	points.WriteString("x,y,z\n")
	for _, p := range s.Points {
		points.WriteString(row(p))
	}
	edges.WriteString("line,x,y,z\n")
	for i, e := range s.Edges() {
		id := strconv.Itoa(i + 1)
		edges.WriteString(id + "," + row(s.Points[e[0]]) + id + "," + row(s.Points[e[1]]))
	}
	t.b.WriteString("[" + table + "]\npoints = " + tomlText(t.file(table, points.String())) + "\nbreaklines = " + tomlText(t.file(table+"-edges", edges.String())) + "\n")
	if rim := s.Rims(); len(rim) == 1 {
		t.b.WriteString("boundary = " + places(at(s.Points, rim[0])) + "\n")
	} else {
		t.lost[lostRims]++
	}
	t.b.WriteString("\n")
}

func at(points []geom.Point3, index []int) []geom.Point3 {
	out := make([]geom.Point3, len(index))
	for i, k := range index {
		out[i] = points[k]
	}
	return out
}

// places is a list of places as a job file has it.
func places(points []geom.Point3) string {
	parts := make([]string, len(points))
	for i, p := range points {
		parts[i] = "[" + tomlText(metres(p.X)) + ", " + tomlText(metres(p.Y)) + "]"
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

func (t *tables) points(points []SurveyPoint) {
	if len(points) == 0 {
		return
	}
	var b strings.Builder
	b.WriteString("id,x,y,z,words\n")
	for _, p := range points {
		z := ""
		if p.Known {
			z = metres(p.At.Z)
		} else {
			t.lost[lostPoints]++
		}
		b.WriteString(csvCell(p.ID) + "," + metres(p.At.X) + "," + metres(p.At.Y) + "," + z + "," + csvCell(p.Words) + "\n")
	}
	t.file("points", b.String())
}

func (t *tables) breaklines(lines []SurveyLine) {
	if len(lines) == 0 {
		return
	}
	var b strings.Builder
	b.WriteString("line,x,y,z\n")
	for _, l := range lines {
		for _, p := range l.Points {
			b.WriteString(csvCell(l.ID) + "," + row(p))
		}
	}
	t.file("breaklines", b.String())
}

// dig writes a level bottom with what is told of it. A sloping one has no one
// elevation to be told by. A run comes as a pit of its outline, since that is what
// the file has of it.
func (t *tables) dig(l SurveyLine) {
	if !l.Known {
		t.lost[lostHeights]++
		return
	}
	for _, p := range l.Points {
		if p.Z != l.Points[0].Z {
			t.lost[lostSloping]++
			return
		}
	}
	kind := dig.Kind(l.Dig.Kind)
	switch {
	case kind.Run():
		t.lost[lostRuns]++
		kind = dig.Pit
	case !kind.Area() || kind == dig.Box:
		t.lost[lostKinds]++
		kind = dig.Pit
	}
	t.lost[lostSides]++
	t.b.WriteString("[[excavation]]\nid = " + tomlText(strings.TrimSuffix(l.ID, "/1")) + "\nkind = " + tomlText(string(kind)) + "\nwords = " + tomlText(l.Words) +
		"\noutline = " + places(l.Points) + "\nbottom = { elevation = " + tomlText(metres(l.Points[0].Z)) + " }\nsides_at = \"neat\"\n")
	if l.Dig.Above != nil && l.Dig.Below != nil {
		t.b.WriteString("tolerance = { above = " + tomlText(metres(*l.Dig.Above)) + ", below = " + tomlText(metres(*l.Dig.Below)) + " }\n")
	} else {
		t.lost[lostTolerances]++
	}
	t.b.WriteString("\n")
}

// alignment writes a trench along a line; its profile is taken as inverts.
func (t *tables) alignment(l SurveyLine) {
	t.trench(l.ID, l.Words, l.Points)
	t.inverts(l.Profile)
}

func (t *tables) pipe(p SurveyPipe) {
	t.trench(p.ID, p.From+" – "+p.To, []geom.Point3{p.Start.Raised(0), p.End.Raised(0)})
	if p.Diameter != nil {
		t.lost[lostPipes]++
	}
	var profile [][2]float64
	if p.InvertA != nil {
		profile = append(profile, [2]float64{0, *p.InvertA})
	}
	if p.InvertB != nil {
		profile = append(profile, [2]float64{p.Start.Distance(p.End), *p.InvertB})
	}
	t.inverts(profile)
}

// trench begins a run, whose width and tolerance no file here tells.
func (t *tables) trench(id, words string, line []geom.Point3) {
	t.lost[lostWidths]++
	t.lost[lostTolerances]++
	t.b.WriteString("[[excavation]]\nid = " + tomlText(id) + "\nkind = \"trench\"\nwords = " + tomlText(words) + "\nline = " + places(line) + "\n")
}

func (t *tables) inverts(profile [][2]float64) {
	if len(profile) == 0 {
		t.lost[lostInverts]++
	} else {
		parts := make([]string, len(profile))
		for i, v := range profile {
			parts[i] = "{ station = " + tomlText(metres(v[0])) + ", invert = " + tomlText(metres(v[1])) + " }"
		}
		t.b.WriteString("inverts = [" + strings.Join(parts, ", ") + "]\n")
	}
	t.b.WriteString("\n")
}

// Edges are the edges of a surface, each once, by their points.
func (s SurveySurface) Edges() [][2]int {
	seen := map[[2]int]bool{}
	var out [][2]int
	for _, f := range s.Faces {
		for i := range f {
			e := [2]int{min(f[i], f[(i+1)%3]), max(f[i], f[(i+1)%3])}
			if !seen[e] {
				seen[e] = true
				out = append(out, e)
			}
		}
	}
	slices.SortFunc(out, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	return out
}

// Rims are the outlines round the faces: edges that only one face has, chained. A
// point where two outlines touch gives none.
func (s SurveySurface) Rims() [][]int {
	inner := map[[2]int]bool{}
	for _, f := range s.Faces {
		for i := range f {
			inner[[2]int{f[i], f[(i+1)%3]}] = true
		}
	}
	next := map[int]int{}
	var starts []int
	for _, f := range s.Faces {
		for i := range f {
			a, b := f[i], f[(i+1)%3]
			if inner[[2]int{b, a}] {
				continue
			}
			if _, twice := next[a]; twice {
				return nil
			}
			next[a] = b
			starts = append(starts, a)
		}
	}
	slices.Sort(starts)
	return chained(starts, next)
}

// chained follows every start round to itself.
func chained(starts []int, next map[int]int) [][]int {
	var out [][]int
	done := map[int]bool{}
	for _, s := range starts {
		if done[s] {
			continue
		}
		var ring []int
		for k := s; !done[k]; k = next[k] {
			done[k] = true
			ring = append(ring, k)
		}
		out = append(out, ring)
	}
	return out
}

// WritePoints writes the corners of every bottom and the shots as CSV in metres,
// each figure with its unit, under the heads that a table of points has in a job.
func WritePoints(s Survey) []byte {
	var b strings.Builder
	b.WriteString("id,x,y,z,words\n")
	write := func(id string, p geom.Point3, z, words string) {
		b.WriteString(csvCell(id) + "," + metres(p.X) + "," + metres(p.Y) + "," + z + "," + csvCell(words) + "\n")
	}
	for _, l := range s.Lines {
		for i, p := range l.Points {
			write(l.ID+"/corner-"+strconv.Itoa(i+1), p, metres(p.Z), l.Words)
		}
	}
	for _, p := range s.Points {
		z := ""
		if p.Known {
			z = metres(p.At.Z)
		}
		write(p.ID, p.At, z, p.Words)
	}
	return []byte(b.String())
}
