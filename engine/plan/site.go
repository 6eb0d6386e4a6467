package plan

import (
	"spadework/engine/dig"
	"spadework/engine/job"
)

// siteOf is the ground of a job as the dig room takes it.
func siteOf(j *job.Job) dig.Site {
	var out dig.Site
	if j.Existing != nil {
		out.Existing = j.Existing.Surface
	}
	if j.Finished != nil {
		out.Finished = j.Finished.Surface
	}
	return out
}
