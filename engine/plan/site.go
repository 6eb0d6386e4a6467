package plan

import (
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/job"
)

// survey lets the dig room ask a survey surface.
type survey struct{ ground.Surface }

// LowestOn is the lowest ground on a ring; ok is false if any of the ring lies
// outside the survey.
func (s survey) LowestOn(r geom.Ring) (z float64, at geom.Point, ok bool) {
	low := s.Surface.LowestOn(r)
	return low.Z, low.At, low.OK
}

// siteOf is the ground of a job as the dig room takes it.
func siteOf(j *job.Job) dig.Site {
	var out dig.Site
	if j.Existing != nil {
		out.Existing = survey{j.Existing.Surface}
	}
	if j.Finished != nil {
		out.Finished = survey{j.Finished.Surface}
	}
	return out
}
