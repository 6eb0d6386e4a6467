package level

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Loop is a way through a network that comes back to its start, or that leads
// from one fixed point to another.
type Loop struct {
	Points     []string    // first and last the same, or both fixed
	Misclosure unit.Length // computed − known: sum of the rises, less the known rise between fixed points
	Length     unit.Length // 0 unless every difference has one
	Setups     int         // 0 unless every difference has some
}

// Loops are the ways that check a network: for each difference of weight above
// 0 outside a spanning tree from the fixed points, the loop or the way between
// two fixed points that it closes. Faults are those of Adjust, but a network need
// not be connected.
func (n Network) Loops() ([]Loop, error) {
	g, err := n.graph()
	if err != nil {
		return nil, err
	}
	f := g.forest()
	var loops []Loop
	for i, d := range g.differences {
		if d.Weight > 0 && !f.used[i] {
			loops = append(loops, g.close(f, i))
		}
	}
	return loops, nil
}

// close is the way that difference i closes.
func (g *graph) close(f *forest, i int) Loop {
	out, back := f.path(g.from[i]), f.path(g.to[i])
	for len(out) > 1 && len(back) > 1 && out[0] == back[0] && out[1] == back[1] {
		out, back = out[1:], back[1:]
	}
	w := walk{g: g, complete: true, counted: true}
	w.Points = []string{g.names[out[0]]}
	for _, p := range out[1:] {
		w.step(f.by[p], p)
	}
	w.step(i, g.to[i])
	for k := len(back) - 2; k >= 0; k-- {
		w.step(f.by[back[k+1]], back[k])
	}
	return w.finish(out[0], back[0])
}

// walk is a loop on the way.
type walk struct {
	Loop
	g                 *graph
	complete, counted bool // all lengths, all set-ups are noted
}

// step follows difference i to point p.
func (w *walk) step(i, p int) {
	d := w.g.differences[i]
	if w.g.to[i] == p {
		w.Misclosure += d.Rise
	} else {
		w.Misclosure -= d.Rise
	}
	w.Points = append(w.Points, w.g.names[p])
	w.Length += d.Length
	w.Setups += d.Setups
	w.complete = w.complete && d.Length > 0
	w.counted = w.counted && d.Setups > 0
}

// finish takes off the known rise and sums that lack a part.
func (w *walk) finish(first, last int) Loop {
	if first != last {
		w.Misclosure -= w.g.fixed[last].Above(w.g.fixed[first])
	}
	if !w.complete {
		w.Length = 0
	}
	if !w.counted {
		w.Setups = 0
	}
	return w.Loop
}

// LoopThrough is the loop along three or more named points, closed to the first,
// each step by the first difference between the two. Fewer points, or neighbours
// without a difference, are a *phrase.Fault.
func (n Network) LoopThrough(points ...string) (Loop, error) {
	g, err := n.graph()
	if err != nil {
		return Loop{}, err
	}
	if len(points) < 3 {
		return Loop{}, phrase.NewFault(phrase.New("level.short_loop", phrase.With("points", points)), phrase.New("level.short_loop.remedy"))
	}
	w := walk{g: g, complete: true, counted: true}
	w.Points = []string{points[0]}
	for k, from := range points {
		to := points[(k+1)%len(points)]
		i, ok := g.between(from, to)
		if !ok {
			return Loop{}, phrase.NewFault(
				phrase.New("level.no_difference", phrase.With("from", from), phrase.With("to", to)),
				phrase.New("level.no_difference.remedy"))
		}
		w.step(i, g.number[to])
	}
	return w.finish(0, 0), nil
}

// between is the first difference that joins two points, either way round.
func (g *graph) between(a, b string) (i int, ok bool) {
	for i, d := range g.differences {
		if d.From == a && d.To == b || d.From == b && d.To == a {
			return i, true
		}
	}
	return 0, false
}
