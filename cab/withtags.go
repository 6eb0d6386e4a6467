package cab

import (
	"slices"

	"spadework/engine/beam"
	"spadework/engine/job"
	"spadework/engine/record"
	"spadework/engine/unit"
)

// withTags is a job with the set-ups that its log made: they stand in the place
// of planned ones of the same tag, so that numbers rest on the beam that is there.
// A set-up that the job itself tells as live stays as the job tells it.
func withTags(j *job.Job, st *record.State) *job.Job {
	out := *j
	out.Setups = slices.Clone(j.Setups)
	for _, l := range st.Log {
		made, ok := l.Payload.(*record.SetupMade)
		if !ok || l.Corrected {
			continue
		}
		i := slices.IndexFunc(out.Setups, func(s job.Setup) bool { return s.ID == made.Tag })
		switch {
		case i < 0:
			out.Setups = append(out.Setups, withMade(j, job.Setup{ID: made.Tag}, made))
		case i < len(j.Setups) && j.Setups[i].Live():
		default:
			out.Setups[i] = withMade(j, out.Setups[i], made)
		}
	}
	return &out
}

// withMade is a set-up as it was made.
func withMade(j *job.Job, s job.Setup, made *record.SetupMade) job.Setup {
	s.Laser, s.Rod, s.Receiver, s.Machine = made.Laser, made.Rod, made.Receiver, made.Machine
	if made.At != nil {
		s.At, s.Placed = j.Origin.Local(*made.At), true
	}
	s.Sights, s.HI = nil, nil
	for _, r := range made.Sights {
		s.Sights = append(s.Sights, sightOn(j, r.Benchmark, r.Elevation, r.Rod))
	}
	if len(s.Sights) == 0 {
		s.HI = made.HI
	}
	return s
}

// sightOn is a rod read on a benchmark, at the place and with the doubt that the
// job gives it.
func sightOn(j *job.Job, id string, elevation unit.Elevation, rod unit.Reading) beam.Backsight {
	b := beam.Backsight{Benchmark: id, Elevation: elevation, Rod: rod}
	for _, known := range j.Benchmarks {
		if known.ID == id {
			b.At, b.Sigma = known.At, known.Sigma
		}
	}
	return b
}
