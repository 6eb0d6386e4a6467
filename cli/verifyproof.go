package cli

import (
	"bytes"
	"context"
	"os"

	"spadework/engine/phrase"
	"spadework/engine/record"
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
		return c.proofInStore(a, said)
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
	differs, later := said.CompareRecords(log.records)
	differs = append(said.CompareFiles(files), differs...)
	if len(differs) == 0 {
		page := sheet.View{Language: said.Language, Style: v.Style}
		seen, _ := record.Until(log.records, record.Verify(said.Records))
		d := sheet.Proof(p, page, sheet.ProofInput{Records: seen, Foremen: said.Foremen, Paper: said.Paper, Files: files})
		switch {
		case !bytes.Equal(d.Attachments[0].Data, said.Canon):
			differs = append(differs, phrase.New("proven.record_differs"))
		case !bytes.Equal(sheet.PDF(d), pdf):
			differs = append(differs, phrase.New("proven.pages_differ"))
		}
	}
	return a.tellProof(v, differs, v.Text("cli.proof_holds", phrase.With("count", len(said.Records))), later)
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

// proofInStore checks the records of a proof against those of the store.
func (c *verifyCommand) proofInStore(a *app, said sheet.Statement) error {
	if len(said.Records) == 0 {
		return phrase.NewFault(phrase.New("cli.proof_empty"), phrase.New("cli.proof_empty.remedy"))
	}
	return c.withStore(a, true, func(ctx context.Context, s *store.Store, v sheet.View) error {
		var log []record.Record
		for after := int64(0); ; {
			page, err := s.Records(ctx, said.Records[0].Job, after, store.MaxBatch)
			if err != nil {
				return err
			}
			if len(page) == 0 {
				break
			}
			for _, l := range page {
				r, f := record.Decode(l.Body)
				if f != nil {
					return f
				}
				log = append(log, r)
			}
			after = page[len(page)-1].Cursor
		}
		differs, later := said.CompareRecords(log)
		return a.tellProof(v, differs, v.Text("cli.proof_records", phrase.With("count", len(said.Records))), later)
	})
}
