package ground

import (
	"math"

	"spadework/engine/geom"
)

func profile(n net, line []geom.Point) []ProfilePoint {
	var out []ProfilePoint
	station := 0.0
	add := func(s stop, length float64) {
		p := ProfilePoint{Station: station + float64(s.share*length), At: s.at, Z: s.z, Known: s.known, Gap: s.open}
		if !s.known {
			p.Z = math.NaN()
		}
		if k := len(out) - 1; k >= 0 && out[k].At == p.At {
			p.Station = out[k].Station
			if !p.Known {
				p.Z, p.Known = out[k].Z, out[k].Known
			}
			out[k] = p
			return
		}
		out = append(out, p)
	}
	for i := range line {
		if i == 0 {
			continue
		}
		length := line[i-1].Distance(line[i])
		trace(n, line[i-1], line[i], func(s stop) bool {
			add(s, length)
			return true
		})
		station += length
	}
	if len(line) == 1 {
		trace(n, line[0], line[0], func(s stop) bool {
			add(s, 0)
			return true
		})
	}
	return out
}

func lowestOn(n net, ring geom.Ring) Lowest {
	low := Lowest{Z: math.Inf(1), OK: len(ring) > 0, Missing: true}
	for i := range ring {
		a, b := ring.Side(i)
		trace(n, a, b, func(s stop) bool {
			if !s.known || s.open {
				low.OK = false
			}
			if s.known {
				low.Missing = false
				if s.z < low.Z {
					low.Z, low.At = s.z, s.at
				}
			}
			return true
		})
	}
	if low.Missing {
		low.Z, low.OK = math.NaN(), false
	}
	return low
}
