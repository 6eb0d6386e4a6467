package sheet

import (
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// recordText tells what a record is about: figures as the crew reads them, the
// people's own words as they stand.
func recordText(p *plan.Plan, v View, l record.Record) string {
	switch r := l.Payload.(type) {
	case *record.SetupMade:
		return v.Text("sheet.about_setup", phrase.With("tag", r.Tag), phrase.With("laser", r.Laser), phrase.With("hi", hiOf(v, r)))
	case *record.CheckShot:
		return v.Text("sheet.about_shot", phrase.With("dig", placeOf(v, r.Excavation, r.Part, r.Point, r.Station)), phrase.With("off", tell.OffText(tell.View(tell.LogFace(p, tell.View(v))), r.Deviation())))
	case *record.Close:
		return heldAgainst(p, v, r.Point, r.ProofReading)
	case *record.DialProof:
		return heldAgainst(p, v, r.Point, r.ProofReading)
	case *record.Direction:
		return v.Text("sheet.about_direction", phrase.With("dig", r.Excavation), phrase.With("by", r.By), phrase.With("words", r.Words))
	case *record.OverDig:
		return joined(placeOf(v, r.Excavation, r.Part, r.Point, r.Station), v.Style.Length(r.Depth), r.Remedy)
	case *record.Hold:
		key := phrase.Key("sheet.hold_not_passed")
		if r.Passed {
			key = "sheet.hold_passed"
		}
		return v.Text(key, phrase.With("dig", r.Excavation), phrase.With("hold", r.Hold), phrase.With("by", joined(r.By, r.Agency)))
	case *record.Correction:
		return v.Text("sheet.about_correction", phrase.With("kind", kindOf(r.Of)), phrase.With("reason", r.Reason))
	}
	return plainText(v, l)
}

// plainText is a record that is names and words.
func plainText(v View, l record.Record) string {
	switch r := l.Payload.(type) {
	case *record.BeamMark:
		return joined(r.Mark, r.Words)
	case *record.Tie:
		return joined(r.Machine, r.Point)
	case *record.LaserEvent:
		return joined(r.Laser, r.Words)
	case *record.MachineEvent:
		return joined(r.Machine, r.Words)
	case *record.Exposed:
		return joined(r.Utility, r.Excavation, r.Words)
	case *record.GroundMet:
		return joined(placeOf(v, r.Excavation, r.Part, "", r.Station), r.Words)
	case *record.PersonEntry:
		return joined(r.Excavation, r.Rule, r.Saw)
	case *record.Poured:
		return joined(r.Excavation, r.Words)
	case *record.Ticket:
		return joined(r.Excavation, r.Words)
	case *record.Note:
		return joined(r.Excavation, r.Words)
	case *record.Photo:
		return joined(r.Excavation, r.Words)
	case *record.Weather:
		return r.Words
	case *record.SignOff:
		return joined(r.Excavation, r.Role, r.Words)
	case *record.Handover:
		return joined(r.To, r.Words)
	case *record.Accept:
		return r.Reason
	}
	return ""
}

// joined is the parts that are there.
func joined(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, ": ")
}

func kindOf(k record.Kind) phrase.Message { return phrase.New(phrase.Key("sheet.kind_" + string(k))) }

// hiOf is the beam's elevation, a dash where it was not worked out.
func hiOf(v View, s *record.SetupMade) string {
	if s.HI == nil {
		return "–"
	}
	return v.Style.Elevation(*s.HI)
}

// placeOf names a point of a dig as people read it.
func placeOf(v View, dig, part, point string, station *unit.Station) string {
	parts := []string{dig}
	for _, s := range []string{part, point} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	if station != nil {
		parts = append(parts, v.Style.Station(*station))
	}
	return strings.Join(parts, " ")
}

// heldAgainst is a reading and how far it is from the one expected.
func heldAgainst(p *plan.Plan, v View, point string, r record.ProofReading) string {
	f := View(tell.LogFace(p, tell.View(v)))
	key := phrase.Key("sheet.proof_good")
	if !r.Good() {
		key = "sheet.proof_bad"
	}
	off := r.Off()
	return f.Text(key, phrase.With("point", point), phrase.With("reading", r.Reading), phrase.With("expected", r.Expected),
		phrase.With("off", fine(f, max(off, -off))))
}
