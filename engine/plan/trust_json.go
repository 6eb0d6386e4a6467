package plan

// trust writes how far a number can be trusted; null what is not known or not
// told.
func (w *planWriter) trust(n Number) {
	t := n.Trust
	if !t.Known {
		w.null("sigma", "sigma_beam", "p_within", "p_over", "aim", "aim_rod")
		w.judgement(t)
		return
	}
	w.number("sigma", float64(t.Final))
	w.number("sigma_beam", float64(t.Beam))
	if !t.Rated {
		w.null("p_within", "p_over", "aim", "aim_rod", "judgement")
		return
	}
	w.number("p_within", float64(t.Within))
	w.number("p_over", float64(t.Over))
	if rod, ok := n.AimRod(); ok {
		w.number("aim", float64(t.Aim))
		w.number("aim_rod", float64(rod))
	} else {
		w.null("aim", "aim_rod")
	}
	w.judgement(t)
}

func (w *planWriter) judgement(t Trust) { w.textOrNull("judgement", string(t.Judgement)) }

func (w *planWriter) condition(c Condition) {
	w.text("excavation", c.Excavation)
	w.textOrNull("part", c.Part)
	w.text("setup", c.Setup)
	w.text("kind", string(c.Kind))
	w.place("from", c.From)
	w.place("to", c.To)
	w.number("limit", float64(c.Limit))
	w.number("sigma", float64(c.Outlook.Final))
	w.number("p_within", float64(c.Chance))
}

// turnsOf are the turning points that a set-up found.
func (p *Plan) turnsOf(setup string) []Turn {
	var out []Turn
	for _, t := range p.Turns {
		if t.Setup == setup {
			out = append(out, t)
		}
	}
	return out
}

func (w *planWriter) turn(t Turn) {
	d := w.p.TurnError(t)
	w.text("point", t.ID)
	w.place("at", t.At)
	w.number("rod", float64(t.Rod))
	w.number("elevation", float64(t.Elevation))
	if d.Known {
		w.number("sigma", float64(d.Sigma))
	} else {
		w.null("sigma")
	}
}
