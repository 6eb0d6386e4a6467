package sheet

import (
	"math"

	"spadework/engine/record"
)

// ProofName is the name of the file embedded in a proof, and proofFormat the
// version of its layout.
const (
	ProofName   = "proof.json"
	proofFormat = 1
)

// canonical is what the proof rests on and what it says of every shot, as RFC 8785
// has it: lengths in metres, records as they were written.
func (r *proof) canonical() []byte {
	j := r.plan.Job
	return record.CanonicalJSON(map[string]any{
		"format": proofFormat, "paper": r.Paper.Name, "language": string(r.Language), "today": j.Today,
		"job":     map[string]any{"name": j.Name, "drawing": j.Drawing, "revision": j.Revision, "permit": j.Permit},
		"files":   listOf(r.Files, func(f SourceFile) any { return map[string]any{"name": f.Name, "sha256": f.SHA256.String()} }),
		"foremen": listOf(r.Foremen, func(s string) any { return s }),
		"digest":  record.Digest(r.Records).String(),
		"heads": listOf(r.chains, func(c record.Chain) any {
			return map[string]any{"device": c.Device, "seq": int(c.Head.Seq), "hash": c.Head.Hash.String()}
		}),
		"records": listOf(record.Sorted(r.Records), func(x record.Record) any { return x }),
		"digs":    listOf(r.digs, digJSON),
	})
}

func listOf[T any](list []T, one func(T) any) []any {
	out := make([]any, len(list))
	for i, m := range list {
		out[i] = one(m)
	}
	return out
}

func digJSON(d record.DigProof) any {
	return map[string]any{"excavation": d.Excavation, "verdict": string(d.Verdict), "points": listOf(d.Proofs, pointJSON)}
}

func pointJSON(p record.PointProof) any {
	out := map[string]any{
		"part": p.Part, "point": p.Point, "station": nil, "shot": p.Shot.String(), "tag": p.Tag,
		"wanted": float64(p.Wanted), "height": float64(p.Height), "deviation": float64(p.Deviation), "above": nil, "below": nil,
		"expanded": finiteOrNil(float64(p.Expanded())), "chance": finiteOrNil(float64(p.Chance)), "verdict": string(p.Verdict), "corrected": p.Corrected, "rejudged": p.Rejudged,
	}
	if p.Station != nil {
		out["station"] = float64(*p.Station)
	}
	if p.Known {
		out["above"], out["below"] = float64(p.Band.Above), float64(p.Band.Below)
	}
	return out
}

func finiteOrNil(v float64) any {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return v
}
