package safety

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"spadework/engine/phrase"
)

// stopped is a finding that stops work on the trench T1.
var stopped = phrase.Finding{Rule: "protection_depth", Severity: phrase.Stop, Where: phrase.Where{Excavation: "T1"},
	What: phrase.New("safety.entry_saw")}

func watch() Watchman { return Watchman{Competent: "A. Digger", Today: today} }

func release() Entry {
	return Entry{Who: "A. Digger", At: today + "T07:10", Where: phrase.Where{Excavation: "T1"}, Rule: "protection_depth", Saw: "box is in"}
}

func TestRelease(t *testing.T) {
	if f := Release(stopped, release(), watch()); f != nil {
		t.Fatalf("Release = %v, want released", f)
	}
	for _, c := range []struct {
		name string
		edit func(*Entry, *Watchman)
		key  phrase.Key
	}{
		{"another person", func(e *Entry, w *Watchman) { e.Who = "B. Rodman" }, "safety.entry_who"},
		{"nobody named", func(e *Entry, w *Watchman) { e.Who, w.Competent = "", "" }, "safety.entry_nobody"},
		{"no time", func(e *Entry, w *Watchman) { e.At = today }, "safety.entry_time"},
		{"a day that is none", func(e *Entry, w *Watchman) { e.At = "2026-02-30T07:10" }, "safety.entry_time"},
		{"yesterday", func(e *Entry, w *Watchman) { e.At = "2026-05-03T23:59" }, "safety.entry_day"},
		{"today not known", func(e *Entry, w *Watchman) { w.Today = "" }, "safety.entry_day"},
		{"before the rain", func(e *Entry, w *Watchman) { w.Rain = today + "T07:10" }, "safety.entry_rain"},
		{"rain that cannot be read", func(e *Entry, w *Watchman) { w.Rain = "at noon" }, "safety.entry_rain"},
		{"rain of another clock", func(e *Entry, w *Watchman) { w.Rain = today + "T06:00Z" }, "safety.entry_rain"},
		{"nothing seen", func(e *Entry, w *Watchman) { e.Saw = " " }, "safety.entry_saw"},
		{"another rule", func(e *Entry, w *Watchman) { e.Rule = "way_out_travel" }, "safety.entry_other"},
		{"an inspection only", func(e *Entry, w *Watchman) { e.Rule = "" }, "safety.entry_other"},
		{"another dig", func(e *Entry, w *Watchman) { e.Where.Excavation = "T2" }, "safety.entry_other"},
		{"the whole site", func(e *Entry, w *Watchman) { e.Where = phrase.Where{} }, "safety.entry_other"},
	} {
		e, w := release(), watch()
		c.edit(&e, &w)
		f := Release(stopped, e, w)
		if f == nil || f.What.Key != c.key {
			t.Errorf("%s: Release = %v, want %s", c.name, f, c.key)
			continue
		}
		for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
			checkMessage(t, texts(t, lang), f.What)
			checkMessage(t, texts(t, lang), f.Remedy)
		}
	}
	after := watch()
	after.Rain = today + "T07:09:59"
	if f := Release(stopped, release(), after); f != nil {
		t.Errorf("Release after the rain = %v, want released", f)
	}
}

func TestOpen(t *testing.T) {
	mild := phrase.Finding{Rule: "vests", Severity: phrase.Caution}
	other := stopped
	other.Where = phrase.Where{Excavation: "T2"}
	got := Open([]phrase.Finding{other, mild, stopped}, []Entry{release()}, watch())
	if len(got) != 1 || got[0].Where.Excavation != "T2" {
		t.Errorf("Open = %v, want T2 alone", got)
	}
}

