package geom

import "math"

// orient3Bound: a term z·(p·q − r·s) of differences: the minor
// errs by 4u of its absolute products, the product with z by 2u more, two sums
// by 2u; 8u against the sum of absolute products, whose own rounding is 6u of
// itself. 9u covers it (Shewchuk 1997 shows 7u+56u²).
const orient3Bound = 9 * u

// orient3Floor covers underflow: a lost 2^-1075 times a height difference of
// at most 1e150, a few times.
const orient3Floor = 1e-160

// Orient3 is the sign of the volume of a, b, c, d: +1 if d lies below the plane
// of a, b, c where these run counter-clockwise seen from above, −1 if above, 0
// if all lie in one plane. It is exact for all finite coordinates; with NaN or
// Inf it is 0.
func Orient3(a, b, c, d Point3) int {
	adx, ady, adz := a.X-d.X, a.Y-d.Y, a.Z-d.Z
	bdx, bdy, bdz := b.X-d.X, b.Y-d.Y, b.Z-d.Z
	cdx, cdy, cdz := c.X-d.X, c.Y-d.Y, c.Z-d.Z
	bc1, bc2 := float64(bdx*cdy), float64(cdx*bdy)
	ca1, ca2 := float64(cdx*ady), float64(adx*cdy)
	ab1, ab2 := float64(adx*bdy), float64(bdx*ady)
	det := float64(adz*(bc1-bc2)) + float64(bdz*(ca1-ca2)) + float64(cdz*(ab1-ab2))
	sum := float64((math.Abs(bc1)+math.Abs(bc2))*math.Abs(adz)) +
		float64((math.Abs(ca1)+math.Abs(ca2))*math.Abs(bdz)) +
		float64((math.Abs(ab1)+math.Abs(ab2))*math.Abs(cdz))
	bound := float64(orient3Bound*sum) + orient3Floor
	if math.Abs(adz)+math.Abs(bdz)+math.Abs(cdz) < 1e150 { // what the floor holds for
		if det > bound {
			return 1
		}
		if det < -bound {
			return -1
		}
	}
	return orient3Exact(a, b, c, d)
}
