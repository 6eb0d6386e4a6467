package cab

import (
	"slices"
	"strings"
	"testing"
)

// A newer revision tells what it changed, at the digs where it did; the same job
// under a newer number changes nothing.
func TestRevisionTellsWhatChanged(t *testing.T) {
	b := &bench{T: t}
	old := edited(t, "elevation = 104.50", "elevation = 104.50")
	b.ask(new(Home), "open", old)
	var h Home
	same := old
	same.Revision = 2
	b.ask(&h, "open", same)
	if len(h.Changes) != 0 {
		t.Errorf("the same job of another number changes %+v", h.Changes)
	}
	now := edited(t, "elevation = 104.50", "elevation = 104.75")
	now.Revision = 3
	b.ask(&h, "open", now)
	if len(h.Changes) == 0 {
		t.Fatal("a datum that was raised changes nothing")
	}
	for _, c := range h.Changes {
		d, ok := b.cab.plan.Dig(c.Dig)
		if !ok || !strings.HasPrefix(c.Text, d.Excavation.ID) {
			t.Errorf("change %+v is of no dig", c)
		}
	}
	if !slices.ContainsFunc(h.Changes, func(c Change) bool { return strings.Contains(c.Text, "the bottom was") }) {
		t.Errorf("no bottom changed in %+v", h.Changes)
	}
}

// Beam marks are drawn once the laser stands, and closed on without a rod.
func TestBeamMarks(t *testing.T) {
	b := &bench{T: t}
	o := opening(t, "alder-quay")
	o.Records = nil
	b.ask(new(Home), "open", o)
	b.say("setup", map[string]string{"tag": "A1"})
	b.say("beam_mark", map[string]string{"tag": "A1", "mark": "gate post", "at": "60; 40"})
	var p Proving
	b.ask(&p, "proving", map[string]string{"tag": "A1"})
	if !slices.Equal(p.Marks, []string{"gate post"}) || p.Asked != 2 || len(p.Read) == 0 || !p.Read[0].Mark {
		t.Fatalf("proving = %+v, want the mark first", p)
	}
	b.say("laser_stopped", nil)
	words := p.Read[0].Words
	words["reading"] = "0"
	b.say("close", words)
	var s Stand
	b.ask(&s, "stand", map[string]string{"dig": "P1", "tag": "A1"})
	if s.Why != "" {
		t.Errorf("after the receiver met its mark: %q, want the number", s.Why)
	}
}
