package reception

import "spadework/engine/unit"

// Best is the beam height within [low, high] that the most windows hold, the
// middle of the lowest such stretch, and how many they are. 0 windows if none
// opens there.
func Best(windows []Window, low, high unit.Elevation) (h unit.Elevation, served int) {
	panic("not yet")
}
