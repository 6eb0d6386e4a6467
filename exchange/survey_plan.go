package exchange

import (
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/job"
	"spadework/engine/plan"
	"spadework/engine/record"
)

// SurveyOf is what a plan and its log give other programs: the existing and the
// finished ground, the bottom of every part of every dig, and the newest shots,
// all in job coordinates.
func SurveyOf(p *plan.Plan, st *record.State) Survey {
	var out Survey
	origin := p.Job.Origin.Job(geom.Point{})
	for _, g := range []struct {
		name   string
		ground *job.Ground
	}{{"existing", p.Job.Existing}, {"finished", p.Job.Finished}} {
		if g.ground == nil {
			continue
		}
		if s := surfaceOf(g.name, g.ground.Surface, origin); len(s.Faces) > 0 {
			out.Surfaces = append(out.Surfaces, s)
		}
	}
	for _, d := range p.Digs {
		for _, part := range d.Parts {
			out.Lines = append(out.Lines, bottomOf(d, part, origin))
		}
	}
	for _, d := range st.Digs {
		for _, pt := range d.Points {
			if at, ok := placeOfShot(st, pt.Shot); ok {
				id := d.Excavation
				for _, more := range []string{pt.Part, pt.Point} {
					if more != "" {
						id += "/" + more
					}
				}
				out.Points = append(out.Points, SurveyPoint{ID: id, At: at.Raised(float64(pt.Height)), Known: true, Words: string(pt.Verdict)})
			}
		}
	}
	return out
}

// placeOfShot is where a shot was taken, if it was told.
func placeOfShot(st *record.State, id record.ID) (geom.Point, bool) {
	for _, l := range st.Log {
		if s, ok := l.Payload.(*record.CheckShot); ok && l.ID == id && s.At != nil {
			return geom.Point{X: float64(s.At[0]), Y: float64(s.At[1])}, true
		}
	}
	return geom.Point{}, false
}

// bottomOf is the dug bottom of a part.
func bottomOf(d plan.Dig, part dig.Part, origin geom.Point) SurveyLine {
	l := SurveyLine{ID: d.Excavation.ID + "/" + part.ID, Kind: DigBottom, Words: d.Excavation.Words, Known: true, Dig: factsOf(d.Excavation)}
	for _, at := range part.Outline {
		l.Points = append(l.Points, geom.Point3{X: at.X + origin.X, Y: at.Y + origin.Y, Z: float64(part.BottomAt(at))})
	}
	return l
}

// factsOf is what other programs are told of a dig.
func factsOf(x dig.Excavation) DigFacts {
	out := DigFacts{Kind: string(x.Kind)}
	if t := x.Tolerance; t != nil {
		above, below := float64(t.Above), float64(t.Below)
		out.Above, out.Below = &above, &below
	}
	if x.Kind.Run() && x.Width > 0 {
		width := float64(x.Width)
		out.Width = &width
	}
	return out
}

// surfaceOf is the facets of a ground; a level ground without an end has none.
func surfaceOf(name string, s ground.Surface, origin geom.Point) SurveySurface {
	out := SurveySurface{Name: name}
	if !(s.Bounds().Width() <= maxCoordinate) {
		return out
	}
	index := map[geom.Point3]int{}
	at := func(p geom.Point3) int {
		k, ok := index[p]
		if !ok {
			k = len(out.Points)
			index[p] = k
			out.Points = append(out.Points, geom.Point3{X: p.X + origin.X, Y: p.Y + origin.Y, Z: p.Z})
		}
		return k
	}
	s.Facets(s.Bounds(), func(a, b, c geom.Point3) bool {
		out.Faces = append(out.Faces, [3]int{at(a), at(b), at(c)})
		return len(out.Faces) < maxFaces
	})
	return out
}
