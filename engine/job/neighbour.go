package job

import (
	"strconv"
	"strings"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Utility is a buried service.
type Utility struct {
	ID, Kind      string
	Line          []geom.Point
	Size          unit.Length // outside width of the line, 0 unknown
	Ticket        string
	MarkedOn      string // date, ISO 8601
	Expires       string
	PrivateLocate bool
	Exposed       *Exposed // nil: not seen yet
}

// Exposed is a service that was dug free and seen.
type Exposed struct {
	By  string
	Top unit.Elevation
}

// Structure is a neighbour with a footing.
type Structure struct {
	ID      string
	Outline geom.Ring
	Bearing *unit.Elevation // underside of its footing, nil unknown

	Adjoining, Granular, Supported Answer // a new footing beside it; the soil under it; underpinned or shored
	Engineer                       string // registered engineer who said it is unaffected
}

// Obstacle is something that hides the beam or blocks the machine.
type Obstacle struct {
	ID      string
	Outline geom.Ring
	Height  unit.Length     // over the ground
	Top     *unit.Elevation // or up to here
}

// Keepout is ground nobody may use.
type Keepout struct {
	ID, Reason string
	Outline    geom.Ring
}

// Overhead is a power line.
type Overhead struct {
	ID        string
	Line      []geom.Point
	Kilovolts *float64    // nil unknown
	Height    unit.Length // of the lowest wire over the ground, 0 unknown
	On        string      // tower, pole, "" unknown
}

// utilityKinds follow the uniform colour code for marking (APWA, read).
var utilityKinds = []string{"power", "gas", "oil", "communication", "water", "reclaimed", "sewer", "drain", "other"}

func (d *decoder) utility(t *table) Utility {
	out := Utility{
		ID: d.id(t, "utility"), Kind: utilityKinds[t.choice("kind", utilityKinds, len(utilityKinds)-1)],
		Line: t.corners("line", 2), Size: t.positive("size"),
		Ticket: t.name("ticket"), MarkedOn: t.date("marked_on"), Expires: t.date("expires"),
		PrivateLocate: t.flag("private_locate", false),
	}
	t.need("line")
	t.need("kind")
	if e, ok := t.inner("exposed"); ok {
		out.Exposed = &Exposed{By: e.text("by"), Top: e.elevation("top")}
		e.need("by")
		e.need("top")
		e.done()
	}
	t.done()
	return out
}

func (d *decoder) structure(t *table) Structure {
	out := Structure{ID: d.id(t, "structure"), Outline: t.corners("outline", 3), Bearing: optionalElevation(t, "bearing_level"),
		Adjoining: t.answer("adjoining", Unknown), Granular: t.answer("granular", Unknown), Supported: t.answer("supported", Unknown),
		Engineer: t.text("engineer")}
	t.need("outline")
	t.done()
	return out
}

func (d *decoder) obstacle(t *table) Obstacle {
	out := Obstacle{ID: d.id(t, "obstacle"), Outline: t.corners("outline", 3),
		Height: t.positive("height"), Top: optionalElevation(t, "top")}
	t.need("outline")
	t.done()
	return out
}

func (d *decoder) keepout(t *table) Keepout {
	out := Keepout{ID: d.id(t, "keepout"), Reason: t.text("reason"), Outline: t.corners("outline", 3)}
	t.need("outline")
	t.done()
	return out
}

func (d *decoder) overhead(t *table) Overhead {
	out := Overhead{ID: d.id(t, "overhead"), Line: t.corners("line", 2), Height: t.positive("height"), Kilovolts: kilovolts(t)}
	if i := t.choice("on", []string{"tower", "pole"}, -1); i >= 0 {
		out.On = []string{"tower", "pole"}[i]
	}
	t.need("line")
	t.done()
	return out
}

// kilovolts reads "13.8 kV" or "240 V", nil if absent: unknown.
func kilovolts(t *table) *float64 {
	text := strings.ToLower(t.text("voltage"))
	if text == "" {
		return nil
	}
	for _, u := range []struct {
		suffix string
		scale  float64
	}{{"kv", 1}, {"v", 1e-3}} {
		figure, ok := strings.CutSuffix(text, u.suffix)
		if !ok {
			continue
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(figure), 64)
		if err != nil || !(v > 0 && v < 2000) {
			break
		}
		v *= u.scale
		return &v
	}
	t.fail("voltage", phrase.New("job.voltage", phrase.With("value", text)), phrase.New("job.voltage.remedy"))
	return nil
}

// date reads a date as TOML writes it, 2026-05-04, or the same in quotes.
func (t *table) date(key string) string {
	n := t.take(key)
	if n == nil {
		return ""
	}
	if !isDate(n.text) {
		t.r.wrongKind(n, t.sub(key), "job.kind_date")
		return ""
	}
	return n.text
}

// isDate says that a text is year-month-day with a month and day that can be.
func isDate(s string) bool {
	if len(s) != 10 || s[4] != '-' || s[7] != '-' {
		return false
	}
	month, errMonth := strconv.Atoi(s[5:7])
	day, errDay := strconv.Atoi(s[8:])
	_, errYear := strconv.Atoi(s[:4])
	return errYear == nil && errMonth == nil && errDay == nil && month >= 1 && month <= 12 && day >= 1 && day <= 31
}
