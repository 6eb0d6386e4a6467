package cli

import (
	"fmt"

	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// printTrace prints the arithmetic of one dig: every bottom term by term, then
// the rod from every set-up.
func (a *app) printTrace(p *plan.Plan, v view, id string) error {
	d, ok := p.Dig(id)
	if !ok {
		return unknownID(v, id, digIDs(p))
	}
	for _, part := range d.Parts {
		a.printPartTrace(v, d, part)
	}
	for _, n := range p.Numbers {
		if n.Excavation == id {
			a.printNumberTrace(p, v, n)
		}
	}
	return nil
}

// printPartTrace prints the sum that leads to a part's bottom.
func (a *app) printPartTrace(v view, d plan.Dig, part dig.Part) {
	name := d.Excavation.ID
	if part.ID != "" && len(d.Parts) > 1 {
		name += " " + part.ID
	}
	words := part.Trace.Words
	if words == "" {
		words = v.text("cli.no_words")
	}
	fmt.Fprintf(a.Out, "%s: %s\n", name, words)
	v.style.Places = 3 // so that the sum can be checked by hand
	t := &table{columns: []column{{}, {right: true}, {}}}
	t.rows = append(t.rows, []string{"", v.style.ElevationFigure(part.Trace.Origin.Elevation), v.say(part.Trace.Origin.Label)})
	for _, term := range part.Trace.Terms {
		sign, size := "+", term.Value
		if size < 0 {
			sign, size = "−", -size
		}
		t.add(sign, v.style.ElevationFigure(unit.Elevation(size)), v.say(term.Label)+lengthBeside(v, size))
	}
	t.add("=", v.style.ElevationFigure(part.Trace.Sum), v.text("cli.bottom"))
	t.printRows(a.Out, a.width)
	if part.Run() && part.Grade != 0 {
		fmt.Fprintf(a.Out, "  %s\n", v.text("cli.run_grade", phrase.With("from", part.From), phrase.With("to", part.To), phrase.With("grade", gradeText(part.Grade))))
	}
}

// lengthBeside adds a length as the crew writes it where that differs from the
// decimal figure.
func lengthBeside(v view, l unit.Length) string {
	if v.style.System == unit.Imperial && v.style.Fraction > 0 {
		return " (" + v.style.Length(l) + ")"
	}
	return ""
}

// gradeText says whether a line rises or falls onward.
func gradeText(g unit.Grade) phrase.Message {
	if g < 0 {
		return phrase.New("cli.falls", phrase.With("grade", -g))
	}
	return phrase.New("cli.rises", phrase.With("grade", g))
}

// printNumberTrace prints beam − bottom = rod for one number.
func (a *app) printNumberTrace(p *plan.Plan, v view, n plan.Number) {
	v.style.Places = 3
	if n.From != plan.FromBeam {
		fmt.Fprintf(a.Out, "  %s %s: %s − %s = %s\n", n.Reference, pointText(v, n),
			v.style.ElevationFigure(n.ReferenceElevation), v.style.ElevationFigure(n.Bottom), v.style.Length(unit.Length(n.Rod)))
		return
	}
	fmt.Fprintf(a.Out, "  %s %s: %s\n", n.Setup, pointText(v, n), v.text("cli.number_trace",
		phrase.With("beam", v.style.ElevationFigure(n.Beam)), phrase.With("curvature", fine(v, n.Curvature)),
		phrase.With("bottom", v.style.ElevationFigure(n.Bottom)), phrase.With("rod", numberText(p, v, n))))
}
