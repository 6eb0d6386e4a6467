package record

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"spadework/engine/unit"
)

func TestEveryKindComesBack(t *testing.T) {
	seen := map[Kind]bool{}
	for _, r := range oneOfEach(t) {
		seen[r.Kind()] = true
		line := r.Append(nil)
		back, f := Decode(line)
		if f != nil {
			t.Errorf("Decode(%s): %v", line, f)
			continue
		}
		if !reflect.DeepEqual(normal(back), normal(r)) {
			t.Errorf("Decode(Append(%s)) = %+v, want %+v", r.Kind(), back, r)
		}
		if !bytes.Equal(back.Append(nil), line) || back.Hash() != r.Hash() {
			t.Errorf("%s is written differently the second time", r.Kind())
		}
		if !json.Valid(line) {
			t.Errorf("%s is not JSON: %s", r.Kind(), line)
		}
	}
	for _, k := range Kinds() {
		if !seen[Kind(k)] {
			t.Errorf("no record of kind %s was tried", k)
		}
	}
}

// normal makes an empty list nil.
func normal(r Record) Record {
	if len(r.Causes) == 0 {
		r.Causes = nil
	}
	return r
}

// TestCanonicalAgainstJSON: the members are those that encoding/json reads, its
// keys sorted as it sorts a map's (ASCII keys, so UTF-16 order too).
func TestCanonicalAgainstJSON(t *testing.T) {
	for _, r := range oneOfEach(t) {
		line := r.Append(nil)
		d := json.NewDecoder(bytes.NewReader(line))
		d.UseNumber()
		var tree any
		if err := d.Decode(&tree); err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		e := json.NewEncoder(&out)
		e.SetEscapeHTML(false)
		if err := e.Encode(tree); err != nil {
			t.Fatal(err)
		}
		if got := bytes.TrimSpace(out.Bytes()); !bytes.Equal(got, line) {
			t.Errorf("%s\nencoding/json writes %s", line, got)
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	good := string(oneOfEach(t)[3].Append(nil)) // a shot
	if _, f := Decode([]byte(good)); f != nil {
		t.Fatal(f)
	}
	deep := strings.Repeat("[", 100_000)
	for _, c := range []struct{ name, from, to, want string }{
		{"unknown key", `"format":1,`, `"format":1,"fresh":2,`, `"fresh" is not a key`},
		{"unknown key inside", `"from":"edge",`, `"from":"edge","fuel":1,`, `payload.fuel: "fuel" is not a key`},
		{"missing key", `"person":"P-a",`, ``, "the key person is missing"},
		{"key twice", `"format":1,`, `"format":1,"format":1,`, "there twice or out of order"},
		{"keys out of order", `"format":1,`, `"zormat":1,`, "out of order"},
		{"a blank", `"format":1,`, `"format": 1,`, "not a JSON value"},
		{"a number written long", `"format":1,`, `"format":1.0,`, "not a number in its canonical form"},
		{"a number too large", `"bottom":97,`, `"bottom":1e+300,`, "must lie between"},
		{"a number beyond all", `"bottom":97,`, `"bottom":1e400,`, "not a number"},
		{"a giant number", `"bottom":97,`, `"bottom":` + strings.Repeat("9", 5000) + `,`, "not a number"},
		{"NaN", `"bottom":97,`, `"bottom":NaN,`, "not a JSON value"},
		{"minus zero", `"bottom":97,`, `"bottom":-0,`, "not a number in its canonical form"},
		{"a text for a number", `"bottom":97,`, `"bottom":"97",`, "bottom must be a number"},
		{"null for a number", `"bottom":97,`, `"bottom":null,`, "bottom must be a number"},
		{"deep", `"bottom":97,`, `"bottom":` + deep[:100] + `,`, "nested too deep"},
		{"an escape too many", `"from":"edge"`, `"from":"\u0065dge"`, "not a text in its canonical form"},
		{"half a pair", `"person":"P-a"`, `"person":"\ud800"`, "not a text"},
		{"not UTF-8", `"person":"P-a"`, "\"person\":\"\xff\"", "not a text"},
		{"a control", `"person":"P-a"`, `"person":"\u0007"`, "cannot be printed"},
		{"a long name", `"person":"P-a"`, `"person":"` + strings.Repeat("ñ", 81) + `"`, "person has 81 characters"},
		{"no choice", `"from":"edge"`, `"from":"roof"`, `"roof" is not a from`},
		{"capital digits", `"id":"0`, `"id":"F`, "is not the id"},
		{"another format", `"format":1,`, `"format":2,`, "this program reads 1"},
		{"a record of format half", `"format":1,`, `"format":1.5,`, "whole number"},
		{"two results", `"call":null`, `"call":"on"`, "a reading with the beam's elevation, or a call"},
		{"half a tolerance", `"below":0.012`, `"below":null`, "both above and below"},
		{"a negative tolerance", `"below":0.012`, `"below":-0.012`, "must lie between"},
		{"a day that is none", `"time":"2026-05-04`, `"time":"2026-02-30`, "is not a time"},
		{"more after it", `}`, `}`, ""},
	} {
		bad := strings.Replace(good, c.from, c.to, 1)
		if c.want == "" {
			bad, c.want = good+" ", "follows the end"
		}
		if bad == good {
			t.Errorf("%s: nothing was changed in %s", c.name, good)
			continue
		}
		_, f := Decode([]byte(bad))
		if f == nil || !strings.Contains(f.Error(), c.want) {
			t.Errorf("%s: Decode = %v, want a fault with %q", c.name, f, c.want)
		}
	}
	for _, s := range []string{"", " ", "null", "[]", deep, `{"a"`, `{"a":}`, `{a:1}`, `{"a":1,}`, strings.Repeat(" ", MaxRecord+1)} {
		if _, f := Decode([]byte(s)); f == nil {
			t.Errorf("Decode(%.20q) gives a record", s)
		}
	}
}

func TestCheckRefusesWhatCannotBeWritten(t *testing.T) {
	s := newSite(t, "a")
	r := s.add(s.phones[0], setup("A1"))
	for name, change := range map[string]func(*Record){
		"NaN":           func(r *Record) { r.Payload.(*SetupMade).HI = ptr(unit.Elevation(math.NaN())) },
		"infinite":      func(r *Record) { r.Payload.(*SetupMade).Sights[0].Rod = unit.Reading(math.Inf(1)) },
		"no person":     func(r *Record) { r.Person = "" },
		"no payload":    func(r *Record) { r.Payload = nil },
		"no place":      func(r *Record) { r.Payload.(*SetupMade).At = &[2]unit.Length{1, unit.Length(math.NaN())} },
		"second first":  func(r *Record) { r.Seq = 2 },
		"own cause":     func(r *Record) { r.Causes = []ID{r.ID} },
		"a time beyond": func(r *Record) { r.Time.Millis = math.MaxInt64 },
		"year 10000":    func(r *Record) { r.Time = Stamp{maxStamp, 60} },
	} {
		p := *r.Payload.(*SetupMade)
		p.Sights = slices.Clone(p.Sights)
		bad := r
		bad.Payload = &p
		change(&bad)
		if bad.Check() == nil {
			t.Errorf("Check finds nothing wrong with %s", name)
		}
	}
	if f := r.Check(); f != nil {
		t.Errorf("Check(the record as made) = %v, want nothing", f)
	}
}
