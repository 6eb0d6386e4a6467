package plan_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/plan"
)

// keptJob is a small job of which everything is known and nothing breaks a rule.
// Words in << >> are filled in from keptWords or by a case. Bare numbers are feet.
const keptJob = `
[job]
name = "A trench to judge"
units = "ft"
[[benchmark]]
id = "BM1"
at = [-300, 0]
elevation = 100
hard = true
[[benchmark]]
id = "BM2"
at = [-300, 90]
elevation = 100
<<ground>>
[[laser]]
id = "L1"
accuracy = '10"'
range = 500
heights = [3, 10]
[[rod]]
id = "R1"
face = "inches"
longest = 16
[[machine]]
id = "M1"
<<machine>>
[[setup]]
tag = "A1"
at = [-100, -60]
backsights = [{ benchmark = "BM1", rod = <<rod>> }, { benchmark = "BM2", rod = <<rod>> }]
[rules]
<<set>>
<<competent>>
<<override>>
[site]
<<ticket>>
<<marked>>
<<expires>>
<<private>>
<<encumbrances>>
<<vests>>
<<under>>
<<rain>>
<<frost>>
[site.beam]
<<walk>>
<<signs>>
<<attended>>
<<trained>>
<<foul>>
[conditions]
<<soil>>
<<fissured>>
<<vibration>>
<<disturbed>>
<<water>>
<<people>>
<<surcharge>>
<<air>>
<<support>>
<<hours>>
<<way_out>>
running = false
cohesive = <<cohesive>>
<<edge>>
<<more>>
[[excavation]]
id = "T1"
kind = "<<kind>>"
<<place>>
bottom = { elevation = <<bottom>> }
sides = <<sides>>
tolerance = 0.05
<<entry>>
<<beside>>
`

// keptWords is what keptJob is filled in with: a trench 3.9 ft deep in type B.
var keptWords = map[string]string{
	"ground": "[ground]\nlevel = 100",
	"machine": `type = "tracked"
footprint = [8, 12]
max_reach = 25
max_depth = 15
highest = 18`,
	"rod": "7", "set": `set = "us_federal"`, "competent": `competent_person = "A. Digger"`, "override": "",
	"ticket": `ticket = "T-1"`, "marked": "marked_on = 2026-05-01", "expires": "expires = 2026-05-04", "private": "private_locate = true",
	"encumbrances": "encumbrances_held = true", "vests": "vests = true", "under": "nobody_under_loads = true", "rain": "",
	"frost": "frost = 2.5", "walk": "people_walk = true", "signs": "signs = true", "attended": "attended = true",
	"trained": "trained = true", "foul": "foul_weather = false",
	"soil": `soil = "B"`, "fissured": "fissured = false", "vibration": "vibration = false", "disturbed": "disturbed = false",
	"water": "water = false", "people": "people = true", "surcharge": "surcharge = false", "air": "air_hazard = false",
	"support": `support = "none"`, "hours": "open_hours = 8", "way_out": "way_out = 20", "cohesive": "true", "edge": "edge_marked = true", "more": "",
	"kind": "trench", "place": "line = [[0, 0], [40, 0]]\nwidth = 2", "bottom": "96.1", "sides": `"vertical"`,
	"entry":  "[[entry]]\nwho = \"A. Digger\"\nat = \"2026-05-04T07:10\"\nsaw = \"dry, no cracks\"",
	"beside": "",
}

// words are changes of keptWords.
type words map[string]string

// fill is keptJob with changes; a word that keptJob does not have panics.
func fill(changes ...words) string {
	text := keptJob
	all := map[string]string{}
	for k, v := range keptWords {
		all[k] = v
	}
	for _, c := range changes {
		for k, v := range c {
			if _, ok := all[k]; !ok {
				panic("no word " + k)
			}
			all[k] = v
		}
	}
	for k, v := range all {
		text = strings.ReplaceAll(text, "<<"+k+">>", v)
	}
	return text
}

const judgeDay = "2026-05-04"

// planOf plans a job that must be read.
func planOf(t *testing.T, text string) *plan.Plan {
	t.Helper()
	doc, fault := job.Parse("job.toml", []byte(text))
	if fault == nil {
		var j *job.Job
		if j, fault = doc.Decode(job.Files{}); fault == nil {
			j.Today = judgeDay
			p, f := plan.Make(j)
			if f == nil {
				return p
			}
			fault = f
		}
	}
	t.Fatalf("the job is not planned: %v; %s", fault, fault.Remedy.Render(phrase.English, job.Voice{}.Style))
	return nil
}

