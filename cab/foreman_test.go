package cab

import (
	"encoding/json"
	"maps"
	"strings"
	"testing"

	"spadework/engine/geom"
	"spadework/exchange"
)

// foreman is a bench with the calls of a foreman's page, a job open.
func foreman(t *testing.T, name string) (*bench, Opening) {
	t.Helper()
	o := opening(t, name)
	b := &bench{T: t, Engine: *NewForeman()}
	b.ask(new(Home), "open", o)
	return b, o
}

// Every key of every example, read for a form and written back through the calls,
// leaves the job as it was.
func TestFormsWriteWhatTheyRead(t *testing.T) {
	for _, name := range []string{"alder-quay", "fennel-yard", "sorrel-bank"} {
		b, o := foreman(t, name)
		var form struct {
			Values map[string]json.RawMessage
			Faults []Misread
		}
		b.ask(&form, "job_read", map[string]any{"bundle": o.Bundle})
		if len(form.Faults) > 0 || len(form.Values) < 5 {
			t.Fatalf("%s reads as %d tables with faults %v", name, len(form.Values), form.Faults)
		}
		var edits []map[string]any
		for table, raw := range form.Values {
			var list []map[string]json.RawMessage
			if raw[0] == '{' {
				raw = []byte("[" + string(raw) + "]")
			}
			if err := json.Unmarshal(raw, &list); err != nil {
				t.Fatal(err)
			}
			for i, one := range list {
				for key, v := range one {
					edits = append(edits, map[string]any{"kind": "set", "table": table, "index": i, "key": key, "value": v})
				}
			}
		}
		var made struct {
			Bundle exchange.Bundle
			Form   struct{ Values json.RawMessage }
		}
		b.ask(&made, "job_write", map[string]any{"bundle": o.Bundle, "edits": edits})
		var again struct{ Values map[string]json.RawMessage }
		b.ask(&again, "job_read", map[string]any{"bundle": made.Bundle})
		for table, raw := range form.Values {
			if string(again.Values[table]) != string(raw) {
				t.Errorf("%s: %s reads %s, was %s", name, table, again.Values[table], raw)
			}
		}
		o.Bundle = made.Bundle
		b.ask(new(Home), "open", o) // and plans
	}
}

// A wrong value is told with the table and key of the form that it stands in.
func TestAFaultNamesItsField(t *testing.T) {
	b, o := foreman(t, "alder-quay")
	var made struct {
		Bundle exchange.Bundle
		Form   struct{ Faults []Misread }
	}
	b.ask(&made, "job_write", map[string]any{"bundle": o.Bundle, "edits": []map[string]any{
		{"kind": "set", "table": "benchmark", "index": 1, "key": "elevation", "value": "102 elbows"}}})
	if f := made.Form.Faults; len(f) != 1 || f[0].Table != "benchmark" || f[0].Index != 1 || f[0].At != "elevation" {
		t.Errorf("the fault is told at %+v", f)
	}
	var faults []Misread
	b.ask(&faults, "validate", map[string]any{"bundle": made.Bundle})
	if len(faults) != 1 {
		t.Errorf("validate tells %d faults, want 1", len(faults))
	}
}

// A new job has its head and is planned; what two versions differ in is told.
func TestANewJobAndItsDifferences(t *testing.T) {
	b := &bench{T: t, Engine: *NewForeman()}
	var made struct{ Bundle exchange.Bundle }
	b.ask(&made, "job_new", map[string]any{"name": "Tern Wharf", "units": "ft", "language": "es"})
	b.ask(new(Home), "open", Opening{ID: "j", Bundle: made.Bundle, Revision: 1, Device: "foreman", Today: "2026-05-04"})
	var other struct{ Bundle exchange.Bundle }
	b.ask(&other, "job_write", map[string]any{"bundle": made.Bundle, "files": map[string]string{"a.csv": "x\n"}, "edits": []map[string]any{
		{"kind": "set", "table": "job", "index": 0, "key": "name", "value": "Tern Quay"},
		{"kind": "add", "table": "datum", "index": 0, "value": map[string]string{"id": "F", "elevation": "100"}}}})
	var told []Difference
	b.ask(&told, "job_diff", map[string]any{"mine": made.Bundle, "theirs": other.Bundle})
	want := []Difference{{"job", "", "name", "Tern Wharf", "Tern Quay"}, {"datum", "F", "elevation", "", "100"}, {"datum", "F", "id", "", "F"}, {"", "a.csv", "", "", "x …"}}
	if len(told) != len(want) {
		t.Fatalf("they differ in %+v, want %+v", told, want)
	}
	for i := range want {
		if told[i] != want[i] {
			t.Errorf("difference %d is %+v, want %+v", i, told[i], want[i])
		}
	}
}

