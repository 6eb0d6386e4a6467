package sheet

import (
	"slices"

	"spadework/engine/draw"
	"spadework/engine/guard"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
)

// SourceFile is a file that a proof rests on: the job or a table beside it.
type SourceFile struct {
	Name   string
	SHA256 record.Hash
}

// ProofInput is what a proof is made of. The same input gives the same document.
type ProofInput struct {
	Records []record.Record
	Foremen []string     // who may accept records that were held
	Paper   Paper        // the zero Paper is Letter
	Files   []SourceFile // sorted by name
}

// proof lays out the pages of one proof.
type proof struct {
	*press
	ProofInput
	state *record.State
	digs  []record.DigProof

	unwatched *phrase.Fault // why nothing is judged again for beams that moved, nil it is
	chains    []record.Chain
}

// Proof is the pages an inspector reads, made from a plan and the records of its
// job, with what they rest on embedded as canonical JSON. It speaks of heights
// only and says so.
func Proof(p *plan.Plan, v View, in ProofInput) Document {
	if in.Paper == (Paper{}) {
		in.Paper = Letter
	}
	st := record.Replay(record.Input{Records: in.Records, Foremen: in.Foremen})
	digs, unwatched := guard.Prove(p, st)
	r := &proof{press: newPress(p, v, in.Paper), ProofInput: in, state: st, digs: digs, unwatched: unwatched, chains: record.Verify(in.Records)}
	r.first()
	r.begin(v.Text("proven.how"), "")
	r.control()
	r.setups()
	r.site()
	r.appendix()
	r.tickets()
	d := r.document(v.Text("proven.document", phrase.With("name", p.Job.Name)))
	d.Attachments = []Attachment{{Name: ProofName, Media: "application/json", Words: v.Text("proven.attachment"), Data: r.canonical()}}
	return d
}

// first is the page an inspector reads first.
func (r *proof) first() {
	r.begin(r.Text("proven.title"), "")
	j := r.plan.Job
	r.words(draw.Strong, sizeHead, 0, r.Text("proven.permit", phrase.With("permit", orDash(j.Permit)),
		phrase.With("drawing", orDash(j.Drawing)), phrase.With("revision", orDash(j.Revision))))
	r.words(draw.Body, sizeBody, 0, r.through())
	r.col.gap(1)
	r.words(draw.Strong, sizeHead, 0, r.Text("proven.heights_only"))
	r.col.gap(1)
	r.words(draw.Body, sizeBody, 0, r.tally())
	r.col.gap(1.5)
	if t := r.digTable(); len(t.Rows) > 0 {
		r.table(t, 0)
	}
	if t := r.notShot(); len(t.Rows) > 0 {
		r.listed("proven.not_shot", t, "")
	}
	r.holds()
	r.corrections()
	r.signatures()
}

// through says how much of the record the proof has seen.
func (r *proof) through() string {
	if len(r.state.Log) == 0 {
		return r.Text("sheet.log_empty")
	}
	last := r.state.Log[0].Time
	for _, l := range r.state.Log {
		if l.Time.Millis > last.Millis {
			last = l.Time
		}
	}
	return r.Text("proven.through", phrase.With("count", r.state.Count), phrase.With("day", last.Date()), phrase.With("time", last.Minute()),
		phrase.With("digest", shortHash(record.Digest(r.Records))))
}

// tally counts the digs of the job by what the record proves of them.
func (r *proof) tally() string {
	in, out, open := 0, 0, 0
	for _, d := range r.plan.Digs {
		switch one, ok := r.dig(d.Excavation.ID); {
		case ok && one.Verdict == record.Good:
			in++
		case ok && outOfTolerance(one.Verdict):
			out++
		default:
			open++
		}
	}
	return r.Text("proven.tally", phrase.With("count", len(r.plan.Digs)), phrase.With("in", in), phrase.With("out", out), phrase.With("open", open))
}

func outOfTolerance(v record.Verdict) bool { return v == record.ToDig || v == record.OverDug }

// dig is what the log proves of a dig, if it has a shot there.
func (r *proof) dig(id string) (record.DigProof, bool) {
	i := slices.IndexFunc(r.digs, func(d record.DigProof) bool { return d.Excavation == id && len(d.Points) > 0 })
	if i < 0 {
		return record.DigProof{}, false
	}
	return r.digs[i], true
}

// inOrder is the digs of the log with shots as the plan lists them, then those
// that the job does not have.
func (r *proof) inOrder() []record.DigProof {
	var out []record.DigProof
	for _, d := range r.plan.Digs {
		if one, ok := r.dig(d.Excavation.ID); ok {
			out = append(out, one)
		}
	}
	for _, one := range r.digs {
		if _, ok := r.plan.Dig(one.Excavation); !ok && len(one.Points) > 0 {
			out = append(out, one)
		}
	}
	return out
}

// digTable is a row for every dig that was shot: wanted, shot, in or out.
func (r *proof) digTable() *Table {
	t := &Table{Columns: []Column{r.column("dig"), r.View.words("drawn"), r.spans("wanted"), r.figures("tolerance"), r.figures("shots"),
		r.spans("height"), r.column("deviation"), r.View.words("verdict")}}
	for _, one := range r.inOrder() {
		words := r.Text("sheet.not_in_job")
		if d, ok := r.plan.Dig(one.Excavation); ok {
			words = orDash(d.Excavation.Words)
		}
		t.Rows = append(t.Rows, r.shotRow(one, words))
	}
	return t
}

// notShot is a row for every dig of the job without a shot.
func (r *proof) notShot() *Table {
	t := &Table{Columns: []Column{r.column("dig"), r.View.words("drawn"), r.spans("wanted"), r.figures("tolerance")}}
	for _, d := range r.plan.Digs {
		id := d.Excavation.ID
		if _, ok := r.dig(id); ok {
			continue
		}
		words, wanted := orDash(d.Excavation.Words), r.wantedBy(d)
		if st, ok := r.state.Dig(id); ok && st.Bottom != nil {
			words, wanted = words+". "+r.Text("proven.directed"), r.Style.ElevationFigure(*st.Bottom)
		}
		t.Add(id, words, wanted, r.bandOf(d))
	}
	return t
}

// shotRow is the row of a dig with shots; its worst point speaks for it.
func (r *proof) shotRow(d record.DigProof, words string) []string {
	worst, low, high := d.Proofs[0], d.Proofs[0], d.Proofs[0]
	for _, pt := range d.Proofs {
		if pt.Verdict == d.Verdict && (worst.Verdict != d.Verdict || abs(pt.Deviation) > abs(worst.Deviation)) {
			worst = pt
		}
		if pt.Height < low.Height {
			low = pt
		}
		if pt.Height > high.Height {
			high = pt
		}
	}
	verdict := r.Text(phrase.Key("sheet.log_" + string(d.Verdict)))
	if !worst.Why.IsZero() {
		verdict += ": " + r.Say(worst.Why)
	}
	if d.Bottom != nil {
		verdict += ". " + r.Text("proven.directed")
	}
	return []string{d.Excavation, words, r.span(low.Wanted, high.Wanted), r.band(worst), r.Style.Number(float64(len(d.Proofs))),
		r.span(low.Height, high.Height), r.Say(tell.OffText(tell.LogFace(r.plan, tell.View(r.View)), worst.Deviation)), verdict}
}
