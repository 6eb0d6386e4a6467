package cab

import (
	"slices"
	"strings"
	"testing"

	"spadework/engine/phrase"
)

// TestWatchTellsWhatToDo: of the example's day the first tag had moved, the second
// waits for a close; both languages say so, and no figure is a key.
func TestWatchTellsWhatToDo(t *testing.T) {
	for lang, words := range map[phrase.Language][2]string{
		phrase.English: {"shoot P10 first", "close A2 now"}, phrase.Spanish: {"revise primero P10", "cierre A2 ahora"},
	} {
		o := opening(t, "alder-quay")
		o.Language = lang
		b := &bench{T: t}
		b.ask(&struct{}{}, "open", o)
		var w Watch
		b.ask(&w, "watch", struct{}{})
		if len(w.Beams) != 2 || w.Basis.Records != 24 {
			t.Fatalf("%d beams, basis %+v", len(w.Beams), w.Basis)
		}
		first, second := w.Beams[0], w.Beams[1]
		if !first.Ended || first.State != "beam_moved" || first.Numbers || second.Ended || second.State != "unclosed" || second.Numbers || !second.Now {
			t.Errorf("A1 %+v\nA2 %+v", first, second)
		}
		if !strings.Contains(strings.Join(first.Do, " "), words[0]) || !strings.Contains(strings.Join(second.Next, " "), words[1]) {
			t.Errorf("%s: %q not in %v, or %q not in %v", lang, words[0], first.Do, words[1], second.Next)
		}
		i := slices.IndexFunc(first.Digs, func(d DigAtRisk) bool { return d.Dig == "P10" })
		if i < 0 || first.Digs[i].By == "" || first.Digs[i].Closed || first.Digs[i].Out == "" {
			t.Errorf("P10 among the digs at risk: %+v", first.Digs)
		}
	}
}

// TestWatchOfNothing: a job without a log has no beams to watch, one without a job
// no watch.
func TestWatchOfNothing(t *testing.T) {
	b := &bench{T: t}
	var none struct{ Fault *Told }
	b.raw(&none, "watch", struct{}{})
	if none.Fault == nil || none.Fault.Key != "cab.nothing_open" {
		t.Errorf("without a job: %+v", none.Fault)
	}
	b.ask(&struct{}{}, "open", opening(t, "sorrel-bank"))
	var w Watch
	b.ask(&w, "watch", struct{}{})
	if w.Beams == nil || len(w.Beams) != 0 {
		t.Errorf("without a log: %+v", w.Beams)
	}
}
