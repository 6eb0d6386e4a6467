package cli

import (
	"path/filepath"
	"strings"

	"spadework/engine/phrase"
	"spadework/exchange"
)

// writeCommand writes a job for other programs.
type writeCommand struct {
	jobArgument
	Out     string   `short:"o" required:"" help:"${help_write_out}" placeholder:"FILE"`
	Foreman []string `help:"${help_foreman}"`
}

// Run plans the job, replays its log and writes the kind that the name ends in.
func (c *writeCommand) Run(a *app) error {
	p, v, st, err := a.loadLog(c.jobArgument, c.Foreman)
	if err != nil {
		return err
	}
	s := exchange.SurveyOf(p, st)
	var data []byte
	switch strings.ToLower(filepath.Ext(c.Out)) {
	case ".xml", ".landxml":
		data = exchange.WriteLandXML(p.Job.Name, s)
	case ".json", ".geojson":
		data = exchange.WriteGeoJSON(p.Job.Name, s)
	case ".csv":
		data = exchange.WritePoints(s)
	case ".xlsx":
		data, err = workbook(p, v, st)
	default:
		f := phrase.NewFault(phrase.New("cli.write_kind", phrase.With("file", filepath.Base(c.Out))), phrase.New("cli.write_kind.remedy"))
		return styled{f, v.Language, v.Style}
	}
	if err == nil {
		err = writeWhole(c.Out, data)
	}
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.println(v.Text("cli.write_done", phrase.With("file", c.Out), phrase.With("surfaces", len(s.Surfaces)), phrase.With("lines", len(s.Lines)), phrase.With("points", len(s.Points))))
	return nil
}
