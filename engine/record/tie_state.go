package record

import "spadework/engine/phrase"

// judgeTies says of every tie whether its depth still means something: the
// machine stands as it stood, with the bucket it had, and the tag lives.
func (r *replay) judgeTies() {
	for _, i := range r.ties {
		p := r.payload(i).(*Tie)
		out := TieState{Tie: r.id(i), Machine: p.Machine, Setup: p.Setup, Live: true}
		out.Why = r.tieVoid(i, p)
		if at, ok := r.s.index[p.Setup]; ok && out.Why.IsZero() {
			if t := r.tagOf[at]; t == nil || t.State != TagLive {
				out.Why = phrase.New("record.void_tie_tag", phrase.With("machine", p.Machine), phrase.With("tag", r.tagName(at)))
			}
		}
		out.Live = out.Why.IsZero()
		r.st.Ties = append(r.st.Ties, out)
	}
}

func (r *replay) tagName(at int) string {
	if t := r.tagOf[at]; t != nil {
		return t.Tag.Tag
	}
	return ""
}

// tieVoid tells what voids a tie from now on: a correction, or anything that
// happened to its machine and is not known to have come before it.
func (r *replay) tieVoid(i int, p *Tie) phrase.Message {
	if r.corrected(i) {
		return phrase.New("record.void_tie_corrected", phrase.With("machine", p.Machine))
	}
	for _, lane := range r.machine(p.Machine).lanes {
		if last := lane.at[len(lane.at)-1]; !r.s.before(last, i) {
			return r.machineReason(last)
		}
	}
	return phrase.Message{}
}

// tieRiskAt tells what may have voided a tie before a shot was taken from it.
func (r *replay) tieRiskAt(tie, shot int) phrase.Message {
	p, ok := r.payload(tie).(*Tie)
	if !ok {
		return phrase.New("record.risk_no_tie")
	}
	if r.corrected(tie) {
		return phrase.New("record.void_tie_corrected", phrase.With("machine", p.Machine))
	}
	var why phrase.Message
	r.machine(p.Machine).lastNotAfter(shot, func(m int) bool {
		if r.s.before(m, tie) {
			return false
		}
		why = r.machineReason(m)
		return true
	})
	return why
}

func (r *replay) machineReason(i int) phrase.Message {
	p := r.payload(i).(*MachineEvent)
	return phrase.New(phrase.Key("record.void_"+string(p.What)), phrase.With("machine", p.Machine), phrase.With("person", r.s.nodes[i].Person))
}
