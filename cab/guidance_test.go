package cab

import (
	"strings"
	"testing"
)

// edited is alder-quay without records, with its job file changed.
func edited(t *testing.T, old, now string) Opening {
	t.Helper()
	o := opening(t, "alder-quay")
	text := o.Bundle.Files["job.toml"]
	if !strings.Contains(text, old) {
		t.Fatalf("the example lacks %q", old)
	}
	files := map[string]string{}
	for name, body := range o.Bundle.Files {
		files[name] = body
	}
	files["job.toml"] = strings.Replace(text, old, now, 1)
	o.Bundle.Files, o.Records = files, nil
	return o
}

// A machine with sensors has a number from its tie to its next move; its shot
// rests on the tie.
func TestNumberOfSensorsLivesAsLongAsItsTie(t *testing.T) {
	b := &bench{T: t}
	o := edited(t, `guidance = "rod"`, `guidance = "sensors_beam"`)
	o.Today = "2026-05-04"
	b.ask(new(Home), "open", o)
	b.say("setup", map[string]string{"tag": "A1"})
	var s Stand
	numbered := func(when string, want bool) {
		t.Helper()
		b.ask(&s, "stand", map[string]string{"dig": "P1", "tag": "A1"})
		if s.Tie == nil || s.Points[0].none() == want || (s.Why == "") != want {
			t.Fatalf("%s: tie %+v, number %q, why %q; want a number: %t", when, s.Tie, s.Points[0].text(), s.Why, want)
		}
	}
	numbered("before a tie", false)
	b.say("tie", s.Tie.Words)
	numbered("after the tie", true)
	shot := b.say("shot", map[string]string{"tag": "A1", "dig": "P1", "call": "on"})
	if !strings.Contains(shot.Record, `"setup":null`) || shot.Shot == nil {
		t.Errorf("the shot is %s, want one that rests on the tie", shot.Record)
	}
	b.say("machine_moved", nil)
	numbered("after the machine moved", false)
	b.say("tie", s.Tie.Words)
	numbered("after a new tie", true)
	b.say("laser_stopped", nil)
	numbered("after the laser stopped", false)
}

// A close is due by the end of the day of the last reading at the latest.
func TestCheckBy(t *testing.T) {
	b := &bench{T: t}
	o := opening(t, "alder-quay")
	o.Records = nil
	b.ask(new(Home), "open", o)
	b.say("setup", map[string]string{"tag": "A1"})
	var s Stand
	b.ask(&s, "stand", map[string]string{"dig": "P1"})
	by := s.Basis.CheckBy
	if !(by.Millis > clock && by.Millis <= clock+dayMillis) || by.Time == "" || s.Basis.Setup == "" {
		t.Errorf("checked by %+v at %d, want within the day", by, clock)
	}
}
