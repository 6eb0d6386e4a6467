package beam

import (
	"cmp"
	"slices"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// ClampRod is the rod of one dig and the clamp heights it can be dug with.
type ClampRod struct {
	ID        string
	Rod       unit.Reading
	Low, High unit.Reading // smallest and largest clamp allowed, Low ≤ Rod ≤ High
}

// ClampGroup is digs that share a clamp height.
type ClampGroup struct {
	Clamp unit.Reading
	Digs  []Clamped // by id
}

// Clamped is one dig of a group.
type Clamped struct {
	ID         string
	Rod        unit.Reading
	Difference unit.Length // Clamp − Rod: + digs that much too deep, − too shallow
}

// Exactly is a rod that takes no other clamp than its own, rounded to the rod's
// step: digs share a clamp only where they read the same.
func (r Rod) Exactly(id string, rod unit.Reading) ClampRod {
	rounded := r.Round(rod)
	return ClampRod{ID: id, Rod: rounded, Low: rounded, High: rounded}
}

// Within is a rod that takes any clamp inside the allowed band: a clamp longer
// than the rod digs too deep, so Below lengthens it and Above shortens it.
func Within(id string, rod unit.Reading, allowed Band) ClampRod {
	return ClampRod{ID: id, Rod: rod, Low: rod - unit.Reading(allowed.Above), High: rod + unit.Reading(allowed.Below)}
}

// ClampStrip groups rods into the fewest clamp heights such that each dig's lies
// in its interval (greedy by upper end, which is exact for intervals), clamp
// heights rising. A group's clamp is the middle of its rods as far as every
// interval allows, on the rod's step where a step lies there. Heights that differ
// by less than 1e-9 m are one.
func ClampStrip(rods []ClampRod, step unit.Reading) ([]ClampGroup, *phrase.Fault) {
	if f := finite(named{"rod.step", float64(step)}); f != nil {
		return nil, f
	}
	for _, r := range rods {
		if f := r.check(); f != nil {
			return nil, f
		}
	}
	left := slices.Clone(rods)
	slices.SortFunc(left, func(a, b ClampRod) int {
		return cmp.Or(cmp.Compare(a.High, b.High), strings.Compare(a.ID, b.ID))
	})
	var groups []ClampGroup
	for first := 0; first < len(left); {
		stab, end := left[first].High, first+1
		for end < len(left) && left[end].Low <= stab+rounding {
			end++
		}
		groups = append(groups, clampGroup(left[first:end], step))
		first = end
	}
	return groups, nil
}

// check refuses an interval that does not hold its rod.
func (r ClampRod) check() *phrase.Fault {
	if f := finite(named{"rod", float64(r.Rod)}, named{"rod.low", float64(r.Low)}, named{"rod.high", float64(r.High)}); f != nil {
		return f
	}
	if r.Low <= r.Rod && r.Rod <= r.High {
		return nil
	}
	return phrase.NewFault(
		phrase.New("beam.clamp_band", phrase.With("id", r.ID), phrase.With("rod", r.Rod),
			phrase.With("low", r.Low), phrase.With("high", r.High)),
		phrase.New("beam.clamp_band_remedy"))
}

// clampGroup is the group of rods that share a clamp height.
func clampGroup(taken []ClampRod, step unit.Reading) ClampGroup {
	clamp := clampOf(taken, step)
	slices.SortFunc(taken, func(a, b ClampRod) int { return strings.Compare(a.ID, b.ID) })
	g := ClampGroup{Clamp: clamp}
	for _, r := range taken {
		g.Digs = append(g.Digs, Clamped{ID: r.ID, Rod: r.Rod, Difference: unit.Length(clamp - r.Rod)})
	}
	return g
}

// clampOf is the clamp height of rods whose intervals have a point in common.
func clampOf(taken []ClampRod, step unit.Reading) unit.Reading {
	first := taken[0]
	low, high, least, most := first.Low, first.High, first.Rod, first.Rod
	for _, r := range taken[1:] {
		low, high = max(low, r.Low), min(high, r.High)
		least, most = min(least, r.Rod), max(most, r.Rod)
	}
	middle := max(low, min(high, (least+most)/2))
	rounded := unit.Reading(roundTo(float64(middle), float64(step)))
	for _, onStep := range []unit.Reading{rounded, rounded - step, rounded + step} {
		if onStep >= low-rounding && onStep <= high+rounding {
			return onStep
		}
	}
	return middle
}