// graver is the rules that speak above a note.
func graver(p *plan.Plan) []string {
	var out []string
	for _, f := range p.Findings {
		if f.Severity != phrase.Note {
			out = append(out, f.Rule)
		}
	}
	return out
}

func speaks(p *plan.Plan, rule string) bool { return slices.Contains(graver(p), rule) }

func TestTheKeptJobBreaksNothing(t *testing.T) {
	if got := graver(planOf(t, fill())); len(got) != 0 {
		t.Errorf("the kept job has findings above a note: %v", got)
	}
}

// deep is a depth of the trench under the ground at 100 ft.
func deep(feet float64) words { return words{"bottom": fmt.Sprintf("%.4f", 100-feet)} }

// metres is a depth in metres: the ground lies at 30.48 m.
func metres(depth float64) words {
	return words{"bottom": fmt.Sprintf("%q", fmt.Sprintf("%.4f m", 30.48-depth))}
}

// sloped are the trench's sides.
func sloped(ratio float64) words {
	return words{"sides": fmt.Sprintf("%q", fmt.Sprintf("%g:1", ratio))}
}

func soil(class string) words { return words{"soil": fmt.Sprintf("soil = %q", class)} }

// with is one word changed.
func with(k, v string) words { return words{k: v} }

// more adds to [conditions].
func more(lines ...string) words { return words{"more": strings.Join(lines, "\n")} }

// beside adds tables.
func beside(tables ...string) words { return words{"beside": strings.Join(tables, "\n")} }

// override switches a rule on, or changes it.
func override(rule, value string) words {
	return words{"override": fmt.Sprintf("[[rules.override]]\nrule = %q\nvalue = %q\nsource = \"read by the job\"", rule, value)}
}

// all joins changes.
func all(w ...words) []words { return w }

// pad makes the dig a pad that concrete bears on, so many feet deep.
func padDeep(feet float64) words {
	w := deep(feet)
	w["kind"], w["place"] = "pad", "at = [0, 0]\nsize = [6, 6]"
	return w
}

// pit makes it a pit of a width.
func pit(width float64) words {
	return words{"kind": "pit", "place": fmt.Sprintf("at = [0, 0]\nsize = [%g, 60]", width)}
}

// heapAt is a heap with its near side so far north of the trench's north edge at y = 1.
func heapAt(edge float64) string {
	return fmt.Sprintf("[[heap]]\nid = \"H1\"\noutline = [[0, %[1]g], [40, %[1]g], [40, %[2]g], [0, %[2]g]]", 1+edge, 6+edge)
}

// standAt is the machine, facing north, with its tracks so far from that edge.
func standAt(edge float64, more ...string) string {
	return fmt.Sprintf("[[stand]]\nid = \"1\"\nat = [20, %g]\n%s", 1+edge+6, strings.Join(more, "\n"))
}

// waterAt is a marked water line of 2 in along the trench, so far from that edge.
func waterAt(inches float64, more ...string) string {
	y := 1 + inches/12
	return fmt.Sprintf("[[utility]]\nid = \"W\"\nkind = \"water\"\nline = [[-10, %[1]g], [50, %[1]g]]\nprivate_locate = true\n%[2]s",
		y, strings.Join(more, "\n"))
}

const twoInch = `size = "2 in"`

// houseAt is a neighbour's footing along the trench, bearing so far under the ground.
func houseAt(distance, under float64, more ...string) string {
	return fmt.Sprintf("[[structure]]\nid = \"N\"\noutline = [[-5, %[1]g], [45, %[1]g], [45, 40], [-5, 40]]\nbearing_level = %[2]g\n%[3]s",
		1+distance, 100-under, strings.Join(more, "\n"))
}

// lineAt is an overhead line north of everything, so far from the machine that
// stands at y = 9: its arm ends at 9 + 1.05 × 25 = 35.25 and 18 ft up.
func lineAt(gap float64, voltage string, more ...string) string {
	return fmt.Sprintf("[[stand]]\nid = \"1\"\nat = [20, 9]\n[[overhead]]\nid = \"O\"\nline = [[-2000, %[1]g], [2000, %[1]g]]\nheight = 18\n%[2]s\n%[3]s",
		35.25+gap, voltage, strings.Join(more, "\n"))
}

func kV(v float64) string { return fmt.Sprintf("voltage = \"%g kV\"", v) }
