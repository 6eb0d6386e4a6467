package cli

import (
	"os"
	"path/filepath"
	"strings"

	"spadework/engine/phrase"
	"spadework/exchange"
	"spadework/sheet"
)

// importCommand turns a file of another program into tables beside a job.
type importCommand struct {
	jobArgument
	File        string `arg:"" help:"${help_import_file}"`
	Coordinates string `help:"${help_import_coordinates}" placeholder:"m|ft|us_survey_ft"`
}

// Run reads the file, writes its tables beside the job, none over another, and
// prints the lines that name them.
func (c *importCommand) Run(a *app) error {
	j, err := readJob(c.path())
	if err != nil {
		return err
	}
	v := sheet.View{Language: j.Language, Style: j.Style}
	if a.lang != "" {
		v.Language = a.lang
	}
	s, err := c.read()
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	stem := strings.TrimSuffix(filepath.Base(c.File), filepath.Ext(c.File))
	draft := exchange.JobTables(s, stem)
	folder := filepath.Dir(c.path())
	for _, f := range draft.Files {
		if _, err := os.Lstat(filepath.Join(folder, f.Name)); err == nil {
			there := phrase.NewFault(phrase.New("cli.import_there", phrase.With("file", f.Name)), phrase.New("cli.import_there.remedy"))
			there.Code = phrase.Conflict
			return styled{there, v.Language, v.Style}
		}
	}
	for _, f := range draft.Files {
		if err := writeWhole(filepath.Join(folder, f.Name), f.Data); err != nil {
			return styled{err, v.Language, v.Style}
		}
		a.println("# " + v.Text("cli.import_wrote", phrase.With("file", f.Name)))
	}
	a.println("# " + v.Text("cli.import_counts", phrase.With("points", len(s.Points)), phrase.With("lines", len(s.Lines)), phrase.With("surfaces", len(s.Surfaces)),
		phrase.With("pipes", len(s.Pipes))))
	for _, loss := range draft.Losses {
		a.println("# " + v.Text(loss.What, phrase.With("count", loss.Count)))
	}
	a.println("# " + v.Text("cli.import_lines") + "\n")
	a.println(strings.TrimRight(draft.Lines, "\n"))
	return nil
}

// read reads the file by its kind.
func (c *importCommand) read() (exchange.Survey, error) {
	data, err := os.ReadFile(c.File)
	if err != nil {
		return exchange.Survey{}, fileFault(c.File, err)
	}
	unit, known := exchange.SiteUnitNamed(c.Coordinates)
	if c.Coordinates != "" && !known {
		return exchange.Survey{}, phrase.NewFault(phrase.New("exchange.geo_unit", phrase.With("value", c.Coordinates)), phrase.New("exchange.geo_unit.remedy"))
	}
	var s exchange.Survey
	var f *phrase.Fault
	switch strings.ToLower(filepath.Ext(c.File)) {
	case ".xml", ".landxml":
		s, f = exchange.ReadLandXML(data)
	case ".json", ".geojson":
		s, f = exchange.ReadGeoJSON(data, unit)
	default:
		f = phrase.NewFault(phrase.New("exchange.survey_kind", phrase.With("file", filepath.Base(c.File))), phrase.New("exchange.survey_kind.remedy"))
	}
	if f == nil && s.Empty() {
		f = phrase.NewFault(phrase.New("exchange.survey_empty"), phrase.New("exchange.survey_empty.remedy"))
	}
	if f != nil {
		f.Place.File = c.File
		return s, f
	}
	return s, nil
}
