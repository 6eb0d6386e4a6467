package cab

import "testing"

// TestAnEntryInTheLogCounts: shots from inside a hole are offered once the competent
// person entered the dig today, and no longer after rain.
func TestAnEntryInTheLogCounts(t *testing.T) {
	b := &bench{T: t}
	o := opening(t, "alder-quay")
	o.Records = nil
	b.ask(&struct{}{}, "open", o)
	hole := func() string {
		var s Stand
		b.ask(&s, "stand", map[string]string{"dig": "P1"})
		return s.Hole
	}
	before := hole()
	if before == "" {
		t.Fatal("shots from inside are offered before anybody looked")
	}
	person := b.cab.plan.Job.Rules.CompetentPerson
	sayBy(b, person, "entry", map[string]string{"dig": "P1", "saw": "dry, no cracks"})
	after := hole()
	if after == before {
		t.Errorf("the entry changed nothing: %q", after)
	}
	sayBy(b, "Ines", "weather", map[string]string{"rain": "yes"})
	if again := hole(); again != before {
		t.Errorf("after rain: %q, want %q", again, before)
	}
}

// sayBy is a record by a person, of the example's day.
func sayBy(b *bench, person, kind string, words map[string]string) {
	b.Helper()
	s := saying(kind, words)
	s.Person = person
	var d Drafted
	b.ask(&d, "draft", s)
	b.ask(new(Home), "add", map[string]any{"records": []string{d.Record}})
}
