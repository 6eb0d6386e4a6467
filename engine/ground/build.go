package ground

import (
	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// Breakline is a line the surface bends along, with heights at its points.
type Breakline []Shot

// input is shots and breakline points in one numbering.
type input struct {
	shots []Shot
	extra []Shot
}

func (in *input) len() int { return len(in.shots) + len(in.extra) }

func (in *input) at(i int32) *Shot {
	if int(i) < len(in.shots) {
		return &in.shots[i]
	}
	return &in.extra[int(i)-len(in.shots)]
}

// Build triangulates shots and breaklines.
func Build(shots []Shot, breaklines []Breakline, o Options) (*TIN, Report, error) {
	in := input{shots: shots}
	for _, l := range breaklines {
		in.extra = append(in.extra, l...)
	}
	box := geom.EmptyBox()
	for i := range int32(in.len()) {
		box = box.With(in.at(i).At)
	}
	if in.len() < 3 || box.Min == box.Max {
		return nil, Report{}, phrase.NewFault(phrase.New("ground.too_few"), phrase.New("ground.too_few_remedy"))
	}
	t := &TIN{box: box, shots: len(shots)}
	t.order(&in)
	t.triangulate()
	return t, Report{Triangles: len(t.faces)}, nil
}

// order takes over the points along the curve.
func (t *TIN) order(in *input) {
	n := in.len()
	items := hilbertOrder(n, func(i int32) geom.Point { return in.at(i).At }, t.box)
	t.pts = make([]geom.Point, n)
	t.z = make([]float64, n)
	t.rows = make([]int32, n)
	for k, it := range items {
		i := it.index()
		s := in.at(i)
		t.pts[k], t.z[k], t.rows[k] = s.At, s.Z, i
	}
}

func (t *TIN) triangulate() {
	order := insertionOrder(len(t.pts))
	t.faces = make([]face, 0, 2*len(t.pts))
	t.first(order[0], order[1], order[2])
	f := int32(0)
	for _, v := range order[3:] {
		f, _ = t.insert(v, f)
	}
}
