package job

// nearest is the allowed word one typing slip or two away from a wrong one, ""
// if none is. Equal distances fall to the first.
func nearest(word string, allowed []string) string {
	best, bestDistance := "", 1+len(word)/3
	for _, a := range allowed {
		if d := editDistance(word, a); d < bestDistance || d == 1 && best == "" {
			best, bestDistance = a, d
		}
	}
	return best
}

// editDistance counts the single letters to add, drop or change from a to b
// (Levenshtein 1966).
func editDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
