package cab

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/examples"
	"spadework/exchange"
)

// opening is an example with its records, if it has any.
func opening(t *testing.T, name string) Opening {
	t.Helper()
	folder, err := fs.Sub(examples.Files, name)
	if err != nil {
		t.Fatal(err)
	}
	b, err := exchange.BundleOf("job.toml", func(file string) ([]byte, error) { return fs.ReadFile(folder, file) })
	if err != nil {
		t.Fatal(err)
	}
	o := Opening{ID: name, Bundle: b, Revision: 1, Device: "phone", Language: phrase.English, Today: "2026-05-04"}
	if log, err := fs.ReadFile(folder, "job.log.jsonl"); err == nil {
		o.Records = strings.Split(strings.TrimSpace(string(log)), "\n")
	}
	return o
}

// bench is an engine with what a test asks of it.
type bench struct {
	*testing.T
	Engine
}

// ask calls and decodes; a fault fails the test.
func (b *bench) ask(into any, name string, args any) {
	b.Helper()
	var a struct {
		OK    json.RawMessage
		Fault *Told
	}
	b.raw(&a, name, args)
	if a.Fault != nil {
		b.Fatalf("%s(%+v) = fault %+v", name, args, *a.Fault)
	}
	if err := json.Unmarshal(a.OK, into); err != nil {
		b.Fatal(err)
	}
}

func (b *bench) raw(into any, name string, args any) {
	b.Helper()
	q, err := json.Marshal(map[string]any{"call": name, "args": args})
	if err != nil {
		b.Fatal(err)
	}
	if err := json.Unmarshal(b.Call(q, nil), into); err != nil {
		b.Fatal(err)
	}
}

// say drafts a record and adds it.
func (b *bench) say(kind string, words map[string]string) Drafted {
	b.Helper()
	var d Drafted
	b.ask(&d, "draft", saying(kind, words))
	b.ask(new(Home), "add", map[string]any{"records": []string{d.Record}})
	return d
}

// Minutes after the example's last record, one more a saying.
var clock = dayBegins

const dayBegins = int64(1777922000000)

func saying(kind string, words map[string]string) Saying {
	clock += 60000
	return Saying{Kind: kind, Words: words, Person: "Ines", Millis: clock, Offset: -240, Random: "00112233445566778899"}
}

func TestExampleOpensWithItsDay(t *testing.T) {
	b := &bench{T: t}
	var h Home
	b.ask(&h, "open", opening(t, "alder-quay"))
	if h.Name != "Alder Quay boat store" || len(h.Digs) == 0 || len(h.Tags) == 0 || h.Basis.Records == 0 {
		t.Errorf("open = %+v, want the example's digs, tags and records", h)
	}
	var s Stand
	for _, d := range h.Digs {
		b.ask(&s, "stand", map[string]string{"dig": d.ID})
		if s.Dig != d.ID || len(s.Points) == 0 && s.Why == "" {
			t.Errorf("stand(%s) = no points and no word why", d.ID)
		}
		for _, p := range s.Points {
			if p.none() != (s.Why != "") {
				t.Errorf("stand(%s) %s: number %q beside %q, want one of them", d.ID, p.Name, p.text(), s.Why)
			}
		}
	}
}

// A laser is set up, a footing shot high, then good, the laser stops, and no
// number is shown before a close.
func TestDayOfAnOperator(t *testing.T) {
	b := &bench{T: t}
	o := opening(t, "alder-quay")
	o.Records = nil
	var h Home
	b.ask(&h, "open", o)
	for _, d := range h.Digs {
		if d.Live != nil {
			t.Errorf("%s has %+v before any set-up is in the log", d.ID, d.Live)
		}
	}
	b.say("setup", map[string]string{"tag": "A1"})
	var s Stand
	b.ask(&s, "stand", map[string]string{"dig": "P1"})
	if s.Tag != "A1" || s.Why != "" || s.Points[0].Live == nil {
		t.Fatalf("stand(P1) after the set-up = tag %s, why %q, %+v", s.Tag, s.Why, s.Points[0])
	}
	high := b.say("shot", map[string]string{"tag": "A1", "dig": "P1", "call": "high", "amount": s.Steps[3]})
	if high.Shot == nil || high.Shot.Verdict != "to_dig" {
		t.Errorf("a shot high by %s = %+v, want to_dig", s.Steps[3], high.Shot)
	}
	on := b.say("shot", map[string]string{"tag": "A1", "dig": "P1", "call": "on"})
	if on.Shot == nil || on.Shot.Verdict != "not_closed" {
		t.Errorf("a shot on grade = %+v, want not_closed", on.Shot)
	}
	named := b.say("shot", map[string]string{"tag": "A1", "dig": "P1", "point": "centre", "call": "low", "amount": s.Steps[0]})
	b.ask(&s, "stand", map[string]string{"dig": "P1", "tag": "A1"})
	if s.Points[0].Shot == nil || s.Points[0].Shot.Text != named.Shot.Text {
		t.Errorf("the centre named shows %+v, want its newest shot %+v", s.Points[0].Shot, named.Shot)
	}
	stopped := b.say("laser_stopped", nil)
	if len(stopped.Told) == 0 {
		t.Error("the stop tells nothing")
	}
	b.ask(&s, "stand", map[string]string{"dig": "P1", "tag": "A1"})
	if s.Why == "" || !s.Points[0].none() {
		t.Errorf("after the stop: why %q, %q, want no number", s.Why, s.Points[0].text())
	}
	var closes []Close
	b.ask(&closes, "closes", map[string]string{"tag": "A1"})
	if len(closes) == 0 {
		t.Fatal("no point to close on")
	}
	b.say("close", map[string]string{"tag": "A1", "point": closes[0].Point, "reading": closes[0].Expected})
	b.ask(&s, "stand", map[string]string{"dig": "P1", "tag": "A1"})
	if s.Why != "" || s.Points[0].none() || s.Points[0].Shot == nil {
		t.Errorf("after the close: why %q, %+v, want the number and the shot", s.Why, s.Points[0])
	}
}

