package geom

// InCircleBound times B bounds the error of the rounded determinant. With d as origin, a difference carries a factor (1+u), a
// product of two differences 3u, their difference bc = bdx·cdy − cdx·bdy an
// error 4u·(|bdx·cdy|+|cdx·bdy|), a lift (sum of two squares) a factor 4u, a
// term lift·bc 9u, and the sum of three terms 11u against
// Σ alift·(|bdx·cdy|+|cdx·bdy|), all to O(u²). As |p·q| ≤ (p²+q²)/2, that sum is
// at most B = alift·blift + blift·clift + clift·alift, which costs no absolute
// values. The computed B is within 12u of the exact one, so 13u·B covers all.
const InCircleBound = 13 * u

// InCircleFloor is added to the bound; it covers underflow: every lost 2^-1075 is multiplied by a lift or
// a bc of at most liftLimit, so 20 of them stay under 1e-260.
const InCircleFloor = 1e-255

// CircleLimit bounds the coordinates, in metres either way, for which
// InCircleNear may be used.
const CircleLimit = 1e30

// InCircle is +1 if d lies inside the circle through the counter-clockwise
// a, b, c, −1 if outside, 0 if on it; the signs swap if a, b, c run clockwise.
// It is exact for all finite coordinates; with NaN or Inf it is 0.
func InCircle(a, b, c, d Point) int {
	m := BoxOf(a, b, c, d)
	if m.Min.X < -CircleLimit || m.Min.Y < -CircleLimit || m.Max.X > CircleLimit || m.Max.Y > CircleLimit {
		return inCircleExact(a, b, c, d)
	}
	return InCircleNear(a, b, c, d)
}

// InCircleNear is InCircle for coordinates within ±CircleLimit, unchecked.
func InCircleNear(a, b, c, d Point) int {
	adx, ady := a.X-d.X, a.Y-d.Y
	bdx, bdy := b.X-d.X, b.Y-d.Y
	cdx, cdy := c.X-d.X, c.Y-d.Y
	alift := float64(adx*adx) + float64(ady*ady)
	blift := float64(bdx*bdx) + float64(bdy*bdy)
	clift := float64(cdx*cdx) + float64(cdy*cdy)
	det := float64(alift*(float64(bdx*cdy)-float64(cdx*bdy))) +
		float64(blift*(float64(cdx*ady)-float64(adx*cdy))) +
		float64(clift*(float64(adx*bdy)-float64(bdx*ady)))
	sum := float64(alift*(blift+clift)) + float64(blift*clift)
	bound := float64(InCircleBound*sum) + InCircleFloor
	if det > bound {
		return 1
	}
	if det < -bound {
		return -1
	}
	return inCircleExact(a, b, c, d)
}
