package record

import (
	"encoding/json"

	"spadework/engine/phrase"
)

// A state is written as JSON in SI, keys in lower snake case, null where
// nothing is known; records stand in it in their canonical form.

// MarshalJSON is the id as text, null where it is zero.
func (id ID) MarshalJSON() ([]byte, error) {
	if id.IsZero() {
		return []byte("null"), nil
	}
	return appendText(nil, id.String()), nil
}

// MarshalJSON is the hash as text, null where it is zero.
func (h Hash) MarshalJSON() ([]byte, error) {
	if h.IsZero() {
		return []byte("null"), nil
	}
	return appendText(nil, h.String()), nil
}

// MarshalJSON is String as text.
func (s Stamp) MarshalJSON() ([]byte, error) { return appendText(nil, s.String()), nil }

// MarshalJSON is the canonical form.
func (r Record) MarshalJSON() ([]byte, error) { return r.Append(nil), nil }

// MarshalJSON is the record and what became of it.
func (l Line) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Record    json.RawMessage `json:"record"`
		Corrected bool            `json:"corrected"`
		Accepted  bool            `json:"accepted"`
	}{l.Record.Append(nil), l.Corrected, l.Accepted})
}

// MarshalJSON names the dig or tag that something is due at.
func (d Due) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Excavation string         `json:"excavation"`
		Part       string         `json:"part"`
		Setup      string         `json:"setup"`
		What       phrase.Message `json:"what"`
	}{d.Where.Excavation, d.Where.Part, d.Where.Setup, d.What})
}

// MarshalJSON is the entry and whether it stands.
func (e EntryState) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Record     ID             `json:"record"`
		Who        string         `json:"who"`
		At         string         `json:"at"`
		Excavation string         `json:"excavation"`
		Rule       string         `json:"rule"`
		Saw        string         `json:"saw"`
		Standing   bool           `json:"standing"`
		Why        phrase.Message `json:"why"`
	}{e.Record, e.Who, e.At, e.Where.Excavation, e.Rule, e.Saw, e.Standing, e.Why})
}

// MarshalJSON is the state.
func (s *State) MarshalJSON() ([]byte, error) {
	type plain State // without this method
	type finding struct {
		Rule       string          `json:"rule"`
		Severity   phrase.Severity `json:"severity"`
		Excavation string          `json:"excavation"`
		What       phrase.Message  `json:"what"`
		Remedy     phrase.Message  `json:"remedy"`
		Decides    phrase.Message  `json:"decides"`
	}
	findings := []finding{}
	for _, f := range s.Findings {
		findings = append(findings, finding{f.Rule, f.Severity, f.Where.Excavation, f.What, f.Remedy, f.Decides})
	}
	return json.Marshal(struct {
		Format int `json:"format"`
		plain
		Findings []finding `json:"findings"`
	}{Format, plain(*s), findings})
}
