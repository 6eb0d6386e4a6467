package unit

// Bearing reads a quadrant bearing, N 45°30' E, a cardinal letter, or an
// azimuth in degrees from 0 to 360. The result runs clockwise from north and is
// below a full turn. Spanish O (oeste) is west.
func (r Reader) Bearing(text string) (Angle, error) {
	var ts tokens
	p := ts.read(text, r.Comma)
	var degrees float64
	if p.kind == "" {
		degrees, p = ts.bearing()
	}
	if p.kind != "" {
		return 0, ts.quote(p).error(text, "bearing")
	}
	return Angle(degrees) * Degree, nil
}

// cardinal is the azimuth of a cardinal point in quarter turns, −1 if the word
// is none.
func cardinal(word []byte) int {
	switch string(word) {
	case "n", "north", "norte":
		return 0
	case "e", "east", "este":
		return 1
	case "s", "south", "sur":
		return 2
	case "w", "west", "o", "oeste":
		return 3
	}
	return -1
}

// bearing reads the whole text, in degrees.
func (ts *tokens) bearing() (float64, problem) {
	from := cardinal(ts.word(0))
	switch {
	case from >= 0 && ts.n == 1:
		return float64(90 * from), problem{}
	case from >= 0:
		return ts.quadrant(from)
	case ts.kind(0) == '-':
		return 0, problem{kind: Negative}
	case ts.kind(0) == wordToken:
		return 0, ts.at(UnknownUnit, 0)
	}
	a, p := ts.degrees(0, ts.n)
	if a == 360 {
		a = 0
	}
	return a, p
}

// quadrant reads "angle E" after N or S.
func (ts *tokens) quadrant(from int) (float64, problem) {
	to := cardinal(ts.word(ts.n - 1))
	if from%2 != 0 || to%2 != 1 {
		return 0, ts.at(UnknownUnit, ts.n-1)
	}
	a, p := ts.degrees(1, ts.n-1)
	if p.kind != "" {
		return 0, p
	}
	if a > 90 {
		return 0, problem{kind: TooLarge, limit: "90°"}
	}
	switch {
	case from == 0 && to == 1:
		return a, problem{}
	case from == 2 && to == 1:
		return 180 - a, problem{}
	case from == 2:
		return 180 + a, problem{}
	case a == 0:
		return 0, problem{}
	}
	return 360 - a, problem{}
}
