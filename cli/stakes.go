package cli

import (
	"spadework/engine/phrase"
)

// stakesCommand prints what is written on the stakes.
type stakesCommand struct {
	jobArgument
}

// Run prints the writing of every hub and the board over it.
func (c *stakesCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	if len(p.Stakes) == 0 {
		a.println(v.text("cli.no_stakes"))
		return nil
	}
	t := &table{columns: []column{
		{head: v.text("cli.col_hub")}, {head: v.text("cli.col_dig")}, {head: v.text("cli.col_station"), right: true},
		{head: v.text("cli.col_writing")}, {head: v.text("cli.col_board"), right: true},
	}}
	for _, s := range p.Stakes {
		station, board := "–", "–"
		if s.HasStation {
			station = v.style.Station(s.Station)
		}
		if s.Board != nil {
			board = v.text("cli.board", phrase.With("size", *s.Board), phrase.With("string", s.String))
		}
		t.add(s.Hub, s.Excavation, station, v.say(s.Text), board)
	}
	t.print(a.Out, a.width)
	return nil
}
