package server

import (
	"fmt"
	"html"
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/examples"
	"spadework/exchange"
	"spadework/sheet"
)

// tags is markup; what is left is what a reader copies.
var tags = regexp.MustCompile(`<[^>]*>`)

func plain(page string) string { return html.UnescapeString(tags.ReplaceAllString(page, "")) }

// examplePlan plans an example that is built in.
func examplePlan(t *testing.T, name string) *plan.Plan {
	t.Helper()
	folder, err := fs.Sub(examples.Files, name)
	if err != nil {
		t.Fatal(err)
	}
	data, err := fs.ReadFile(folder, "job.toml")
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := exchange.ReadJob("job.toml", data, func(n string) ([]byte, error) { return fs.ReadFile(folder, n) })
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

// TestThePageHasEveryCellOfThePlan: what the command line prints of the plan, of
// every trace, strip and stake stands on the page, in both languages.
func TestThePageHasEveryCellOfThePlan(t *testing.T) {
	for _, name := range []string{"alder-quay", "fennel-yard"} {
		p := examplePlan(t, name)
		for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
			v := sheet.View{Language: lang, Style: p.Job.Style}
			text := plain(body(t, ask(Demo(p, v), "GET", "/", "127.0.0.1")))
			sheets := []*sheet.Sheet{sheet.Plan(p, v, true), sheet.Stakes(p, v)}
			for _, d := range p.Digs {
				sheets = append(sheets, sheet.Trace(p, v, d))
			}
			for _, set := range p.Setups {
				groups, f := p.ClampStrip(set.ID, 0)
				if f != nil {
					t.Fatal(f)
				}
				sheets = append(sheets, sheet.Strip(v, set, groups, p.WorkedTo))
			}
			cells := 0
			for _, s := range sheets {
				for _, want := range wanted(s) {
					cells++
					if !strings.Contains(text, sheet.Unbroken(want)) {
						t.Errorf("%s in %s lacks %q", name, lang, want)
					}
				}
			}
			if cells < 200 {
				t.Errorf("%s in %s: only %d texts looked for", name, lang, cells)
			}
			if !strings.Contains(text, "2026-05-06") {
				t.Errorf("%s in %s lacks its date", name, lang)
			}
		}
	}
}

// wanted are the texts of a sheet but its title, which the page sets in boxes.
func wanted(s *sheet.Sheet) []string {
	var out []string
	for _, b := range s.Blocks {
		switch {
		case b.Kind == sheet.TableBlock:
			for _, row := range b.Table.Rows {
				out = append(out, row...)
			}
		case b.Kind != sheet.Title:
			out = append(out, b.Text)
		}
	}
	return out
}

// TestStopsComeFirst: nothing of the plan stands before what stops work.
func TestStopsComeFirst(t *testing.T) {
	p := examplePlan(t, "alder-quay")
	v := sheet.View{Language: phrase.English, Style: p.Job.Style}
	page := body(t, ask(Demo(p, v), "GET", "/", "127.0.0.1"))
	stop, drawing, numbers := strings.Index(page, `class="finding stop"`), strings.Index(page, "<svg"), strings.Index(page, "<h2>NUMBERS")
	if !(stop > 0 && stop < drawing && drawing < numbers) {
		t.Errorf("stop at %d, drawing at %d, numbers at %d, want them in this order", stop, drawing, numbers)
	}
}

// TestPlannedNumbersAreSetApart: every row of a planned set-up is marked, and no
// other.
func TestPlannedNumbersAreSetApart(t *testing.T) {
	p := examplePlan(t, "alder-quay")
	v := sheet.View{Language: phrase.English, Style: p.Job.Style}
	page := body(t, ask(Demo(p, v), "GET", "/", "127.0.0.1"))
	rows := regexp.MustCompile(`(?s)<tr( class="planned")?>(.*?)</tr>`).FindAllStringSubmatch(page, -1)
	marked := 0
	for _, row := range rows {
		blank := strings.Contains(row[2], "____")
		if blank != (row[1] != "") {
			t.Errorf("row %q: marked %t, waits for a height %t", plain(row[2]), row[1] != "", blank)
		}
		if blank {
			marked++
		}
	}
	if marked < 6 { // the set-up and its five trenches
		t.Errorf("%d rows are marked as planned, want 6 at least", marked)
	}
}

func TestADateThatIsNotToldIsSaid(t *testing.T) {
	p := examplePlan(t, "alder-quay")
	p.Job.Today = ""
	v := sheet.View{Language: phrase.English, Style: p.Job.Style}
	if page := body(t, ask(Demo(p, v), "GET", "/", "127.0.0.1")); !strings.Contains(page, "<dt>Date</dt><dd>not told</dd>") {
		t.Error("the head does not say that its date is not told")
	}
}

func TestFractionsAreSetAndReadAsThemselves(t *testing.T) {
	fr := func(n, d string) string {
		return `<span class="fr"><span>` + n + `</span><i>/</i><span>` + d + `</span></span>`
	}
	for text, want := range map[string]string{
		`8'-1 1/8"`:       `<span class="nb">8&#39;-1` + "\u00a0" + fr("1", "8") + `&#34;</span>`,
		`1/2" high`:       `<span class="nb">` + fr("1", "2") + `&#34;</span> high`,
		`3/4:1`:           `<span class="nb">` + fr("3", "4") + `:1</span>`,
		"1/2/2026":        "1/2/2026",
		"5/160":           "5/160",
		"1/3":             "1/3",
		"a <b> & c":       "a &lt;b&gt; &amp; c",
		"4 13/16 to <1/2": `<span class="nb">4` + "\u00a0" + fr("13", "16") + `</span> to <span class="nb">&lt;` + fr("1", "2") + `</span>`,
		"":                "",
	} {
		if got := string(figures(text)); got != want {
			t.Errorf("figures(%q) = %s, want %s", text, got, want)
		}
	}
}

// TestFiguresSayWhatWasWritten: without its markup a text is what it was.
func TestFiguresSayWhatWasWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[ -~½é]{0,30}|[0-9'" /.,-]{0,30}`).Draw(t, "text")
		if got := plain(string(figures(text))); got != sheet.Unbroken(text) {
			t.Fatalf("figures(%q) reads as %q", text, got)
		}
	})
}

// TestIDsAreOnThePageOnce: a link to a dig finds one place.
func TestIDsAreOnThePageOnce(t *testing.T) {
	p := examplePlan(t, "alder-quay")
	page := body(t, ask(Demo(p, sheet.View{Language: phrase.English, Style: p.Job.Style}), "GET", "/", "127.0.0.1"))
	for _, d := range p.Digs {
		if n := strings.Count(page, fmt.Sprintf("<details id=%q>", "dig-"+d.Excavation.ID)); n != 1 {
			t.Errorf("%s has %d places, want 1", d.Excavation.ID, n)
		}
	}
}
