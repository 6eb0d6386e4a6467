package job

import (
	"strings"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Defaults of the table [job].
const (
	defaultFraction     = 8 // an inch rod is read to an eighth (common practice)
	defaultIntervalFeet = 25 * unit.Foot
	defaultIntervalSI   = 10 * unit.Metre
)

// Words of the head.
var (
	languages  = []string{string(phrase.English), string(phrase.Spanish)}
	curvatures = []string{"combined", "none"}
	heights    = []string{string(Grade), string(Aim)}
)

// head reads [job] but for the units, which units has read.
func (d *decoder) head(t *table) {
	h := &d.job.Head
	t.take("units")
	t.take("coordinates")
	t.need("name")
	h.Name, h.Drawing, h.Revision = t.text("name"), t.name("drawing"), t.name("revision")
	h.Language = phrase.Language(languages[t.choice("language", languages, 0)])
	h.TimeZone = t.text("time_zone")
	h.Permit = t.text("permit")
	h.Curvature = []beam.Curvature{beam.Combined, beam.None}[t.choice("curvature", curvatures, 0)]
	h.WorkTo = WorkTo(heights[t.choice("work_to", heights, 0)])
	h.Interval = t.positive("interval")
	if h.Interval == 0 {
		h.Interval = defaultIntervalSI
		if h.Units != unit.Metres {
			h.Interval = defaultIntervalFeet
		}
	}
	h.Style = d.style(t)
	t.done()
}

// style reads how the crew's figures print.
func (d *decoder) style(t *table) unit.Style {
	s := unit.Style{System: unit.Metric, Comma: t.flag("decimal_comma", false)}
	millimetres := t.flag("millimetres", false)
	if d.job.Units == unit.Metres {
		t.take("fraction")
		s.Millimetres = millimetres
		return s
	}
	s.System, s.Face, s.Fraction = unit.Imperial, unit.FaceInches, defaultFraction
	words := []string{"decimal", "1", "1/2", "1/4", "1/8", "1/16", "1/32"}
	if i := t.choice("fraction", words, -1); i == 0 {
		s.Fraction, s.Face = 0, unit.FaceTenths
	} else if i > 0 {
		s.Fraction = 1 << (i - 1)
	}
	return s
}

// units reads what bare numbers mean, before anything else is read.
func (d *decoder) units(t *table) {
	d.job.Units = d.scaleOf(t, "units", unit.Metres)
	t.need("units")
	d.job.Coordinates = d.scaleOf(t, "coordinates", d.job.Units)
	if d.job.Units == unit.SurveyFeet && t.r.fault == nil {
		t.fail("units", phrase.New("job.survey_feet"), phrase.New("job.survey_feet.remedy"))
	}
	t.r.scale, t.r.plan = d.job.Units, d.job.Coordinates
}

func (d *decoder) scaleOf(t *table, key string, otherwise unit.Scale) unit.Scale {
	text := strings.TrimSpace(t.text(key))
	if text == "" {
		return otherwise
	}
	v, err := unit.ParseScale(text)
	t.parseFault(key, err)
	return v
}
