package cli

import (
	"os"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/exchange"
)

// checkCommand judges shots against the plan.
type checkCommand struct {
	jobArgument
	Shots string `arg:"" help:"${help_shots}"`
}

// Run prints height, deviation and verdict of every shot. The status is 1 where
// a shot is out, or cannot be judged because its dig has no tolerance.
func (c *checkCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	shots, err := readShots(c.Shots, p.Job.Units)
	if err != nil {
		return styled{err, v.lang, v.style}
	}
	results, fault := record.Judge(p, shots)
	if fault != nil {
		return styled{fault, v.lang, v.style}
	}
	return a.printCheck(p, v, results)
}

func readShots(path string, bare unit.Scale) ([]record.Shot, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fileFault(path, err)
	}
	rows, fault := exchange.ReadTable(path, data)
	if fault != nil {
		return nil, fault
	}
	shots, fault := record.ReadShots(rows, bare)
	if fault != nil {
		return nil, fault
	}
	return shots, nil
}

func (a *app) printCheck(p *plan.Plan, v view, results []record.AsBuilt) error {
	t := &table{columns: []column{
		{head: v.text("cli.col_dig")}, {head: v.text("cli.col_point")}, {head: v.text("cli.col_tag")},
		{head: v.text("cli.col_read"), right: true}, {head: v.text("cli.col_height"), right: true},
		{head: v.text("cli.col_wanted"), right: true}, {head: v.text("cli.col_verdict"), flex: true},
	}}
	out, unknown := 0, 0
	for _, r := range results {
		switch {
		case !r.Known:
			unknown++
		case !r.Within:
			out++
		}
		s, _ := p.Setup(r.Setup)
		t.add(r.Excavation, checkedPoint(v, r), r.Setup, readText(v.face(s.Rod), r), v.style.Elevation(r.Height),
			v.style.Elevation(r.Point.Bottom), verdict(v.face(s.Rod), r))
	}
	t.print(a.Out, a.width)
	a.println("")
	a.println(v.text("cli.check_sum", phrase.With("count", len(results)), phrase.With("out", out), phrase.With("unknown", unknown)))
	if out+unknown > 0 {
		return errOut
	}
	return nil
}

func checkedPoint(v view, r record.AsBuilt) string {
	if r.Station != nil {
		return v.style.Station(*r.Station)
	}
	return kindText(v, r.Point)
}

func readText(v view, r record.AsBuilt) string {
	if r.Reading != nil {
		return v.style.Reading(*r.Reading)
	}
	return v.text(phrase.Key("cli.call_"+string(r.Call)), phrase.With("amount", r.Amount))
}

// verdict says in words whether the bottom is in and what is left to do.
func verdict(v view, r record.AsBuilt) string {
	off := v.say(offText(v, r.Deviation))
	switch {
	case !r.Known:
		return v.text("cli.verdict_unknown", phrase.With("off", off))
	case r.Within:
		return v.text("cli.verdict_in", phrase.With("off", off))
	}
	return v.text("cli.verdict_out", phrase.With("off", off))
}

// offText is a deviation with its sign as a word, in the rod's divisions.
func offText(v view, d unit.Length) phrase.Message {
	size := unit.Reading(d)
	if d < 0 {
		size = -size
	}
	text := v.style.Reading(size)
	switch {
	case text == v.style.Reading(0):
		return phrase.New("cli.on_grade")
	case d > 0:
		return phrase.New("cli.to_dig", phrase.With("size", text))
	}
	return phrase.New("cli.over_dug", phrase.With("size", text))
}
