package reception

import "math"

// end is where a ray enters or leaves a facet.
type end struct {
	t, z  float64
	place place
}

// chord is the need of a facet that has a proper width across the ray. Between
// the ends of the chord the surface is straight and the beam bends up by
// bend·t², so that the largest difference exceeds that at the ends by bend/4
// times the square of the chord's share of the ray at most.
func (r *ray) chord(f *seen) need {
	in, out, width := f.ends()
	high, low := largest3(&f.z), smallest3(&f.z)
	dz, dt := high-low, largest3(&f.t)-smallest3(&f.t)
	// A crossing's share of its edge is off by 3e/width and its rounding; where
	// an edge runs with the ray the third corner has a share of 17e/width.
	share := 20*f.e/width + 8*u
	off := float64(share*dt) + 2*f.e/r.d2 + 16*u*(1+math.Abs(in.t)+math.Abs(out.t))
	if out.t < -off || in.t > 1+off {
		return nothing
	}
	// The cut at either end of the ray is off by what t is, as a share of the
	// chord, and by the whole chord at most.
	cut := float64(math.Abs(out.z-in.z) * smaller(1, 4*off/larger(out.t-in.t, tiny)))
	a, b := in.cutAt(out, 0, off), out.cutAt(in, 1, off)
	err := float64(share*dz) + cut + 16*u*larger(math.Abs(high), math.Abs(low)) +
		float64((math.Abs(r.rise)+2*r.bend)*off) + r.slack
	long := larger(0, b.t-a.t) + 2*off
	bent := float64(r.bend * float64(long*long))
	va, vb := a.z-r.beam(a.t), b.z-r.beam(b.t)
	top := larger(va, vb)
	n := need{low: top - err, high: top + (err + bent/4), t: b.t, ends: [2]place{a.place, b.place}}
	if va >= vb {
		n.t = a.t
	}
	if !f.crossed() || !(in.t+off < out.t-off && in.t+off < 1 && out.t-off > 0) {
		n.low = math.Inf(-1)
	}
	n.sift(va-vb, 4*err, bent)
	return n
}

// sift leaves out the end of a chord that asks for less than the other by some
// difference. If the two are not err apart both stay; if the beam may bend so
// much that the most is asked for between them, none is of use: its derivative
// changes sign there only if the ends differ by less than bent.
func (n *need) sift(more, err, bent float64) {
	switch {
	case bent > 0 && math.Abs(more) <= bent+err:
		n.ends = [2]place{inDoubt, inDoubt}
	case more > err:
		n.ends[1] = idle
	case more < -err:
		n.ends[0] = idle
	}
}

// crossed says that corners lie to the left and to the right of the ray's line
// beyond doubt.
func (f *seen) crossed() bool {
	return largest3(&f.w) > f.e && smallest3(&f.w) < -f.e
}

// cutAt is e moved along its chord to the ray's end at t if it lies beyond. e and
// other err by off.
func (e end) cutAt(other end, t, off float64) end {
	if math.Abs(e.t-t) <= off {
		e.place = inDoubt
	}
	beyond := t == 0 && e.t < 0 || t == 1 && e.t > 1
	if !beyond {
		return end{share01(e.t), e.z, e.place}
	}
	cut := atLaser
	if t == 1 {
		cut = atTarget
	}
	if e.place == inDoubt {
		cut = inDoubt
	}
	if e.t == other.t {
		return end{t, e.z, inDoubt}
	}
	k := share01((t - e.t) / (other.t - e.t))
	return end{t, e.z + float64(k*(other.z-e.z)), cut}
}

// ends are where the ray's line crosses the facet, with the least width across
// the line that a crossing was worked out from.
func (f *seen) ends() (in, out end, width float64) {
	in, out, width = end{t: math.Inf(1), place: inDoubt}, end{t: math.Inf(-1), place: inDoubt}, math.Inf(1)
	add := func(t, z float64, at place) {
		if t < in.t {
			in = end{t, z, at}
		}
		if t > out.t {
			out = end{t, z, at}
		}
	}
	for i := range f.w {
		j := (i + 1) % 3
		wi, wj := f.w[i], f.w[j]
		if wi > f.e && wj > f.e || wi < -f.e && wj < -f.e {
			continue
		}
		across := math.Abs(wi - wj)
		if across <= 16*f.e { // the edge runs with the ray
			add(f.t[i], f.z[i], inDoubt)
			add(f.t[j], f.z[j], inDoubt)
			width = smaller(width, f.wide)
			continue
		}
		k := share01(wi / (wi - wj))
		at := place(i)
		if smaller(math.Abs(wi), math.Abs(wj)) <= f.e {
			at = inDoubt
		}
		add(f.t[i]+float64(k*(f.t[j]-f.t[i])), f.z[i]+float64(k*(f.z[j]-f.z[i])), at)
		width = smaller(width, across)
	}
	return in, out, width
}
