package cli

import (
	"bytes"
	"context"
	"crypto/sha256"
	"os"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/exchange"
	"spadework/sheet"
	"spadework/store"
)

// proof checks a proof against a job and its log, or against the store.
func (c *verifyCommand) proof(a *app) error {
	pdf, err := os.ReadFile(c.Proof)
	if err != nil {
		return fileFault(c.Proof, err)
	}
	said, f := sheet.ReadStatement(pdf)
	if f != nil {
		f.Place.File = c.Proof
		return f
	}
	if c.Job == "" {
		return c.proofInStore(a, said, pdf)
	}
	j, files, err := readSources(jobArgument{c.Job}.path())
	if err != nil {
		return err
	}
	a.today = said.Today
	p, v, err := a.planned(j)
	if err != nil {
		return err
	}
	log, err := readLog(logPath(jobArgument{c.Job}.path()))
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.tellTorn(v, log)
	differs, later := holdProof(said, pdf, drawn{p, v, files, log.records})
	return a.tellProof(v, differs, v.Text("cli.proof_holds", phrase.With("count", len(said.Records))), later)
}

// drawn is what a proof is held against: a plan with the digests of its files, and
// a log.
type drawn struct {
	plan    *plan.Plan
	view    sheet.View
	files   []sheet.SourceFile
	records []record.Record
}

// holdProof compares a proof with a job and its log, and draws its pages anew. What
// came later in the log is counted.
func holdProof(said sheet.Statement, pdf []byte, now drawn) (differs []phrase.Message, later int) {
	differs, later = said.CompareRecords(now.records)
	differs = append(said.CompareFiles(now.files), differs...)
	if len(differs) > 0 {
		return differs, later
	}
	page := sheet.View{Language: said.Language, Style: now.view.Style}
	seen, _ := record.Until(now.records, record.Verify(said.Records))
	d := sheet.Proof(now.plan, page, sheet.ProofInput{Records: seen, Foremen: said.Foremen, Paper: said.Paper, Files: now.files})
	switch {
	case !bytes.Equal(d.Attachments[0].Data, said.Canon):
		differs = append(differs, phrase.New("proven.record_differs"))
	case !bytes.Equal(sheet.PDF(d), pdf):
		differs = append(differs, phrase.New("proven.pages_differ"))
	}
	return differs, later
}

// tellProof prints what differs, or that nothing does; the status is 1 where
// something does.
func (a *app) tellProof(v sheet.View, differs []phrase.Message, holds string, later int) error {
	for _, d := range differs {
		a.println(v.Text("cli.proof_differs", phrase.With("what", d)))
	}
	if len(differs) > 0 {
		return errOut
	}
	a.println(holds)
	if later > 0 {
		a.println(v.Text("cli.proof_later", phrase.With("count", later)))
	}
	return nil
}

// proofInStore checks a proof against the job and the records of the store.
func (c *verifyCommand) proofInStore(a *app, said sheet.Statement, pdf []byte) error {
	if len(said.Records) == 0 {
		return phrase.NewFault(phrase.New("cli.proof_empty"), phrase.New("cli.proof_empty.remedy"))
	}
	return c.withStore(a, true, func(ctx context.Context, s *store.Store, v sheet.View) error {
		id := said.Records[0].Job
		log, err := storedLog(ctx, s, id)
		if err != nil {
			return err
		}
		r, err := s.Revision(ctx, id, 0)
		if err != nil {
			return err
		}
		b, f := exchange.DecodeBundle([]byte(r.Document))
		if f != nil {
			return f
		}
		a.today = said.Today
		p, v, err := a.planBundle(b)
		if err != nil {
			return err
		}
		var files []sheet.SourceFile
		for _, name := range b.Names() {
			files = append(files, sheet.SourceFile{Name: name, SHA256: sha256.Sum256([]byte(b.Files[name]))})
		}
		differs, later := holdProof(said, pdf, drawn{p, v, files, log})
		return a.tellProof(v, differs, v.Text("cli.proof_holds", phrase.With("count", len(said.Records))), later)
	})
}

// storedLog is every record of a job in the store, in the order it came.
func storedLog(ctx context.Context, s *store.Store, job string) ([]record.Record, error) {
	var log []record.Record
	for after := int64(0); ; {
		page, err := s.Records(ctx, job, after, store.MaxBatch)
		if err != nil || len(page) == 0 {
			return log, err
		}
		for _, l := range page {
			r, f := record.Decode(l.Body)
			if f != nil {
				return nil, f
			}
			log = append(log, r)
		}
		after = page[len(page)-1].Cursor
	}
}
