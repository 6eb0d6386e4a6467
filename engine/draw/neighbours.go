package draw

import (
	"spadework/engine/geom"
	"spadework/engine/job"
)

// standing are the outlines of what stands on the site.
func standing(j *job.Job) []geom.Ring {
	var out []geom.Ring
	for _, n := range j.Structures {
		out = append(out, n.Outline)
	}
	for _, n := range j.Obstacles {
		out = append(out, n.Outline)
	}
	for _, n := range j.Keepouts {
		out = append(out, n.Outline)
	}
	return out
}

// services draws buried services and overhead lines, lettered along the way.
func (s *sitePlan) services() {
	for _, u := range s.p.Job.Utilities {
		s.lettered(u.Line, u.ID)
	}
	for _, o := range s.p.Job.Overheads {
		s.lettered(o.Line, o.ID)
	}
}

// letterEvery is how far apart the letters of a service stand, in sizes.
const letterEvery = 9

// lettered draws a line with its letter at even distances along every leg.
func (s *sitePlan) lettered(line []geom.Point, letter string) {
	points := s.all(line)
	s.clipped(Service, points)
	written, seen := false, false
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		n := max(1, int(a.Distance(b)/(letterEvery*s.size)))
		for k := range n {
			c := a.Toward(b, (float64(k)+0.5)/float64(n))
			seen = seen || s.inside(c)
			if s.free(box(c, s.size, letter)) {
				written = true
				s.write(Service, Item{Points: []geom.Point{{X: c.X, Y: c.Y + 0.36*s.size}}, Size: s.size, Anchor: Middle, Text: letter})
			}
		}
	}
	if seen && !written {
		s.Unplaced++
	}
}

// neighbours draws what stands on the site: buildings hatched, obstacles, and
// ground to keep off.
func (s *sitePlan) neighbours() {
	for _, n := range s.p.Job.Structures {
		s.standing(Ink, n.ID, n.Outline, 1.6)
	}
	for _, n := range s.p.Job.Obstacles {
		s.standing(Ink, n.ID, n.Outline, 3)
	}
	for _, n := range s.p.Job.Keepouts {
		s.standing(Caution, n.ID, n.Outline, 3)
	}
}

func (s *sitePlan) standing(pen Pen, id string, outline geom.Ring, apart float64) {
	ring := s.all(outline)
	s.clipped(pen, append(ring, ring[0]))
	hatching := Fine
	if pen == Caution {
		hatching = Caution
	}
	s.hatch(hatching, ring, apart)
	c := geom.Ring(ring).Centroid()
	switch b := box(c, s.size, id); {
	case !s.inside(c):
	case s.free(b):
		s.write(pen, Item{Points: []geom.Point{{X: c.X, Y: c.Y + 0.36*s.size}}, Size: s.size, Anchor: Middle, Text: id})
	default:
		s.put(pen, geom.BoxOf(c), s.size, id)
	}
}
