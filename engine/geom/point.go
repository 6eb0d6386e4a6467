package geom

import "math"

// Point is a place in plan, metres east and north of the job's local origin.
type Point struct{ X, Y float64 }

// Vector is a displacement in plan in metres, or a gradient (rise per metre
// east and north).
type Vector struct{ X, Y float64 }

// Sub is the displacement from q to p.
func (p Point) Sub(q Point) Vector { return Vector{p.X - q.X, p.Y - q.Y} }

// Add is p moved by v.
func (p Point) Add(v Vector) Point { return Point{p.X + v.X, p.Y + v.Y} }

// Distance is the horizontal distance from p to q, never negative.
func (p Point) Distance(q Point) float64 { return p.Sub(q).Length() }

// Toward is the point a share t of the way from p to q, exactly p at 0 and
// exactly q at 1: the end of a line on the survey's border stays on it.
func (p Point) Toward(q Point, t float64) Point {
	if t == 1 {
		return q
	}
	return Point{p.X + float64(t*(q.X-p.X)), p.Y + float64(t*(q.Y-p.Y))}
}

// Scale is v times k.
func (v Vector) Scale(k float64) Vector { return Vector{v.X * k, v.Y * k} }

// Plus is the sum of v and w.
func (v Vector) Plus(w Vector) Vector { return Vector{v.X + w.X, v.Y + w.Y} }

// Dot is the scalar product of v and w.
func (v Vector) Dot(w Vector) float64 { return float64(v.X*w.X) + float64(v.Y*w.Y) }

// Cross is the scalar z of v × w, positive where w lies left of v. It is
// rounded: decisions use Orient.
func (v Vector) Cross(w Vector) float64 { return float64(v.X*w.Y) - float64(v.Y*w.X) }

// Length is the size of v, by math.Sqrt rather than Hypot, which differs
// between machines.
func (v Vector) Length() float64 { return math.Sqrt(v.Dot(v)) }

// Unit is v scaled to length 1; the zero vector stays zero.
func (v Vector) Unit() Vector {
	l := v.Length()
	if l == 0 {
		return Vector{}
	}
	return Vector{v.X / l, v.Y / l}
}

// Right is v turned a quarter clockwise.
func (v Vector) Right() Vector { return Vector{v.Y, -v.X} }
