package cli

import (
	"cmp"
	"crypto/sha256"
	"os"
	"path/filepath"
	"slices"

	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/exchange"
	"spadework/sheet"
)

// proofCommand writes what an inspector reads.
type proofCommand struct {
	jobArgument
	Out     string   `short:"o" required:"" help:"${help_out}" placeholder:"FILE.pdf"`
	Paper   string   `help:"${help_paper}" default:"letter" enum:"letter,a4" placeholder:"letter|a4"`
	Foreman []string `help:"${help_foreman}"`
}

// Run plans the job, replays its log and writes the PDF whole.
func (c *proofCommand) Run(a *app) error {
	p, v, files, err := a.loadSources(c.jobArgument)
	if err != nil {
		return err
	}
	log, err := readLog(logPath(c.path()))
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.tellTorn(v, log)
	paper, _ := sheet.PaperNamed(c.Paper)
	d := sheet.Proof(p, v, sheet.ProofInput{Records: log.records, Foremen: c.Foreman, Paper: paper, Files: files})
	if err := writeWhole(c.Out, sheet.PDF(d)); err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.println(v.Text("cli.sheets_written", phrase.With("file", c.Out), phrase.With("count", len(d.Pages))))
	return nil
}

// loadSources plans a job as loadPlan does and digests every file read.
func (a *app) loadSources(arg jobArgument) (*plan.Plan, sheet.View, []sheet.SourceFile, error) {
	j, files, err := readSources(arg.path())
	if err != nil {
		return nil, sheet.View{}, nil, err
	}
	p, v, err := a.planned(j)
	return p, v, files, err
}

// readSources reads a job with the digests of its files, sorted by name; the job
// file goes by its own name, without its folder.
func readSources(path string) (*job.Job, []sheet.SourceFile, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, fileFault(path, err)
	}
	folder := filepath.Dir(path)
	files := []sheet.SourceFile{{Name: filepath.Base(path), SHA256: sha256.Sum256(data)}}
	j, voice, err := exchange.ReadJob(path, data, func(name string) ([]byte, error) {
		if !filepath.IsLocal(name) {
			return nil, errOutside
		}
		data, err := os.ReadFile(filepath.Join(folder, name))
		if err == nil {
			files = append(files, sheet.SourceFile{Name: name, SHA256: record.Hash(sha256.Sum256(data))})
		}
		return data, err
	})
	if err != nil {
		return nil, nil, styled{err, voice.Language, voice.Style}
	}
	slices.SortFunc(files, func(a, b sheet.SourceFile) int { return cmp.Compare(a.Name, b.Name) })
	return j, slices.Compact(files), nil
}
