package safety

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// snap is half the micrometre that places and heights are snapped to when a job
// is read: a length that is a limit in the job's own figures meets it exactly.
const snap = unit.Micrometre / 2

// ratioSnap is the same for slopes, which come from a division.
const ratioSnap = 1e-9

// have is the value of a pointer; ok is false for nil and NaN.
func have[T ~float64](p *T) (v T, ok bool) {
	if p == nil || math.IsNaN(float64(*p)) {
		return 0, false
	}
	return *p, true
}

// over says that l is more than the length of a rule.
func over(l unit.Length, r Rule) bool { return !(l <= r.Limit.Length()+snap) }

// reaches says that l is the length of a rule or more.
func reaches(l unit.Length, r Rule) bool { return !(l < r.Limit.Length()-snap) }

// under says that l is less than a limit.
func under(l, limit unit.Length) bool { return !(l >= limit-snap) }

// breaks says that a length breaks a rule by the rule's own comparison. NaN
// breaks every one.
func breaks(l unit.Length, r Rule) bool {
	switch r.Breaks {
	case AtOrOver:
		return reaches(l, r)
	case Over:
		return over(l, r)
	case Under:
		return under(l, r.Limit.Length())
	}
	return false
}

// breaksWorst is breaks for a length that, not known, breaks the rule.
func breaksWorst(l *unit.Length, r Rule) bool {
	v, ok := have(l)
	return !ok || breaks(v, r)
}

// told is a length for a text, or the words for one not known.
func told(l *unit.Length) any {
	if v, ok := have(l); ok {
		return v
	}
	return phrase.New("safety.unknown")
}

// measured is a length for a finding, nil if not known.
func measured(l *unit.Length) any {
	if v, ok := have(l); ok {
		return v
	}
	return nil
}
