package geom

// Convex says that a counter-clockwise ring nowhere turns right; exact.
func (r Ring) Convex() bool {
	n := len(r)
	for i := range r {
		if Orient(r[i], r[(i+1)%n], r[(i+2)%n]) < 0 {
			return false
		}
	}
	return n >= 3
}

// ConvexPieces cuts a simple ring into convex counter-clockwise rings that
// together are the ring: itself where it is convex, else triangles cut off ear by
// ear (Meisters 1975) and joined again while they stay convex. A ring that
// crosses itself or has fewer than three corners gives what ears it has.
func ConvexPieces(r Ring) []Ring {
	r = r.CounterClockwise()
	if r.Convex() {
		return []Ring{r}
	}
	return joinConvex(ears(r))
}

// ears cuts a counter-clockwise ring into triangles.
func ears(r Ring) []Ring {
	left := append(Ring(nil), r...)
	var out []Ring
	for len(left) > 3 {
		i := earOf(left)
		if i < 0 {
			break
		}
		n := len(left)
		a, b, c := left[(i+n-1)%n], left[i], left[(i+1)%n]
		if Orient(a, b, c) > 0 {
			out = append(out, Ring{a, b, c})
		}
		left = append(left[:i:i], left[i+1:]...)
	}
	if len(left) == 3 && Orient(left[0], left[1], left[2]) > 0 {
		out = append(out, left)
	}
	return out
}

// earOf is the first corner that can be cut off: it does not turn right and no
// other corner lies in its triangle; −1 for none.
func earOf(r Ring) int {
	n := len(r)
	for i := range r {
		a, b, c := r[(i+n-1)%n], r[i], r[(i+1)%n]
		turn := Orient(a, b, c)
		if turn < 0 {
			continue
		}
		free := true
		for k := range n - 3 {
			p := r[(i+2+k)%n]
			if turn > 0 && p != a && p != c && Orient(a, b, p) >= 0 && Orient(b, c, p) >= 0 && Orient(c, a, p) >= 0 {
				free = false
			}
		}
		if free {
			return i
		}
	}
	return -1
}

// joinConvex joins pieces over common sides while the result stays convex.
func joinConvex(pieces []Ring) []Ring {
	for i := 0; i < len(pieces); i++ {
		for k := i + 1; k < len(pieces); k++ {
			if joined, ok := joinOver(pieces[i], pieces[k]); ok {
				pieces[i] = joined
				pieces = append(pieces[:k:k], pieces[k+1:]...)
				k = i // look from the start again
			}
		}
	}
	return pieces
}

// joinOver joins two convex rings that share a side, if the result is convex.
func joinOver(a, b Ring) (Ring, bool) {
	for i := range a {
		p, q := a.Side(i)
		for k := range b {
			if from, to := b.Side(k); from != q || to != p {
				continue
			}
			var out Ring
			for s := range a {
				out = append(out, a[(i+1+s)%len(a)])
			}
			for s := 2; s < len(b); s++ {
				out = append(out, b[(k+s)%len(b)])
			}
			return out, out.Convex()
		}
	}
	return nil, false
}
