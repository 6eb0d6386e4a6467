package safety

import (
	"slices"
	"strings"

	"spadework/engine/phrase"
)

// Entry is what a competent person wrote.
type Entry struct {
	Who   string
	At    string       // ISO 8601: 2026-05-04T07:10, with or without seconds and offset
	Where phrase.Where // of the finding it releases; of an inspection the excavation, or nothing for the whole site
	Rule  string       // the finding it releases, "" the day's inspection
	Saw   string       // what was seen
}

// Watchman is who may release and when.
type Watchman struct {
	Competent string // the named competent person
	Today     string // ISO 8601 date
	Rain      string // time of the last rainstorm, "" none told
}

// refuses says why an entry counts for nothing today; the zero Message if it
// counts.
func (w Watchman) refuses(e Entry) phrase.Message {
	at, ok := readStamp(e.At)
	_, okToday := readDate(w.Today)
	rain, okRain := readStamp(w.Rain)
	switch {
	case w.Competent == "":
		return phrase.New("safety.entry_nobody")
	case e.Who != w.Competent:
		return phrase.New("safety.entry_who", phrase.With("who", e.Who), phrase.With("competent", w.Competent))
	case !ok:
		return phrase.New("safety.entry_time", phrase.With("at", e.At))
	case !okToday || !strings.HasPrefix(e.At, w.Today+"T"):
		return phrase.New("safety.entry_day", phrase.With("at", e.At), phrase.With("today", w.Today))
	case w.Rain != "" && !(okRain && at.after(rain)):
		return phrase.New("safety.entry_rain", phrase.With("at", e.At), phrase.With("rain", w.Rain))
	case strings.TrimSpace(e.Saw) == "":
		return phrase.New("safety.entry_saw")
	}
	return phrase.Message{}
}

// inspects says that an entry is an inspection of a dig.
func (e Entry) inspects(dig string) bool {
	return e.Rule == "" && (e.Where.Excavation == "" || e.Where.Excavation == dig)
}

// Release says why an entry does not release a finding; nil if it does. It
// must be of the named competent person, of today, later than the last rain,
// about this rule at this place, and say what was seen.
func Release(f phrase.Finding, e Entry, w Watchman) *phrase.Fault {
	what := w.refuses(e)
	if what.IsZero() && (e.Rule != f.Rule || e.Rule == "" || !samePlace(e.Where, f.Where)) {
		what = phrase.New("safety.entry_other", phrase.With("rule", f.Rule))
	}
	if what.IsZero() {
		return nil
	}
	return phrase.NewFault(what, phrase.New("safety.entry.remedy"))
}

// samePlace compares names; coordinates only help to find the place.
func samePlace(a, b phrase.Where) bool {
	a.At, b.At = nil, nil
	return a == b
}

// Released says that one of the entries releases the finding.
func Released(f phrase.Finding, entries []Entry, w Watchman) bool {
	return slices.ContainsFunc(entries, func(e Entry) bool { return Release(f, e, w) == nil })
}

// Open is the findings of severity Stop that no entry releases, in their order:
// a plan prints them before any number.
func Open(findings []phrase.Finding, entries []Entry, w Watchman) []phrase.Finding {
	var out []phrase.Finding
	for _, f := range findings {
		if f.Severity == phrase.Stop && !Released(f, entries, w) {
			out = append(out, f)
		}
	}
	return out
}

// InHole asks whether a shot from inside a hole may be offered.
type InHole struct {
	Dig      string
	Findings []phrase.Finding // of the plan
	Entries  []Entry
	Watchman
}

// InHoleShotAllowed says that the named competent person entered today's
// inspection of the dig, later than the last rain, and that no finding of
// severity Stop about it or the whole site is open; else why not.
func InHoleShotAllowed(q InHole) (ok bool, why phrase.Message) {
	if !slices.ContainsFunc(q.Entries, func(e Entry) bool { return e.inspects(q.Dig) && q.refuses(e).IsZero() }) {
		return false, phrase.New("safety.in_hole_entry", phrase.With("id", q.Dig))
	}
	for _, f := range Open(q.Findings, q.Entries, q.Watchman) {
		if f.Where.Excavation == "" || f.Where.Excavation == q.Dig {
			return false, phrase.New("safety.in_hole_open", phrase.With("id", q.Dig), phrase.With("what", f.What))
		}
	}
	return true, phrase.Message{}
}
