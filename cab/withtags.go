package cab

import (
	"slices"

	"spadework/engine/beam"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
)

// setupsIn are the set-ups of a log that stand.
func setupsIn(st *record.State) []record.Line {
	var out []record.Line
	for _, l := range st.Log {
		if l.Kind() == record.KindSetup && !l.Corrected {
			out = append(out, l)
		}
	}
	return out
}

// lostSetup is a set-up of the log that this revision of the job cannot work out,
// as one that was read on a benchmark the job no longer has.
type lostSetup struct {
	tag string
	why phrase.Message
}

// planning is a plan with the set-ups of the log that it has and those it lost.
type planning struct {
	plan *plan.Plan
	has  []record.Line
	lost []lostSetup
}

// planned is the plan with the set-ups of the log. Where one of them cannot be
// worked out the others still are: it has no numbers, and is told.
func planned(j *job.Job, st *record.State, progress func(Progress)) (planning, *phrase.Fault) {
	all := setupsIn(st)
	p, f := made(withTags(j, all), progress)
	if f == nil || len(all) == 0 {
		return planning{plan: p, has: all}, f
	}
	if p, f = made(withTags(j, nil), progress); f != nil {
		return planning{}, f
	}
	out := planning{plan: p}
	for _, l := range all {
		with, f := made(withTags(j, append(slices.Clip(out.has), l)), progress)
		if f != nil {
			out.lost = append(out.lost, lostSetup{l.Payload.(*record.SetupMade).Tag, f.What})
			continue
		}
		out.plan, out.has = with, append(out.has, l)
	}
	return out, nil
}

// withTags is a job with the set-ups that its log made: they stand in the place
// of planned ones of the same tag, so that numbers rest on the beam that is there.
// A set-up that the job itself tells as live stays as the job tells it.
func withTags(j *job.Job, log []record.Line) *job.Job {
	out := *j
	out.Setups = slices.Clone(j.Setups)
	for _, l := range log {
		made := l.Payload.(*record.SetupMade)
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
