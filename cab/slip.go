package cab

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// divisions are what a rod is misread by: a whole foot or inch, a foot or tenth,
// a metre or decimetre (common practice: the large figure of a rod is read last,
// and wrongly where it is hidden).
func divisions(f unit.Face) []unit.Length {
	switch f {
	case unit.FaceInches:
		return []unit.Length{unit.Foot, unit.Inch}
	case unit.FaceTenths:
		return []unit.Length{unit.Foot, unit.Foot / 10}
	}
	return []unit.Length{unit.Metre, unit.Metre / 10}
}

// slipOf is the division by which a reading is off where all that is left of it
// keeps the limits: off + above, − below them; 0 where the reading keeps them as
// it is, or is off by something else.
func slipOf(f unit.Face, off, above, below unit.Length) unit.Length {
	const rounding = 1e-9 // of a sum of lengths under 100 m
	keeps := func(d unit.Length) bool { return d <= above+rounding && d >= -below-rounding }
	if math.IsNaN(float64(off)) || keeps(off) {
		return 0
	}
	for _, d := range divisions(f) {
		for _, slip := range []unit.Length{d, -d} {
			if keeps(off - slip) {
				return slip
			}
		}
	}
	return 0
}

// misread is what makes a drafted reading look like a slip, in words; "" nothing.
func (c *Cab) misread(v tell.View, p record.Payload) string {
	slip := unit.Length(0)
	switch p := p.(type) {
	case *record.CheckShot:
		if p.Reading != nil && p.Above != nil && p.Below != nil {
			slip = slipOf(v.Style.Face, p.Deviation(), *p.Above, *p.Below)
		}
	case *record.Close:
		slip = slipOf(v.Style.Face, p.Off(), p.Limit, p.Limit)
	case *record.DialProof:
		slip = slipOf(v.Style.Face, p.Off(), p.Limit, p.Limit)
	}
	if slip == 0 {
		return ""
	}
	return v.Text("cab.slip", phrase.With("size", v.Style.Reading(unit.Reading(max(slip, -slip)))))
}
