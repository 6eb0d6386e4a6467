package dig

import (
	"strconv"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// fault is bad input at a field of the excavation. What and remedy share the
// arguments.
func fault(path string, key phrase.Key, args ...phrase.Arg) error {
	f := phrase.NewFault(phrase.New(key, args...), phrase.New(key+"_remedy", args...))
	return f.At(phrase.Place{Path: path})
}

// conflict is a fault of two fields that contradict each other.
func conflict(path string, key phrase.Key, args ...phrase.Arg) error {
	f := fault(path, key, args...).(*phrase.Fault)
	f.Code = phrase.Conflict
	return f
}

// inside is a fault of another room with its path under a field of ours.
func inside(path string, f *phrase.Fault) error {
	out := *f
	if out.Place.Path != "" {
		path += "." + out.Place.Path
	}
	out.Place.Path = path
	return &out
}

// item is the path of a field of a list's item i, from 0: steps[0].drop.
func item(list string, i int, field string) string {
	path := list + "[" + strconv.Itoa(i) + "]"
	if field != "" {
		path += "." + field
	}
	return path
}

// named is a length and the field it came from.
type named struct {
	path  string
	value unit.Length
}

// positive is a fault of the first length that is not a finite figure > 0.
func positive(fields ...named) error {
	for _, f := range fields {
		if !(f.value > 0) || !finite(float64(f.value)) {
			return fault(f.path, "dig.positive", phrase.With("value", f.value))
		}
	}
	return nil
}

// notNegative is a fault of the first length that is not a finite figure ≥ 0.
func notNegative(fields ...named) error {
	for _, f := range fields {
		if !(f.value >= 0) || !finite(float64(f.value)) {
			return fault(f.path, "dig.not_negative", phrase.With("value", f.value))
		}
	}
	return nil
}

// known is a fault of a figure that is NaN or infinite.
func known(path string, v float64) error {
	if !finite(v) {
		return fault(path, "dig.not_finite", phrase.With("value", v))
	}
	return nil
}

// finite says that v is neither NaN nor infinite.
func finite(v float64) bool { return v-v == 0 }
