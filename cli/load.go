package cli

import (
	"errors"
	"os"
	"path/filepath"

	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/safety"
	"spadework/sheet"
)

// jobArgument is the job file or its folder.
type jobArgument struct {
	Job string `arg:"" help:"${help_job}"`
}

// jobName is the name of the job file in a folder.
const jobName = "job.toml"

// path is the job file itself.
func (j jobArgument) path() string {
	if info, err := os.Stat(j.Job); err == nil && info.IsDir() {
		return filepath.Join(j.Job, jobName)
	}
	return j.Job
}

// readJob reads a job file and the tables beside it.
func readJob(path string) (*job.Job, error) {
	j, _, err := readSources(path)
	return j, err
}

// errOutside refuses a table that a job names outside its own folder.
var errOutside = errors.New("outside the folder of the job")

// loadPlan reads and plans a job; the view speaks the job's language and units.
func (a *app) loadPlan(j jobArgument) (*plan.Plan, sheet.View, error) {
	read, err := readJob(j.path())
	if err != nil {
		return nil, sheet.View{}, err
	}
	p, v, err := a.planned(read)
	if err != nil {
		return p, v, err
	}
	return p.WithEntries(loggedEntries(logPath(j.path()))), v, nil
}

// loggedEntries are the competent person's entries that the log beside a job leaves
// standing. Of a log that is not there or cannot be read none: then nothing is
// released, and the commands that need it tell why.
func loggedEntries(path string) []safety.Entry {
	if _, err := os.Stat(path); err != nil {
		return nil
	}
	log, err := readLog(path)
	if err != nil {
		return nil
	}
	return record.Replay(record.Input{Records: log.records}).StandingEntries()
}

// planned plans a job that was read.
func (a *app) planned(read *job.Job) (*plan.Plan, sheet.View, error) {
	v := sheet.View{Language: read.Language, Style: read.Style}
	if a.lang != "" {
		v.Language = a.lang
	}
	read.Today = a.today
	p, fault := a.make(read, v)
	if fault != nil {
		return nil, v, styled{fault, v.Language, v.Style}
	}
	return p, v, nil
}

// fileFault is a file that cannot be read or written.
func fileFault(path string, err error) error {
	key := phrase.Key("cli.file")
	if os.IsNotExist(err) {
		key = "cli.no_file"
	}
	f := phrase.NewFault(phrase.New(key, phrase.With("file", path), phrase.With("detail", err.Error())), phrase.New(key+".remedy"))
	f.Code = phrase.NotFound
	return f
}

// unknownID is an id that the job does not have.
func unknownID(v sheet.View, id string, known []string) error {
	f := phrase.NewFault(
		phrase.New("cli.unknown_id", phrase.With("id", id)),
		phrase.New("cli.unknown_id.remedy", phrase.With("known", known)))
	f.Code = phrase.NotFound
	return styled{f, v.Language, v.Style}
}

func digIDs(p *plan.Plan) []string {
	out := make([]string, len(p.Digs))
	for i, d := range p.Digs {
		out[i] = d.Excavation.ID
	}
	return out
}

func setupIDs(p *plan.Plan) []string {
	out := make([]string, len(p.Setups))
	for i, s := range p.Setups {
		out[i] = s.ID
	}
	return out
}
