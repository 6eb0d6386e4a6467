//go:build foreman || !js

package cab

import (
	"crypto/sha256"

	"spadework/engine/phrase"
	"spadework/sheet"
)

// Proof is what an inspector reads, of the job as it is open and its log.
func (c *Cab) Proof(paper sheet.Paper) sheet.Document {
	var files []sheet.SourceFile
	for _, name := range c.opening.Bundle.Names() {
		files = append(files, sheet.SourceFile{Name: name, SHA256: sha256.Sum256([]byte(c.opening.Bundle.Files[name]))})
	}
	return sheet.Proof(c.plan, sheet.View(c.view), sheet.ProofInput{Records: c.records, Foremen: c.opening.Foremen, Paper: paper, Files: files})
}

// Sheets is the job on paper: cards, cut sheets, stakes.
func (c *Cab) Sheets(paper sheet.Paper) (sheet.Document, *phrase.Fault) {
	return sheet.Book(c.plan, sheet.View(c.view), sheet.BookOptions{Paper: paper})
}
