package plan

import (
	"strconv"

	"spadework/engine/beam"
	"spadework/engine/dig"
)

// Point finds a benchmark or control point by its id.
func (p *Plan) Point(id string) (beam.Corner, bool) {
	for _, b := range p.Job.Benchmarks {
		if b.ID == id && b.Placed {
			return beam.Corner{ID: id, At: b.At}, true
		}
	}
	for _, c := range p.Job.Controls {
		if c.ID == id {
			return beam.Corner{ID: id, At: c.At}, true
		}
	}
	return beam.Corner{}, false
}

// PointIDs are the points that Point finds.
func (p *Plan) PointIDs() []string {
	var out []string
	for _, b := range p.Job.Benchmarks {
		if b.Placed {
			out = append(out, b.ID)
		}
	}
	for _, c := range p.Job.Controls {
		out = append(out, c.ID)
	}
	return out
}

// Corners are the corners of a part's dug outline, numbered from 1.
func Corners(part dig.Part) []beam.Corner {
	out := make([]beam.Corner, len(part.Outline))
	for i, at := range part.Outline {
		out[i] = beam.Corner{ID: strconv.Itoa(i + 1), At: at}
	}
	return out
}
