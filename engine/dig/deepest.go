package dig

import "spadework/engine/geom"

// deepest gives every place to the cell that is lowest there, of equal ones to
// that of the earlier piece, and returns cells that do not overlap.
func deepest(cells []cell) []cell {
	var out []cell
	boxes := boxesOf(cells)
	for i := range cells {
		a := &cells[i]
		left := []patch{a.patch}
		for j := range cells {
			b := &cells[j]
			if a.piece == b.piece || !boxes[i].Meets(boxes[j]) {
				continue
			}
			if left = without(left, b.wins(a, b.piece < a.piece)); len(left) == 0 {
				break
			}
		}
		for _, p := range left {
			out = append(out, cell{patch: p, plane: a.plane, piece: a.piece, floor: a.floor})
		}
	}
	return out
}

// wins is where c lies lower than o, as far as the two overlap; where they are
// equal it wins if first.
func (c *cell) wins(o *cell, first bool) patch {
	over := o.plane.minus(c.plane).raised(tie(first))
	here := common(&c.patch, &o.patch)
	if here.empty() {
		return here
	}
	if _, most := here.span(over); most <= 0 {
		return patch{}
	}
	if least, _ := c.span(over); least >= 0 {
		return c.patch
	}
	here = c.kept(over, crease)
	if here.empty() || here.area() <= sliver {
		return patch{}
	}
	return here
}

// common is where two patches overlap, empty where they only touch.
func common(a, b *patch) patch {
	here := *a
	if b.empty() || b.area() <= sliver {
		return patch{}
	}
	for i := range b.at {
		j := (i + 1) % len(b.at)
		if tiny(b.at[i], b.at[j]) {
			continue
		}
		inside := leftOf(b.at[i], b.at[j])
		least, most := here.span(inside)
		if most <= 0 {
			return patch{}
		}
		if least >= 0 {
			continue
		}
		here = here.kept(inside, crease)
	}
	if here.empty() || here.area() <= sliver {
		return patch{}
	}
	return here
}

// without takes the patch off from every patch of a list. Both sides of each cut
// get the border that the patch has there.
func without(list []patch, off patch) []patch {
	if off.empty() {
		return list
	}
	var out []patch
	for i := range list {
		if c := common(&list[i], &off); c.empty() {
			out = append(out, list[i])
			continue
		}
		rest := list[i]
		for k := range off.at {
			next := off.at[(k+1)%len(off.at)]
			if tiny(off.at[k], next) {
				continue
			}
			inside := leftOf(off.at[k], next)
			if least, _ := rest.span(inside); least >= 0 {
				continue
			}
			if outer := rest.kept(inside.negative(), off.across[k]); !outer.empty() && outer.area() > sliver {
				out = append(out, outer)
			}
			if rest = rest.kept(inside, off.across[k]); rest.empty() {
				break
			}
		}
	}
	return out
}

// tiny says that a side is so short that rounding decides its direction.
func tiny(a, b geom.Point) bool { return a.Distance(b) < weldWithin }
