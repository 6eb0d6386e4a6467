package unit

// Slope is a grade as written: an exact ratio and its own words.
type Slope struct {
	Rise, Run int64 // in lowest terms, Run > 0
	Words     string
}

// Grade is the nearest float64.
func (s Slope) Grade() Grade { return Grade(float64(s.Rise) / float64(s.Run)) }

// Batter is the slope of a side as written, Run horizontal to Rise vertical.
type Batter struct {
	Run, Rise int64 // in lowest terms, Rise > 0, Run 0 for vertical
	Words     string
}

// Ratio is horizontal over vertical, 0 for vertical.
func (b Batter) Ratio() float64 { return float64(b.Run) / float64(b.Rise) }
