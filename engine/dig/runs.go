package dig

import (
	"strconv"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// resolveRun adds the parts of a strip or trench, or of every trench of a
// field.
func (d *Dig) resolveRun(x *Excavation, site Site) error {
	first, err := newAlignment(x.Line, "line")
	if err != nil {
		return err
	}
	count := 1
	if x.Kind == Field {
		count = x.Count
	}
	for k := 0; k < count; k++ {
		line, err := first.shifted(float64(k)*float64(x.Spacing), x.Hand, "line")
		if err != nil {
			return err
		}
		r := &run{x: x, site: site, line: line}
		parts, err := r.parts()
		if err != nil {
			return err
		}
		nameRun(parts, k, x.Kind == Field)
		d.Parts = append(d.Parts, parts...)
		d.noteOnce(r.notes)
		if k == 0 {
			if err := d.addStructures(r); err != nil {
				return err
			}
		}
	}
	return nil
}

// nameRun numbers the parts of run k: 1, 2 … in a single one, 1, 2 … or 1.1,
// 1.2 … in a field.
func nameRun(parts []Part, k int, field bool) {
	prefix := strconv.Itoa(k + 1)
	for i := range parts {
		parts[i].run = k
		switch {
		case !field:
			parts[i].ID = strconv.Itoa(i + 1)
		case len(parts) == 1:
			parts[i].ID = prefix
		default:
			parts[i].ID = prefix + "." + strconv.Itoa(i+1)
		}
	}
}

// noteOnce adds notes but those with a key already there: the trenches of a
// field say the same.
func (d *Dig) noteOnce(notes []phrase.Message) {
	for _, n := range notes {
		seen := false
		for _, have := range d.Notes {
			seen = seen || have.Key == n.Key
		}
		if !seen {
			d.Notes = append(d.Notes, n)
		}
	}
}

// parts are the planar pieces of the run in the order of their stations.
func (r *run) parts() ([]Part, error) {
	if err := r.checkSteps(); err != nil {
		return nil, err
	}
	if r.x.Bottom.Rule == ByInvert {
		flow, err := r.newFlowline()
		if err != nil {
			return nil, err
		}
		r.flow = flow
		r.noteFlow()
	}
	if r.x.Bottom.Rule == ByCover && r.x.Pipe == nil {
		r.note(phrase.New("dig.note.cover_no_pipe"))
	}
	r.setBreaks()
	neat, err := r.line.bands(float64(r.x.Width), r.breaks)
	if err != nil {
		return nil, err
	}
	dug := neat
	if r.x.Working > 0 {
		if dug, err = r.line.bands(float64(r.x.dugWidth()), r.breaks); err != nil {
			return nil, err
		}
	}
	level, err := r.leveller(neat)
	if err != nil {
		return nil, err
	}
	parts := make([]Part, len(neat))
	for k := range parts {
		parts[k] = r.part(k, level)
		parts[k].Neat, parts[k].Outline = neat[k], dug[k]
		parts[k].outer = r.outer(dug[k], k)
	}
	return parts, nil
}

// part is piece k without its outlines.
func (r *run) part(k int, level leveller) Part {
	from, to := r.breaks[k], r.breaks[k+1]
	trace, grade := level(from)
	start := r.line.pointAt(from)
	dir := r.line.direction(r.line.legAt(from))
	return Part{
		Bottom: geom.Plane{Origin: start, Z0: float64(trace.Sum), Slope: dir.Scale(float64(grade))},
		Trace:  trace,
		Line:   []geom.Point{start, r.line.pointAt(to)},
		From:   unit.Station(from), To: unit.Station(to), Grade: grade,
	}
}

// noteFlow tells what was taken for granted about a flow line.
func (r *run) noteFlow() {
	x, f := r.x, r.flow
	if x.Pipe == nil {
		r.note(phrase.New("dig.note.no_pipe"))
	}
	if len(f.knots) == 1 {
		if x.Fall == 0 {
			r.note(phrase.New("dig.note.one_invert"))
		}
		return
	}
	if beyond := f.extended(r.line.length()); beyond > snap {
		r.note(phrase.New("dig.note.extended", phrase.With("length", unit.Length(beyond))))
	}
	if x.Fall == 0 {
		return
	}
	drawn := x.rise().Over(unit.Length(f.knots[len(f.knots)-1].station - f.knots[0].station))
	if off := drawn - f.rise(); off > fallSlack || off < -fallSlack {
		r.note(phrase.New("dig.note.fall_differs", phrase.With("fall", x.Fall),
			phrase.With("off", max(off, -off))))
	}
}

// fallSlack is how far a drawn fall may miss drawn inverts by their rounding to
// a hundredth of a foot each (common practice).
const fallSlack = unit.Foot / 100

// outer tells for each side of piece k which side of the run it is: 0 right, 1
// far end, 2 left, 3 near end, −1 across it.
func (r *run) outer(ring geom.Ring, k int) []int {
	dir := r.line.direction(r.line.legAt(r.breaks[k]))
	start := r.line.pointAt(r.breaks[k])
	length := r.breaks[k+1] - r.breaks[k]
	out := make([]int, len(ring))
	for i := range ring {
		from, to := ring.Side(i)
		side := to.Sub(from).Unit()
		a, b := from.Sub(start).Dot(dir), to.Sub(start).Dot(dir)
		out[i] = -1
		switch {
		case side.Dot(dir) > 0 && onLine(side.Cross(dir)):
			out[i] = 0
		case side.Dot(dir) < 0 && onLine(side.Cross(dir)):
			out[i] = 2
		case k+2 == len(r.breaks) && onLine(a-length) && onLine(b-length):
			out[i] = 1
		case k == 0 && onLine(a) && onLine(b):
			out[i] = 3
		}
	}
	return out
}
