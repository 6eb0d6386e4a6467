package safety

import (
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Watchman is who may release by these facts, and when.
func (f Facts) Watchman() Watchman {
	return Watchman{Competent: f.Competent, Today: f.Today, Rain: f.Rain}
}

// ReleasedBy is the first entry that releases a finding.
func ReleasedBy(f phrase.Finding, entries []Entry, w Watchman) (Entry, bool) {
	i := slices.IndexFunc(entries, func(e Entry) bool { return Release(f, e, w) == nil })
	if i < 0 {
		return Entry{}, false
	}
	return entries[i], true
}

// AsReleased is a finding as it is told once an entry has released it: a note
// with who looked, when, and what was seen.
func AsReleased(f phrase.Finding, e Entry) phrase.Finding {
	f.Severity = phrase.Note
	f.What = phrase.New("safety.released", phrase.With("what", f.What), phrase.With("who", e.Who),
		phrase.With("at", e.At), phrase.With("saw", e.Saw))
	f.Remedy = phrase.New("safety.released.remedy")
	return f
}

// InfluenceReach is how far from a footing a dig that goes a drop below it can
// matter to it: along the flatter of the lines that fall from a footing. An
// unknown drop is the depth that an engineer designs; 0 for none.
func InfluenceReach(b Book, drop *unit.Length) unit.Length {
	d, ok := have(drop)
	if !ok {
		d = b.rule("engineer_depth").Limit.Length()
	}
	run := max(b.rule("influence_trench").Limit.RunPerDrop(), b.rule("influence_footing").Limit.RunPerDrop())
	return max(0, d*unit.Length(run))
}
