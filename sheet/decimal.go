package sheet

import "strconv"

// decimal is a figure of our own tables.
func decimal(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("sheet: " + s + " is no figure of a dash")
	}
	return v
}
