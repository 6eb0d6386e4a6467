package cli

import (
	"fmt"
	"strings"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// planCommand prints the plan of a job.
type planCommand struct {
	jobArgument
	JSON  bool   `name:"json" help:"${help_json}" xor:"form"`
	Trace string `help:"${help_trace}" placeholder:"ID" xor:"form"`
}

// Run plans the job and prints it.
func (c *planCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	switch {
	case c.JSON:
		out := append(p.AppendJSON(nil), '\n')
		_, err := a.Out.Write(out)
		return err
	case c.Trace != "":
		return a.printTrace(p, v, c.Trace)
	}
	a.printPlan(p, v)
	return nil
}

// printPlan prints what stops work, the set-ups, the numbers and the cautions.
func (a *app) printPlan(p *plan.Plan, v view) {
	a.printHead(p, v)
	a.printFindings(p, v, "cli.stops", func(f phrase.Finding) bool { return f.Severity == phrase.Stop })
	a.printSetups(p, v)
	a.printNumbers(p, v)
	a.printFindings(p, v, "cli.cautions", func(f phrase.Finding) bool { return f.Severity != phrase.Stop })
}

func (a *app) printHead(p *plan.Plan, v view) {
	j := p.Job
	fmt.Fprintln(a.Out, v.text("cli.head", phrase.With("name", j.Name), phrase.With("drawing", orDash(j.Drawing)), phrase.With("revision", orDash(j.Revision))))
	fmt.Fprintln(a.Out, v.text(phrase.Key("cli.curvature_"+j.Curvature.String())))
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// section prints the head of a part of the output.
func (a *app) section(v view, key phrase.Key) {
	fmt.Fprintf(a.Out, "\n%s\n", v.text(key))
}

// printSetups prints each set-up with its height, dial and what proves it.
func (a *app) printSetups(p *plan.Plan, v view) {
	if len(p.Setups) == 0 {
		return
	}
	a.section(v, "cli.setups")
	t := &table{columns: []column{
		{head: v.text("cli.col_tag")}, {head: v.text("cli.col_state")},
		{head: v.text("cli.col_hi"), right: true}, {head: v.text("cli.col_rests"), flex: true},
	}}
	for _, s := range p.Setups {
		f := v.face(s.Rod)
		t.add(s.ID, v.text(phrase.Key("cli.state_"+s.State.String())), hiText(f, s), restsOn(p, f, s))
	}
	t.print(a.Out, a.width)
	for _, s := range p.Setups {
		a.printDial(v.face(s.Rod), s)
	}
}

// hiText is the height of the beam; a planned one is left open, with the window
// it may lie in told beside it.
func hiText(v view, s plan.Setup) string {
	if s.State == beam.Live {
		return v.style.Elevation(s.Plane.HI)
	}
	return "____"
}

// restsOn says what the height of a set-up comes from.
func restsOn(p *plan.Plan, v view, s plan.Setup) string {
	if s.State == beam.Planned {
		if s.Window == nil {
			return v.text("cli.rests_nothing")
		}
		var rods []phrase.Message
		for _, e := range p.Expected(s) {
			rods = append(rods, phrase.New("cli.rests_expect", phrase.With("benchmark", e.Benchmark), phrase.With("rod", e.Rod)))
		}
		return v.text("cli.rests_planned", phrase.With("low", s.Window.Low), phrase.With("high", s.Window.High), phrase.With("rods", rods))
	}
	var sights []phrase.Message
	for _, b := range s.Sights() {
		sights = append(sights, phrase.New("cli.rests_sight", phrase.With("benchmark", b.Benchmark), phrase.With("rod", b.Rod)))
	}
	if len(sights) == 0 {
		return v.text("cli.rests_given")
	}
	return v.text("cli.rests_read", phrase.With("sights", sights))
}

// printDial prints how a sloped set-up is dialled and proven.
func (a *app) printDial(v view, s plan.Setup) {
	if s.Plan == nil {
		return
	}
	a.println("")
	a.paragraph(2, s.ID+": "+v.say(s.Plan.Text)+".")
	if s.Proof != nil {
		a.paragraph(4, v.say(s.Proof.Text)+".")
	}
	for i, e := range s.Plan.Rounding {
		a.paragraph(4, v.text("cli.rounding", phrase.With("run", e.Run),
			phrase.With("start", drift(v, e.Start)), phrase.With("end", drift(v, e.End))))
		if i < len(s.Plan.OneDegree) {
			d := s.Plan.OneDegree[i]
			a.paragraph(4, v.text("cli.one_degree", phrase.With("run", d.Run),
				phrase.With("start", drift(v, d.Start)), phrase.With("end", drift(v, d.End))))
		}
	}
}

// drift says how far the beam lies over or under, small as it may be.
func drift(v view, d unit.Length) phrase.Message {
	size := fine(v, max(d, -d))
	switch {
	case size == fine(v, 0):
		return phrase.New("cli.drift_none")
	case d > 0:
		return phrase.New("cli.drift_high", phrase.With("size", size))
	}
	return phrase.New("cli.drift_low", phrase.With("size", size))
}

// fine is a length too small for the crew's fraction, in thousandths of a foot
// or tenths of a millimetre.
func fine(v view, d unit.Length) string {
	if v.style.System == unit.Imperial {
		return v.style.Fixed(float64(d/unit.Foot), 3) + " ft"
	}
	return v.style.Fixed(float64(d/unit.Millimetre), 1) + " mm"
}

// printNumbers prints the number at every point of every dig.
func (a *app) printNumbers(p *plan.Plan, v view) {
	if len(p.Numbers) == 0 {
		return
	}
	a.section(v, "cli.numbers")
	t := &table{columns: []column{
		{head: v.text("cli.col_dig")}, {head: v.text("cli.col_point")}, {head: v.text("cli.col_from")},
		{head: v.text("cli.col_bottom"), right: true}, {head: v.text("cli.col_number"), right: true},
		{head: v.text("cli.col_cut"), right: true}, {head: v.text("cli.col_tolerance")},
	}}
	last := ""
	for _, g := range numberGroups(p, v) {
		name := g.first.Excavation
		if name == last {
			name = ""
		}
		last = g.first.Excavation
		t.add(g.cells(p, v, name)...)
	}
	t.print(a.Out, a.width)
	a.printLegend(p, v)
}

// printLegend says what a number is for every guidance in the table.
func (a *app) printLegend(p *plan.Plan, v view) {
	told := map[beam.Guidance]bool{}
	fmt.Fprintln(a.Out)
	for _, n := range p.Numbers {
		if !told[n.Guidance] {
			told[n.Guidance] = true
			fmt.Fprintf(a.Out, "  %s\n", v.text("cli.legend", phrase.With("text", n.Guidance.Number())))
		}
	}
	if p.Planned() {
		fmt.Fprintf(a.Out, "  %s\n", v.text("cli.planned_legend"))
	}
}

func fromText(n plan.Number) string {
	if n.From == plan.FromBeam {
		return n.Setup
	}
	return n.Reference
}

// numberText is the rod in the face of the set-up's rod; of a planned set-up
// the sum that today's height goes into.
func numberText(p *plan.Plan, v view, n plan.Number) string {
	if n.From != plan.FromBeam {
		return v.style.Length(unit.Length(n.Rod))
	}
	s, _ := p.Setup(n.Setup)
	if n.State == beam.Planned {
		return v.text("cli.planned_rod", phrase.With("less", v.style.ElevationFigure(n.Less())))
	}
	return v.face(s.Rod).style.Reading(n.Rod)
}

// cutText is how much is to dig or to fill at a point.
func cutText(v view, n plan.Number) string { return sizedCut(v, n.Cut) }

// sizedCut is a cut with its sign as a word, a dash where it is not known.
func sizedCut(v view, cut *unit.Length) string {
	switch {
	case cut == nil:
		return "–"
	case *cut < 0:
		return v.text("cli.fill", phrase.With("size", -*cut))
	}
	return v.style.Length(*cut)
}

func toleranceText(v view, d plan.Dig) string {
	t := d.Excavation.Tolerance
	if t == nil {
		return v.text("cli.no_tolerance")
	}
	return v.text("cli.tolerance", phrase.With("above", t.Above), phrase.With("below", t.Below))
}

// printFindings prints the findings that pick takes.
func (a *app) printFindings(p *plan.Plan, v view, head phrase.Key, pick func(phrase.Finding) bool) {
	first := true
	for _, f := range p.Findings {
		if !pick(f) {
			continue
		}
		if first {
			a.section(v, head)
			first = false
		}
		a.printFinding(v, f)
	}
}

// printFinding prints one finding: what is so, by which clause, what to do and
// who decides.
func (a *app) printFinding(v view, f phrase.Finding) {
	text := v.say(f.What)
	if f.Clause != "" {
		text += " (" + f.Clause + ")"
	}
	text = v.text(phrase.Key("cli.severity_"+string(f.Severity))) + " " + text + "."
	if r := v.say(f.Remedy); r != "" {
		text += " " + v.text("cli.remedy", phrase.With("remedy", r), phrase.With("decides", f.Decides))
	}
	a.paragraph(2, text)
}

// paragraph prints words broken to the width, hung under their first line.
func (a *app) paragraph(indent int, text string) {
	for i, line := range wrap(text, a.width-indent-2) {
		in := indent
		if i > 0 {
			in += 2
		}
		fmt.Fprintln(a.Out, strings.Repeat(" ", in)+line)
	}
}
