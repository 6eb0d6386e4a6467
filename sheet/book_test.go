package sheet

import (
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/exchange"
)

var update = flag.Bool("update", false, "write the golden files anew")

const examplesFolder = "../examples"

var examples = []string{"alder-quay", "fennel-yard"}

// example plans an example, its text changed first.
func example(t testing.TB, name string, change func(string) string) *plan.Plan {
	t.Helper()
	folder := filepath.Join(examplesFolder, name)
	data, err := os.ReadFile(filepath.Join(folder, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	if change != nil {
		text = change(text)
	}
	j, _, err := exchange.ReadJob("job.toml", []byte(text), func(n string) ([]byte, error) { return os.ReadFile(filepath.Join(folder, n)) })
	if err != nil {
		t.Fatal(err)
	}
	j.Today = "2026-05-06"
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	return p
}

// edition is a way a book can be printed.
type edition struct {
	name  string
	plan  *plan.Plan
	view  View
	paper Paper
}

// editions are both examples in both languages, both systems and on both papers.
func editions(t testing.TB, change func(string) string) []edition {
	t.Helper()
	feet := unit.Style{System: unit.Imperial, Face: unit.FaceInches, Fraction: 8}
	metres := unit.Style{System: unit.Metric, Face: unit.FaceMetric, Comma: true}
	var out []edition
	for _, name := range examples {
		p := example(t, name, change)
		for _, language := range []phrase.Language{phrase.English, phrase.Spanish} {
			for _, style := range []unit.Style{feet, metres} {
				for _, paper := range []Paper{Letter, A4} {
					out = append(out, edition{fmt.Sprintf("%s %s system %d %s", name, language, style.System, paper.Name), p, View{language, style}, paper})
				}
			}
		}
	}
	return out
}

func withCodes(k Card) string { return CardAddress("https://site.example/job", k) }

// printed is the book of an edition with codes, stands and how it was left.
func (e edition) printed(t testing.TB) Document {
	t.Helper()
	d, fault := Book(e.plan, e.view, BookOptions{Paper: e.paper, Address: withCodes, Log: day(t, e.plan)})
	if fault != nil {
		t.Fatal(fault)
	}
	return d
}

// day plays an invented day: every set-up made, every dig shot from one of them,
// some shots out, one corrected, each beam closed, the last close a bad one, and
// the work handed over.
func day(t testing.TB, p *plan.Plan) *record.State {
	t.Helper()
	d := diary{t: t, clock: 1_778_056_200_000} // 2026-05-06T08:30:00Z
	var setups []record.ID
	for _, s := range p.Setups {
		hi := unit.Elevation(30)
		setups = append(setups, d.note(&record.SetupMade{Tag: s.ID, Laser: "L1", Machine: "M1", HI: &hi}))
	}
	above, below := 12*unit.Millimetre, 12*unit.Millimetre
	var last record.ID
	for i, dig := range p.Digs {
		shot := &record.CheckShot{Setup: setups[i%len(setups)], Excavation: dig.Excavation.ID, From: record.FromEdge, Bottom: 27.5, Above: &above, Below: &below, Call: record.On}
		if i%3 == 1 {
			shot.Call, shot.Amount = record.High, unit.Length(i)*2*unit.Millimetre
		} else if i%5 == 2 {
			shot.Call, shot.Amount = record.Low, unit.Length(i)*unit.Millimetre
		}
		last = d.note(shot)
	}
	d.note(&record.Correction{Record: last, Of: record.KindShot, Reason: "wrong hole"})
	for i, s := range setups {
		limit := 5 * unit.Millimetre
		reading := unit.Reading(1.5 + 0.001*float64(i+1))
		if i == len(setups)-1 {
			reading = 1.512
		}
		d.note(&record.Close{Setup: s, On: record.OnBenchmark, Point: "BM1", ProofReading: record.ProofReading{Reading: reading, Expected: 1.5, Limit: limit}})
	}
	d.note(&record.Handover{Ends: record.EndShift, To: "R. Alder", Words: "Gate is locked, key with the foreman."})
	return record.Replay(record.Input{Records: d.records})
}

// diary is one device that writes a record every ten minutes.
type diary struct {
	t       testing.TB
	head    record.Head
	records []record.Record
	clock   int64
}

func (d *diary) note(payload record.Payload) record.ID {
	d.t.Helper()
	d.clock += 600_000
	r, head, f := d.head.Next(record.Draft{Job: "yard", Device: "tablet", Person: "Ines", Payload: payload, Time: record.Stamp{Millis: d.clock}}, d.clock, [10]byte{})
	if f != nil {
		d.t.Fatal(f)
	}
	d.head, d.records = head, append(d.records, r)
	return r.ID
}

// leastType is the least size of type on paper: 6 points, which a person with
// good sight reads at arm's length (common practice); nothing that is worked to
// is smaller than 7.
const leastType = 6 / pointsPerMillimetre

// inkBox is what the letters of a text cover: from 0.2 under its line to 0.75
// over it (DejaVu Sans: descender of p 0.21, capitals 0.73).
func inkBox(it draw.Item) geom.Box {
	w, p := draw.Width(it.Set, it.Size, it.Text), it.Points[0]
	lead := map[draw.Anchor]float64{draw.Start: 0, draw.Middle: w / 2, draw.End: w}[it.Anchor]
	if it.Upward {
		return geom.BoxOf(geom.Point{X: p.X - 0.75*it.Size, Y: p.Y + lead - w}, geom.Point{X: p.X, Y: p.Y + lead})
	}
	return geom.BoxOf(geom.Point{X: p.X - lead, Y: p.Y - 0.75*it.Size}, geom.Point{X: p.X - lead + w, Y: p.Y})
}

// TestEveryStringFitsItsBox: on every page of every edition texts lie inside the
// margins, on no other text, and no ruled line of a sheet runs through one.
func TestEveryStringFitsItsBox(t *testing.T) {
	for _, e := range editions(t, nil) {
		d := e.printed(t)
		if len(d.Pages) < 15 {
			t.Errorf("%s: %d pages, want the whole book", e.name, len(d.Pages))
		}
		for n, page := range d.Pages {
			if faults := lawless(page); len(faults) > 0 {
				t.Errorf("%s, page %d (%s):\n  %s", e.name, n+1, page.Title, strings.Join(faults, "\n  "))
			}
		}
	}
}

// lawless tells what breaks the law of a page.
func lawless(page Page) []string {
	var out []string
	var boxes []geom.Box
	var texts []draw.Item
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for _, it := range page.Items {
		if it.Text == "" {
			continue
		}
		b := inkBox(it)
		if !(b.Min.X >= marginLeft-0.01 && b.Max.X <= page.Width-marginRight+0.01 && b.Min.Y >= marginTop && b.Max.Y <= page.Height-marginLow+0.01) {
			say("%q leaves the margins: %v", it.Text, b)
		}
		if !(it.Size >= leastType) {
			say("%q is set in %.2f mm", it.Text, it.Size)
		}
		for i, o := range boxes {
			if o.Meets(b) {
				say("%q lies on %q", it.Text, texts[i].Text)
			}
		}
		boxes, texts = append(boxes, b), append(texts, it)
	}
	for _, it := range page.Items {
		if it.Text != "" || it.Fill != draw.Hollow {
			continue
		}
		line := it.Points
		if it.Closed {
			line = append(append([]geom.Point(nil), line...), line[0])
		}
		for i, text := range texts {
			if text.Set != draw.Label && runsThrough(line, boxes[i]) {
				say("a %s line runs through %q", it.Pen, text.Text)
			}
		}
	}
	return out
}

// runsThrough says that an upright or level line, as rules are, runs through a
// box.
func runsThrough(line []geom.Point, b geom.Box) bool {
	for i := 1; i < len(line); i++ {
		s := geom.BoxOf(line[i-1], line[i])
		if (s.Width() == 0 || s.Height() == 0) && s.Meets(b) {
			return true
		}
	}
	return false
}

// TestTheLawCanBeBroken: a page that breaks it is told.
func TestTheLawCanBeBroken(t *testing.T) {
	at := func(x, y float64, text string) draw.Item {
		return draw.Item{Pen: draw.Ink, Set: draw.Body, Size: 3, Anchor: draw.Start, Points: []geom.Point{{X: x, Y: y}}, Text: text}
	}
	page := Page{Scene: draw.Scene{Width: 100, Height: 100, Items: []draw.Item{
		at(30, 50, "one"), at(32, 51, "two"), at(95, 50, "outside"), {Pen: draw.Ink, Points: []geom.Point{{X: 31, Y: 10}, {X: 31, Y: 90}}}, at(30, 70, "three"),
	}}}
	page.Items[4].Size = 1
	if got := len(lawless(page)); got != 5 {
		t.Errorf("%d faults, want 5 (overlap, margin, small type, a line through two texts): %v", got, lawless(page))
	}
}

// allPlanned takes every height from a job's set-ups.
func allPlanned(text string) string {
	text = regexp.MustCompile(`(?ms)^backsights = \[.*?\]\s*\n`).ReplaceAllString(text, "")
	return regexp.MustCompile(`(?m)^(hi|over) = .*\n`).ReplaceAllString(text, "")
}

// rodTexts are the readings of all numbers from a beam, as a live one would print.
func rodTexts(p *plan.Plan, v View) map[string]bool {
	out := map[string]bool{}
	for _, n := range p.Numbers {
		if s, ok := p.Setup(n.Setup); ok && n.From == plan.FromBeam {
			out[v.Face(s.Rod).Style.Reading(n.Rod)] = true
		}
	}
	return out
}

// otherFigures are texts that may look like a rod by chance: cuts, and what the
// backsights of a planned set-up are expected to read.
func otherFigures(p *plan.Plan, v View) map[string]bool {
	out := map[string]bool{}
	for _, n := range p.Numbers {
		out[cutText(v, n.Cut)] = true
	}
	for _, s := range p.Setups {
		for _, e := range p.Expected(s) {
			out[v.Face(s.Rod).Style.Reading(e.Rod)] = true
		}
	}
	return out
}

// mostPlannedSize is larger than any bold type of a sheet but a live number's:
// titles are 7 mm, the tag of a set-up card 11 mm and no figure.
const mostPlannedSize = 7.5

// TestNoPlannedNumberIsPrintedAsALiveOne: with every set-up only planned, no
// sheet of any edition has the reading of a rod, nor a figure set large in solid
// letters, and every number stands as a sum with a blank.
func TestNoPlannedNumberIsPrintedAsALiveOne(t *testing.T) {
	for _, e := range editions(t, allPlanned) {
		rods, others := rodTexts(e.plan, e.view), otherFigures(e.plan, e.view)
		sums := 0
		for n, page := range e.printed(t).Pages {
			for _, it := range page.Items {
				text := strings.ReplaceAll(it.Text, noBreak, " ")
				if rods[text] && !others[text] {
					t.Errorf("%s, page %d: %q is the reading of a planned rod", e.name, n+1, text)
				}
				if it.Size > mostPlannedSize && it.Set == draw.Strong && strings.ContainsAny(text, "0123456789") && !isTag(e.plan, text) {
					t.Errorf("%s, page %d: %q stands as large as a live number", e.name, n+1, text)
				}
				if strings.Contains(text, "____ −") {
					sums++
				}
			}
		}
		if len(rods) < 5 || sums < len(e.plan.Digs) {
			t.Errorf("%s: %d rods and %d sums, want a plan full of them", e.name, len(rods), sums)
		}
	}
}

// TestAPlannedDialIsProvenByADifferenceAlone: the rods themselves hang on a
// height that is not known yet.
func TestAPlannedDialIsProvenByADifferenceAlone(t *testing.T) {
	for _, planned := range []bool{false, true} {
		change := map[bool]func(string) string{true: allPlanned}[planned]
		p := example(t, "alder-quay", change)
		set, _ := p.Setup("A2")
		v := View{phrase.English, p.Job.Style}.Face(set.Rod)
		s := &Sheet{View: v}
		s.dial(v, set)
		if set.Proof == nil || len(s.Blocks) < 2 {
			t.Fatalf("A2 has no proof of its dial: %+v", s.Blocks)
		}
		for _, rod := range []unit.Reading{set.Proof.RodA, set.Proof.RodB} {
			if told := strings.Contains(s.Blocks[1].Text, v.Style.Reading(rod)); told == planned {
				t.Errorf("planned %v: %q tells %s: %v", planned, s.Blocks[1].Text, v.Style.Reading(rod), told)
			}
		}
	}
}

func isTag(p *plan.Plan, text string) bool {
	_, ok := p.Setup(text)
	return ok
}

// TestALiveNumberIsPrinted: the same search finds live numbers, so that it can
// fail.
func TestALiveNumberIsPrinted(t *testing.T) {
	e := editions(t, nil)[0]
	rods, found, large := rodTexts(e.plan, e.view), 0, 0
	for _, page := range e.printed(t).Pages {
		for _, it := range page.Items {
			if rods[strings.ReplaceAll(it.Text, noBreak, " ")] {
				found++
			}
			if it.Size > mostPlannedSize && it.Set == draw.Strong && !isTag(e.plan, it.Text) {
				large++
			}
		}
	}
	if found < 30 || large < 20 {
		t.Errorf("%d rods in tables and drawings and %d large pieces found, want a book full", found, large)
	}
}

// TestEveryDigAndSetupHasItsSheets: nothing is forgotten, and each card names its
// tag.
func TestEveryDigAndSetupHasItsSheets(t *testing.T) {
	for _, name := range examples {
		e := edition{plan: example(t, name, nil), paper: Letter}
		e.view = View{e.plan.Job.Language, e.plan.Job.Style}
		titles := ""
		for _, page := range e.printed(t).Pages {
			titles += page.Title + "\n"
		}
		for _, k := range Cards(e.plan) {
			if want := (cardOf{Card: k, View: e.view}).title(); !strings.Contains(titles, want) {
				t.Errorf("%s: no card %q", name, want)
			}
		}
		for _, s := range e.plan.Setups {
			if want := e.view.Text("sheet.setup_title", phrase.With("setup", s.ID)); !strings.Contains(titles, want) {
				t.Errorf("%s: no %q", name, want)
			}
		}
	}
}

// TestTheSameBookHasTheSameBytes on every machine: the digests are compared
// natively and in WebAssembly (.ci/check).
func TestTheSameBookHasTheSameBytes(t *testing.T) {
	var b strings.Builder
	for _, name := range examples {
		p := example(t, name, nil)
		for _, paper := range []Paper{Letter, A4} {
			e := edition{plan: p, view: View{p.Job.Language, p.Job.Style}, paper: paper}
			first, second := PDF(e.printed(t)), PDF(e.printed(t))
			if string(first) != string(second) {
				t.Errorf("two books of %s differ", name)
			}
			sum := sha256.Sum256(first)
			fmt.Fprintf(&b, "%s  %s %s\n", hex.EncodeToString(sum[:]), name, paper.Name)
		}
	}
	golden(t, "book.sha256", b.String())
}

// golden compares with a file of testdata/golden, or writes it.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", "golden", name)
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != got {
		t.Errorf("%s differs; look at it and run go test ./sheet -update", path)
	}
}

// fileName is a title as every file system takes it.
func fileName(title string) string {
	return strings.ToLower(strings.NewReplacer(" ", "-", ",", "", "ó", "o").Replace(title))
}

// TestPagesAsDrawings keeps some pages of every kind as SVG, for a person to
// look at and to see what a change does.
func TestPagesAsDrawings(t *testing.T) {
	for _, g := range []struct {
		example string
		paper   Paper
		title   string
	}{
		{"alder-quay", Letter, "P1 from A1"}, {"alder-quay", Letter, "AF from A3"}, {"alder-quay", Letter, "SD1 from A2"},
		{"alder-quay", Letter, "W1 from A1"}, {"alder-quay", Letter, "Set-up A3"}, {"alder-quay", Letter, "Cut sheet SD1 from A1"},
		{"fennel-yard", A4, "A-1 desde B1"}, {"fennel-yard", A4, "Resumen de la obra"}, {"fennel-yard", A4, "Cómo quedó"}, {"fennel-yard", A4, "Comprobaciones en el tiempo"},
	} {
		p := example(t, g.example, nil)
		e := edition{plan: p, view: View{p.Job.Language, p.Job.Style}, paper: g.paper}
		found := false
		for _, page := range e.printed(t).Pages {
			if page.Title == g.title && !found {
				found = true
				golden(t, fileName(g.example+" "+g.title)+".svg", string(PageSVG(page)))
			}
		}
		if !found {
			t.Errorf("%s has no page %q", g.example, g.title)
		}
	}
}

// hostile gives a job long names everywhere.
func hostile(text string) string {
	return strings.NewReplacer(
		`name = "Alder Quay boat store"`, `name = "The new boat store, workshop and slipway of the harbour at Alder Quay, second stage, north side, with the winch pit"`,
		`name = "Patio El Hinojo"`, `name = "Ampliación del patio, los drenajes y la losa de la granja de El Hinojo, segunda etapa, lado norte, con su caja"`,
		`"S-101"`, `"S-101/2026-rev-preliminary-B"`, `revision = "C"`, `revision = "C for tender, not issued"`, `revision = "2"`, `revision = "2 para licitación"`,
		`"W1"`, `"WINCH-PIT-AT-THE-NORTH-SLIP-1"`, `"SD1"`, `"STORM-DRAIN-TO-THE-OUTFALL-1"`, `"D-1"`, `"DRENAJE-AL-CAMPO-DEL-NORTE-1"`, `"A1"`, `"SETUP-A1-BY-THE-GATE"`,
		`words = "`, `words = "Übermaß — see the general notes on sheets S-001 to S-004 and the geotechnical report before anything is dug here; `,
	).Replace(text)
}

// TestLongNamesFitToo: the law holds where every name is longer than its box.
func TestLongNamesFitToo(t *testing.T) {
	for _, e := range editions(t, hostile) {
		for n, page := range e.printed(t).Pages {
			if faults := lawless(page); len(faults) > 0 {
				t.Errorf("%s, page %d (%s):\n  %s", e.name, n+1, page.Title, strings.Join(faults, "\n  "))
			}
		}
	}
}