func TestInHoleShot(t *testing.T) {
	inspected := Entry{Who: "A. Digger", At: today + "T07:10", Where: phrase.Where{Excavation: "T1"}, Saw: "dry"}
	site := inspected
	site.Where = phrase.Where{}
	elsewhere := inspected
	elsewhere.Where.Excavation = "T2"
	old := inspected
	old.At = "2026-05-03T07:10"
	whole := phrase.Finding{Rule: "missing_ticket", Severity: phrase.Stop, What: phrase.New("safety.entry_saw")}
	far := stopped
	far.Where.Excavation = "T2"
	for _, c := range []struct {
		name     string
		entries  []Entry
		findings []phrase.Finding
		rain     string
		want     bool
		why      phrase.Key
	}{
		{"no entry", nil, nil, "", false, "safety.in_hole_entry"},
		{"entry of today", []Entry{inspected}, nil, "", true, ""},
		{"entry for the site", []Entry{site}, nil, "", true, ""},
		{"entry of another dig", []Entry{elsewhere}, nil, "", false, "safety.in_hole_entry"},
		{"entry of yesterday", []Entry{old}, nil, "", false, "safety.in_hole_entry"},
		{"rain since", []Entry{inspected}, nil, today + "T09:00", false, "safety.in_hole_entry"},
		{"a release is no inspection", []Entry{release()}, []phrase.Finding{stopped}, "", false, "safety.in_hole_entry"},
		{"open finding", []Entry{inspected}, []phrase.Finding{stopped}, "", false, "safety.in_hole_open"},
		{"open finding of the site", []Entry{inspected}, []phrase.Finding{whole}, "", false, "safety.in_hole_open"},
		{"released finding", []Entry{inspected, release()}, []phrase.Finding{stopped}, "", true, ""},
		{"finding of another dig", []Entry{inspected}, []phrase.Finding{far}, "", true, ""},
	} {
		w := watch()
		w.Rain = c.rain
		ok, why := InHoleShotAllowed(InHole{Dig: "T1", Findings: c.findings, Entries: c.entries, Watchman: w})
		if ok != c.want || why.Key != c.why {
			t.Errorf("%s: InHoleShotAllowed = %v %s, want %v %s", c.name, ok, why.Key, c.want, c.why)
		}
		if !ok {
			checkMessage(t, texts(t, phrase.Spanish), why)
		}
	}
}

// The calendar of package time is the referee.
func TestDatesCountAsTheCalendarDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		zone := time.FixedZone("", rapid.IntRange(-14*60, 14*60).Draw(t, "zone")*60)
		at := time.Unix(rapid.Int64Range(-50_000_000_000, 200_000_000_000).Draw(t, "at"), 0).In(zone)
		later := at.Add(time.Duration(rapid.Int64Range(-5_000_000, 5_000_000).Draw(t, "by")) * time.Second)
		a, okA := readStamp(at.Format("2006-01-02T15:04:05-07:00"))
		b, okB := readStamp(later.UTC().Format("2006-01-02T15:04:05Z"))
		if !okA || !okB || b.seconds-a.seconds != int(later.Unix()-at.Unix()) || b.after(a) != later.After(at) {
			t.Errorf("readStamp(%v, %v) = %v %v %v %v, want %d s apart", at, later, a, okA, b, okB, later.Unix()-at.Unix())
		}
	})
}

func TestDatesThatAreNone(t *testing.T) {
	for _, s := range []string{"", "2026-5-4", "2026-13-01", "2026-00-10", "2026-04-31", "2100-02-29", "2026-05-04 ", "2026/05/04", "+026-05-04"} {
		if _, ok := readDate(s); ok {
			t.Errorf("readDate(%q) is a date, want none", s)
		}
	}
	for _, s := range []string{"2026-05-04", "2026-05-04T", "2026-05-04T7:10", "2026-05-04T24:00", "2026-05-04T07:60", "2026-05-04T07:10:99",
		"2026-05-04T07:10+1:00", "2026-05-04T07:10+15:00", "2026-05-04T07:10:00:00", "2026-05-04 07:10"} {
		if _, ok := readStamp(s); ok {
			t.Errorf("readStamp(%q) is a time, want none", s)
		}
	}
}

func FuzzStamp(f *testing.F) {
	for _, s := range []string{"2026-05-04T07:10", "2026-05-04T07:10:30", "2026-05-04T07:10Z", "2026-05-04T07:10-06:00", "2000-02-29T23:59", "T", "-"} {
		f.Add(s)
	}
	layouts := []string{"2006-01-02T15:04", "2006-01-02T15:04:05", "2006-01-02T15:04Z07:00", "2006-01-02T15:04:05Z07:00"}
	f.Fuzz(func(t *testing.T, s string) {
		got, ok := readStamp(s)
		if !ok {
			return
		}
		if !slices.ContainsFunc(layouts, func(layout string) bool {
			at, err := time.Parse(layout, s)
			epoch, _ := readDate("1970-01-01")
			return err == nil && int(at.Unix()) == got.seconds-int(epoch)*86400
		}) {
			t.Errorf("readStamp(%q) = %v, which package time does not read so", s, got)
		}
	})
}