// Pasted rows are read whatever parts them, in either language, and a heading that
// means nothing is refused with its place.
func TestPastedRows(t *testing.T) {
	b := &bench{T: t, Engine: *NewForeman()}
	for _, text := range []string{"Mark\tE\tN\tB/FTG\nF1\t10\t20\t96.5\n", "fondo;marca;norte;este\n96,5;F1;20;10\n", "N,E,Mark,bottom\n20,10,F1,96.5\n"} {
		var got PastedTable
		b.ask(&got, "pasted", map[string]string{"name": "s.csv", "text": text})
		means := map[string]string{}
		for i, m := range got.Means {
			means[m] = got.Rows[0][i]
		}
		want := map[string]string{"id": "F1", "x": "10", "y": "20", "elevation": "96.5"}
		if got.Comma {
			want["elevation"] = "96,5"
		}
		if !maps.Equal(means, want) {
			t.Errorf("pasted(%q) means %v, want %v", text, means, want)
		}
	}
	var a struct{ Fault *Told }
	b.raw(&a, "pasted", map[string]string{"name": "s.csv", "text": "Mark\tColour\nF1\tred\n"})
	if a.Fault == nil || !strings.HasPrefix(a.Fault.Place, "s.csv:1:") {
		t.Errorf("an unknown heading gives %+v", a.Fault)
	}
}

// A map moved and zoomed about a place shows that place where it was; what is
// tapped is found there.
func TestTheMapIsMovedAndTapped(t *testing.T) {
	b, o := foreman(t, "alder-quay")
	var whole SiteMap
	b.ask(&whole, "site", Move{View: View{Width: 200, Height: 150}})
	if len(whole.Scene.Items) < 50 || !(whole.View.Scale > 0) {
		t.Fatalf("the whole site is %d items at %v", len(whole.Scene.Items), whole.View.Scale)
	}
	c, _ := Open(o, nil)
	d, _ := c.plan.Dig("P9")
	at := d.Parts[0].Outline.Centroid()
	x, y := (at.X-whole.View.East)*whole.View.Scale, (whole.View.North-at.Y)*whole.View.Scale
	var got Picked
	b.ask(&got, "pick", map[string]any{"view": whole.View, "x": x, "y": y})
	if got.Kind != "dig" || got.ID != "P9" {
		t.Errorf("at P9 stands %+v", got)
	}
	var near SiteMap
	b.ask(&near, "site", Move{View: whole.View, Right: 10, Down: -5, Zoom: 3, X: x + 10, Y: y - 5, Shots: true})
	b.ask(&got, "pick", map[string]any{"view": near.View, "x": x + 10, "y": y - 5})
	if got.ID != "P9" || !(near.View.Scale/whole.View.Scale > 2.99) {
		t.Errorf("moved and zoomed, %+v stands there at scale %v", got, near.View.Scale)
	}
	var drawn Drawn
	b.ask(&drawn, "draw_dig", map[string]any{"view": whole.View, "kind": "footing", "round": "0.5", "taps": [][2]float64{{20, 20}, {24, 25}}, "values": map[string]any{"bottom": map[string]string{"elevation": "97"}}})
	var made struct {
		Bundle exchange.Bundle
		Form   struct{ Faults []Misread }
	}
	b.ask(&made, "job_write", map[string]any{"bundle": o.Bundle, "edits": []FormEdit{drawn.Edit}})
	if drawn.ID != "F1" || len(made.Form.Faults) > 0 || !strings.Contains(made.Bundle.Files["job.toml"], `id = "F1"`) {
		t.Errorf("tapped gives %+v with faults %v", drawn, made.Form.Faults)
	}
}

// The similarity takes both points to their places and keeps angles: a turned,
// larger drawing (by hand).
func TestADrawingIsFitted(t *testing.T) {
	m := fitted([2]geom.Point{{X: 0, Y: 0}, {X: 10, Y: 0}}, [2]geom.Point{{X: 5, Y: 5}, {X: 5, Y: 25}})
	for _, c := range []struct{ on, want geom.Point }{{geom.Point{}, geom.Point{X: 5, Y: 5}}, {geom.Point{X: 10}, geom.Point{X: 5, Y: 25}}, {geom.Point{Y: 10}, geom.Point{X: -15, Y: 5}}} {
		got := geom.Point{X: m[0]*c.on.X + m[2]*c.on.Y + m[4], Y: m[1]*c.on.X + m[3]*c.on.Y + m[5]}
		if !(got.Distance(c.want) < 1e-9) { // pixels: rounding
			t.Errorf("fitted takes %v to %v, want %v", c.on, got, c.want)
		}
	}
}

// What the log of the example proves: its shots, charts, holds, and the sheets.
func TestWhatTheLogProves(t *testing.T) {
	b, _ := foreman(t, "alder-quay")
	var got AsBuilt
	b.ask(&got, "as_built", struct{}{})
	shot, over := 0, 0
	for _, d := range got.Digs {
		shot += len(d.Points)
		for _, p := range d.Points {
			if p.Size != "" {
				over++
			}
		}
	}
	if shot == 0 || over == 0 || got.Shots == nil || got.Closes == nil || len(got.Holds) < 3 {
		t.Errorf("%d points, %d over-dug, charts %v %v, %d holds", shot, over, got.Shots != nil, got.Closes != nil, len(got.Holds))
	}
	for _, name := range []string{"plan", "why", "amounts", "checks", "left", "order", "trace", "trust"} {
		var p Paper
		b.ask(&p, "paper", map[string]string{"name": name, "dig": "P1"})
		if len(p.Blocks) == 0 {
			t.Errorf("the sheet %s is empty", name)
		}
	}
}
