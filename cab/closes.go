package cab

import (
	"spadework/engine/beam"
	"spadework/engine/record"
)

// Close is a point to close on, with what its rod should read. On a beam mark the
// receiver should meet the line.
type Close struct {
	Tag      string            `json:"tag"`
	Point    string            `json:"point"`
	Mark     bool              `json:"mark"`
	Expected string            `json:"expected"` // "" a mark
	Words    map[string]string `json:"words"`    // of the record, but for its reading
}

// Closes are the points that a tag can be closed on: beam marks first, which cost
// no walk with a rod.
func (c *Cab) Closes(tag string) []Close {
	out := []Close{}
	s, ok := c.plan.Setup(tag)
	if !ok || s.State != beam.Live {
		return out
	}
	for _, mark := range c.marks(tag) {
		out = append(out, Close{tag, mark, true, "", map[string]string{"tag": tag, "point": mark, "on": record.OnMark, "expected": "0"}})
	}
	v := c.faceOf(tag)
	for _, e := range c.plan.Expected(s) {
		out = append(out, Close{tag, e.Benchmark, false, v.Style.Reading(e.Rod), map[string]string{"tag": tag, "point": e.Benchmark}})
	}
	return out
}

// marks are the beam marks of a tag's newest set-up.
func (c *Cab) marks(tag string) []string {
	out := []string{}
	t, ok := c.tag(tag)
	for _, l := range c.state.Log {
		if m, isMark := l.Payload.(*record.BeamMark); ok && isMark && m.Setup == t.Setup && !l.Corrected && !has(out, m.Mark) {
			out = append(out, m.Mark)
		}
	}
	return out
}

// Proving is what is still to be done when a laser stands: beam marks drawn, and
// where it is dialled the two rods that prove it.
type Proving struct {
	Tag   string   `json:"tag"`
	Marks []string `json:"marks"` // drawn
	Asked int      `json:"asked"` // how many there should be
	Dial  string   `json:"dial"`  // what proves it, "" level
	Rods  []Proof  `json:"rods"`
	Read  []Close  `json:"read"` // benchmarks with what they should read
}

// Proof is a rod that proves a dial.
type Proof struct {
	Point    string `json:"point"`
	Expected string `json:"expected"`
	Told     string `json:"told"` // what it read, "" not read
}

// marksAsked is how many beam marks a set-up should have: two, so that one that
// was touched itself shows.
const marksAsked = 2

// Proving is what a set-up still wants.
func (c *Cab) Proving(tag string) Proving {
	out := Proving{Tag: tag, Marks: c.marks(tag), Asked: marksAsked, Rods: []Proof{}, Read: c.Closes(tag)}
	s, ok := c.plan.Setup(tag)
	if !ok || s.Proof == nil {
		return out
	}
	v := c.faceOf(tag)
	out.Dial = v.Say(s.Proof.Text)
	out.Rods = append(out.Rods, Proof{s.Proof.A, v.Style.Reading(s.Proof.RodA), c.proofOn(tag, s.Proof.A)},
		Proof{s.Proof.B, v.Style.Reading(s.Proof.RodB), c.proofOn(tag, s.Proof.B)})
	return out
}

// proofOn is what the newest dial proof of a tag on a point comes to.
func (c *Cab) proofOn(tag, point string) string {
	t, _ := c.tag(tag)
	told := ""
	for _, l := range c.state.Log {
		p, ok := l.Payload.(*record.DialProof)
		if !ok || p.Setup != t.Setup || p.Point != point || l.Corrected {
			continue
		}
		told = c.view.Text("cab.proof_off")
		if p.Good() {
			told = c.view.Text("cab.proof_good")
		}
	}
	return told
}
