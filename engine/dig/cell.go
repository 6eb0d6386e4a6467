package dig

import "spadework/engine/geom"

// cell is a patch of the cut surface that is one plane.
type cell struct {
	patch
	plane linear
	piece int
	floor bool // of the bottom itself
}

// layered is a patch with the planes of which the highest holds there.
type layered struct {
	patch
	planes []linear
}

// equalWithin is the difference in metres under which two heights are one: what
// rounding leaves of equal ones.
const equalWithin = 1e-10

// tie is what a difference is raised by so that of equal planes the first has
// the place and the other not.
func tie(first bool) float64 {
	if first {
		return equalWithin
	}
	return -equalWithin
}

// farOut is how much further than the widest side the mitre of a sharp corner
// may reach: 1000 is a corner of a tenth of a degree.
const farOut = 1000

// cells are the planes of the piece under ground that is nowhere higher than
// top.
func (p *piece) cells(top float64) []cell {
	if p.rounded {
		return p.roundedCells(top)
	}
	return p.mitredCells(top)
}

// mitredCells are the cells with all sides carried on till they meet.
func (p *piece) mitredCells(top float64) []cell {
	list := []layered{{p.reach(top), []linear{p.bottom}}}
	for i := range p.faces {
		list = p.faces[i].over(list)
	}
	for i := range p.beside {
		list = p.beside[i].over(list)
	}
	var out []cell
	for i := range list {
		out = list[i].highest(out)
	}
	return out
}

// reach is the plan of all that can be dug of the piece under ground up to top.
func (p *piece) reach(top float64) patch {
	return p.moved(func(f *face) float64 { return f.width(top) })
}

// moved is the plan of the piece with each side moved out by a width, the walls
// where they are.
func (p *piece) moved(width func(*face) float64) patch {
	widest := 0.0
	for i := range p.faces {
		widest = max(widest, width(&p.faces[i]))
	}
	most := 4 + len(p.faces) + len(p.beside) // corners: every line adds one at most
	here, next := patchRoom(most), patchRoom(most)
	for _, at := range geom.BoxOf(p.ring...).Grown(1 + float64(farOut*widest)).Ring() {
		here.add(at, wall)
	}
	limit := func(f *face) {
		here.keep(&next, f.beyond.negative().raised(width(f)), wall)
		here, next = next, here
	}
	for i := range p.faces {
		limit(&p.faces[i])
	}
	for i := range p.beside {
		limit(&p.beside[i])
	}
	return here
}

// over adds the face to every layered patch, cut at the face's shelves where it
// has more than one plane.
func (f *face) over(list []layered) []layered {
	shelves := f.rise.shelves
	switch {
	case f.wall() || len(shelves) == 0:
		return list
	case len(shelves) == 1 && !f.rise.jumps(0):
		for i := range list {
			list[i].planes = append(list[i].planes, f.plane(0))
		}
		return list
	}
	var out []layered
	for _, l := range list {
		out = f.shelve(l, out)
	}
	return out
}

// shelve cuts a layered patch at the shelves of the face.
func (f *face) shelve(l layered, out []layered) []layered {
	edge := func(k int) border {
		if f.rise.jumps(k) {
			return wall
		}
		return crease
	}
	if in := l.kept(f.beyond.negative(), edge(0)); !in.empty() {
		out = append(out, layered{in, append([]linear(nil), l.planes...)})
	}
	rest := l.kept(f.beyond, edge(0))
	for k := range f.rise.shelves {
		if rest.empty() {
			break
		}
		part := rest
		if k+1 < len(f.rise.shelves) {
			end := f.beyond.raised(-f.rise.shelves[k+1].from)
			part = rest.kept(end.negative(), edge(k+1))
			rest = rest.kept(end, edge(k+1))
		}
		if !part.empty() {
			out = append(out, layered{part, append(append([]linear(nil), l.planes...), f.plane(k))})
		}
	}
	return out
}

// highest cuts the patch into cells of the plane that is highest there. Of equal
// planes the first has the cell.
func (l *layered) highest(out []cell) []cell {
	for i, plane := range l.planes {
		if here := l.where(i); !here.empty() && here.area() > sliver {
			out = append(out, cell{patch: here, plane: plane, floor: i == 0})
		}
	}
	return out
}

// where is the part of the patch where plane i is highest.
func (l *layered) where(i int) patch {
	here := l.patch
	for j := range l.planes {
		if j == i {
			continue
		}
		over := l.planes[i].minus(l.planes[j]).raised(tie(i < j))
		least, most := here.span(over)
		switch {
		case least >= 0:
			continue
		case most <= 0:
			return patch{}
		}
		if here = here.kept(over, crease); here.empty() {
			return here
		}
	}
	return here
}