// A laser stands where the plan has none: its numbers come from its own sight.
func TestSetUpOnSite(t *testing.T) {
	b := &bench{T: t}
	o := opening(t, "alder-quay")
	var h Home
	b.ask(&h, "open", o)
	n := NewSetup{Saying: saying("", nil), Tag: "S1", Laser: h.Choices.Lasers[0], Rod: h.Choices.Rods[0], East: "140", North: "60",
		Sights: []NewSight{{h.Choices.Benchmarks[0], "6'-2\""}}}
	var up SetUp
	b.ask(&up, "setup", n)
	if up.HI == "" || len(up.Serves) == 0 || len(up.Strip) != len(up.Serves) {
		t.Fatalf("setup = %+v, want a height and digs", up)
	}
	b.ask(&h, "add", map[string]any{"records": []string{up.Record}})
	var s Stand
	b.ask(&s, "stand", map[string]string{"dig": up.Serves[0], "tag": "S1"})
	if s.Why != "" || s.Points[0].Live == nil || s.Points[0].Live.Tag != "S1" || s.Points[0].text() != up.Strip[0].text() {
		t.Errorf("stand(%s) = why %q, %+v, want %+v", up.Serves[0], s.Why, s.Points[0].text(), up.Strip[0].text())
	}
}

func TestFaultsAreToldInTheLanguage(t *testing.T) {
	b := &bench{T: t}
	var a struct{ Fault *Told }
	b.raw(&a, "home", nil)
	if a.Fault == nil || a.Fault.Key != "cab.nothing_open" {
		t.Errorf("home before open = %+v, want cab.nothing_open", a.Fault)
	}
	o := opening(t, "alder-quay")
	o.Language = phrase.Spanish
	b.ask(new(Home), "open", o)
	cases := []struct {
		call string
		args any
		key  string
	}{
		{"stand", map[string]string{"dig": "nowhere"}, "cab.unknown_dig"},
		{"draft", saying("gossip", nil), "cab.unknown_kind"},
		{"draft", saying("shot", map[string]string{"tag": "A9", "dig": "P1", "call": "on"}), "record.no_such_tag"},
		{"draft", Saying{Kind: "note", Random: "zz"}, "cab.random"},
		{"setup", NewSetup{Tag: "S1", East: "1", North: "2"}, "cab.no_sight"},
		{"setup", NewSetup{}, "cab.no_tag"},
		{"open", map[string]int{"colour": 3}, "cab.request"},
		{"dance", nil, "cab.unknown_call"},
	}
	for _, c := range cases {
		a.Fault = nil
		b.raw(&a, c.call, c.args)
		if a.Fault == nil || a.Fault.Key != c.key || a.Fault.Message == "" {
			t.Errorf("%s(%+v) = %+v, want %s", c.call, c.args, a.Fault, c.key)
		}
	}
}

// FuzzCall: no request makes the engine fail or answer anything but JSON.
func FuzzCall(f *testing.F) {
	f.Add([]byte(`{"call":"home"}`))
	f.Add([]byte(`{"call":"open","args":{"id":"x","bundle":{"format":1,"main":"job.toml","files":{"job.toml":"[job]\nname=\"x\"\nunits=\"m\"\n"}}}}`))
	f.Add([]byte(`{"call":"draft","args":{"kind":"note","words":{"words":"x"},"random":"00112233445566778899"}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var e Engine
		if out := e.Call(data, nil); !json.Valid(out) || !bytes.HasPrefix(out, []byte(`{"`)) {
			t.Errorf("Call(%q) = %q, want an answer", data, out)
		}
	})
}

// Every call is told in docs/engine-calls.md, and nothing else is.
func TestDocsTellTheCalls(t *testing.T) {
	doc, err := os.ReadFile(filepath.Join("..", "docs", "engine-calls.md"))
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]bool{}
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z_]+)` \\|").FindAllStringSubmatch(string(doc), -1) {
		told[m[1]] = true
	}
	for _, table := range []map[string]call{calls, foremanCalls()} {
		for name := range table {
			if !told[name] {
				t.Errorf("docs/engine-calls.md does not tell %s", name)
			}
			delete(told, name)
		}
	}
	for name := range told {
		t.Errorf("docs/engine-calls.md tells %s, which is no call", name)
	}
}
