package gradeline

import (
	"math"
	"slices"
	"sort"

	"spadework/engine/unit"
)

// clash finds a smallest set of bounds that cannot be kept together (Junker,
// QuickXplain, 2004).
func (w *work) clash() *Clash {
	core := w.explain(nil, w.bounds, false)
	sort.SliceStable(core, func(i, j int) bool { return core[i].s < core[j].s })
	out := &Clash{Short: w.short(core)}
	for _, b := range core {
		out.Rules = append(out.Rules, w.rules[b.rule])
	}
	free := *w
	free.least = math.Inf(-1)
	_, out.LeastFall = free.solve(core)
	free.least, free.most = w.least, math.Inf(1)
	_, out.MostFall = free.solve(core)
	return out
}

// explain is the part of more that with the given bounds makes a smallest
// clash. added says that given grew since it was last known to be good.
func (w *work) explain(given, more []bound, added bool) []bound {
	if added && !w.good(given) {
		return nil
	}
	if len(more) == 1 {
		return more
	}
	half := len(more) / 2
	first, second := more[:half], more[half:]
	late := w.explain(join(given, first), second, len(first) > 0)
	early := w.explain(join(given, late), first, len(late) > 0)
	return join(early, late)
}

// join is both lists in one of its own, by station.
func join(a, b []bound) []bound {
	out := append(slices.Clone(a), b...)
	sort.SliceStable(out, func(i, j int) bool { return out[i].s < out[j].s })
	return out
}

// good says that some line keeps the bounds.
func (w *work) good(bounds []bound) bool {
	_, ok := w.solve(bounds)
	return ok
}

// short is how far the upper bounds must rise for a clash to end, to a
// micrometre; never more than the box.
func (w *work) short(core []bound) unit.Length {
	raised := func(by float64) []bound {
		out := slices.Clone(core)
		for i := range out {
			if out[i].upper {
				out[i].z += by
			}
		}
		return out
	}
	low, high := 0.0, w.ceil-w.floor
	for high-low > grain {
		if mid := (low + high) / 2; w.good(raised(mid)) {
			high = mid
		} else {
			low = mid
		}
	}
	return unit.Length(high)
}
