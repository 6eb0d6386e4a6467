package plan

import (
	"cmp"
	"strings"
)

// compareIDs orders ids as people count: F2 before F10. Runs of digits compare
// as numbers, the rest byte by byte; ids that differ only in leading zeros fall
// to the shorter one.
func compareIDs(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		dx, dy := digits(x), digits(y)
		if dx == 0 || dy == 0 {
			if x[0] != y[0] {
				return cmp.Compare(x[0], y[0])
			}
			x, y = x[1:], y[1:]
			continue
		}
		if c := compareDigits(x[:dx], y[:dy]); c != 0 {
			return c
		}
		x, y = x[dx:], y[dy:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(len(a), len(b)), cmp.Compare(a, b))
}

// digits is how many digits a text begins with.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

func compareDigits(a, b string) int {
	a, b = strings.TrimLeft(a, "0"), strings.TrimLeft(b, "0")
	return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b))
}
