package safety

import "spadework/engine/phrase"

// Entry is what a competent person wrote.
type Entry struct {
	Who  string
	At   string // ISO 8601: 2026-05-04T07:10, with or without seconds and offset
	Dig  string // "" the whole site
	Rule string // the finding it releases, "" the day's inspection
	Saw  string // what was seen
}

// Watchman is who may release and when.
type Watchman struct {
	Competent string // the named competent person
	Today     string // ISO 8601 date
	Rain      string // time of the last rainstorm, "" none told
}

// Release says why an entry does not release a finding; nil if it does. It
// must be of the named competent person, of today, later than the last rain,
// about this rule and this dig, and say what was seen.
func Release(f phrase.Finding, e Entry, w Watchman) *phrase.Fault { return nil }

// Released says that one of the entries releases the finding.
func Released(f phrase.Finding, entries []Entry, w Watchman) bool { return false }

// Open is the findings of severity Stop that no entry releases, in their order:
// a plan prints them before any number.
func Open(findings []phrase.Finding, entries []Entry, w Watchman) []phrase.Finding { return nil }

// InHole asks whether a shot from inside a hole may be offered.
type InHole struct {
	Dig      string
	Findings []phrase.Finding // of the plan
	Entries  []Entry
	Watchman
}

// InHoleShotAllowed says that the named competent person entered today's
// inspection of the dig, later than the last rain, and that none of its
// findings of severity Stop is open; else why not.
func InHoleShotAllowed(q InHole) (ok bool, why phrase.Message) { return false, phrase.Message{} }
