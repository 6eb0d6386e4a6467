package cab

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spadework/engine/phrase"
)

var update = flag.Bool("update", false, "write the digests anew")

// The answers for every example, in both languages, have the bytes that are
// kept. The test runs natively and in WebAssembly (.ci/check), so that page and
// command line say the same to the last digit.
func TestAnswersOfExamples(t *testing.T) {
	var out strings.Builder
	for _, name := range []string{"alder-quay", "fennel-yard", "sorrel-bank"} {
		for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
			o := opening(t, name)
			o.Language = lang
			out.WriteString(name + " " + string(lang) + " " + answersOf(t, o) + "\n")
		}
	}
	path := filepath.Join("testdata", "answers.sha256")
	if *update {
		if err := os.WriteFile(path, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if out.String() != string(want) {
		t.Errorf("the answers have the digests\n%swant\n%s(-update writes them anew)", out.String(), want)
	}
}

// answersOf is the digest of every answer about a job.
func answersOf(t *testing.T, o Opening) string {
	t.Helper()
	sum := sha256.New()
	session(t, o, func(_ *Engine, _ string, answer []byte) { sum.Write(answer) })
	return hex.EncodeToString(sum.Sum(nil))
}

// asks are everything that a page asks about a job as it stands.
func asks(h Home) []request {
	var out []request
	ask := func(name string, args any) {
		body, err := json.Marshal(args)
		if err != nil {
			panic(err)
		}
		out = append(out, request{name, body})
	}
	ask("home", struct{}{})
	for _, d := range h.Digs {
		ask("stand", map[string]string{"dig": d.ID})
		for _, tag := range h.Tags {
			ask("stand", map[string]string{"dig": d.ID, "tag": tag.Tag})
		}
	}
	for _, tag := range h.Tags {
		ask("closes", map[string]string{"tag": tag.Tag})
		ask("proving", map[string]string{"tag": tag.Tag})
	}
	for _, name := range []string{"watch", "check", "left", "quantities", "findings"} {
		ask(name, struct{}{})
	}
	ask("tapped", map[string]float64{"x": 50, "y": 60})
	ask("map", struct{}{})
	ask("plan", struct{}{})
	return out
}

// session goes through a day on a job and hands over every answer: opened without
// records, set up, shot, stopped, closed, spoken to in the other language; then
// opened with the records it has.
func session(t *testing.T, o Opening, see func(e *Engine, call string, answer []byte)) {
	t.Helper()
	d := &day{T: t, see: see}
	clock = dayBegins
	fresh := o
	fresh.Records = nil
	d.ask(&d.home, "open", fresh)
	d.all()
	d.ask(nil, "reach", struct{}{})
	d.setUp()
	d.all()
	d.shoot()
	d.say("laser_stopped", nil)
	d.all()
	d.closes()
	d.all()
	other := phrase.Spanish
	if o.Language == other {
		other = phrase.English
	}
	d.ask(&d.home, "speak", map[string]string{"language": string(other)})
	d.all()
	d.ask(&d.home, "open", o)
	d.all()
}

// day is a session on one engine.
type day struct {
	*testing.T
	e    Engine
	see  func(*Engine, string, []byte)
	home Home
	tag  string
}

func (d *day) ask(into any, name string, args any) {
	d.Helper()
	q, err := json.Marshal(map[string]any{"call": name, "args": args})
	if err != nil {
		d.Fatal(err)
	}
	answer := d.e.Call(q, nil)
	var a struct {
		OK    json.RawMessage
		Fault *Told
	}
	if err := json.Unmarshal(answer, &a); err != nil || a.Fault != nil {
		d.Fatalf("%s(%v) = %s", name, args, answer)
	}
	d.see(&d.e, name, answer)
	if into != nil {
		if err := json.Unmarshal(a.OK, into); err != nil {
			d.Fatal(err)
		}
	}
}

func (d *day) all() {
	d.Helper()
	for _, q := range asks(d.home) {
		d.ask(nil, q.Call, q.Args)
	}
}

func (d *day) say(kind string, words map[string]string) {
	d.Helper()
	var made Drafted
	d.ask(&made, "draft", saying(kind, words))
	d.ask(&d.home, "add", map[string]any{"records": []string{made.Record}})
}

// setUp sets the laser up where the plan proposes it, or beside the first
// benchmark, read on one.
func (d *day) setUp() {
	d.Helper()
	c := d.home.Choices
	n := NewSetup{Saying: saying("", nil), Tag: c.Tag, Laser: c.Lasers[0], Rod: c.Rods[0], Sights: []NewSight{{c.Benchmarks[0], "5 ft"}}}
	at := d.e.cab.plan.Job.Origin.Job(d.e.cab.plan.Job.Benchmarks[0].At)
	n.East, n.North = d.e.cab.coordinate(at.X+20), d.e.cab.coordinate(at.Y+20)
	if len(c.Proposed) > 0 {
		n.Tag, n.East, n.North = c.Proposed[0].Tag, c.Proposed[0].East, c.Proposed[0].North
	}
	var up SetUp
	d.ask(&up, "setup", n)
	d.ask(&d.home, "add", map[string]any{"records": []string{up.Record}})
	d.tag = n.Tag
}

// shoot shoots the first dig that has a number High, then On.
func (d *day) shoot() {
	d.Helper()
	for _, line := range d.home.Digs {
		if line.Live == nil {
			continue
		}
		var s Stand
		d.ask(&s, "stand", map[string]string{"dig": line.ID})
		words := map[string]string{"tag": s.Tag, "dig": s.Dig, "call": "high", "amount": s.Steps[3]}
		if p := s.Points[0]; p.Station != "" {
			words["station"] = p.Station
		} else {
			words["point"] = p.Name
		}
		d.say("shot", words)
		words["call"] = "on"
		delete(words, "amount")
		d.say("shot", words)
		return
	}
	d.Error("the laser stands and no dig has a number")
}

func (d *day) closes() {
	d.Helper()
	var list []Close
	d.ask(&list, "closes", map[string]string{"tag": d.tag})
	if len(list) > 0 {
		d.say("close", map[string]string{"tag": d.tag, "point": list[0].Point, "reading": list[0].Expected})
	}
}
