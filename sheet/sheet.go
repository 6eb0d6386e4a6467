package sheet

import (
	"spadework/engine/phrase"
	"spadework/engine/plan"
)

// Kind is what a block is.
type Kind uint8

// The kinds. A Detail hangs under the block before it.
const (
	Title Kind = iota
	Line
	Heading
	Paragraph
	Detail
	Finding
	TableBlock
)

// Block is one piece of a sheet.
type Block struct {
	Kind     Kind
	Text     string
	Severity phrase.Severity // of a Finding
	Table    *Table          // of a TableBlock
}

// Name is the kind as a page calls it.
func (k Kind) Name() string {
	return [...]string{"title", "line", "heading", "paragraph", "detail", "finding", "table"}[k]
}

// Sheet is blocks from the top.
type Sheet struct {
	View
	Blocks []Block
}

func (s *Sheet) add(k Kind, text string) { s.Blocks = append(s.Blocks, Block{Kind: k, Text: text}) }

func (s *Sheet) line(text string)      { s.add(Line, text) }
func (s *Sheet) paragraph(text string) { s.add(Paragraph, text) }
func (s *Sheet) detail(text string)    { s.add(Detail, text) }
func (s *Sheet) heading(key phrase.Key) {
	s.add(Heading, s.Text(key))
}

func (s *Sheet) table(t *Table) { s.Blocks = append(s.Blocks, Block{Kind: TableBlock, Table: t}) }

// head names the job.
func (s *Sheet) head(p *plan.Plan) {
	j := p.Job
	s.add(Title, s.Text("sheet.head", phrase.With("name", j.Name),
		phrase.With("drawing", orDash(j.Drawing)), phrase.With("revision", orDash(j.Revision))))
	s.line(s.Text(phrase.Key("sheet.curvature_" + j.Curvature.String())))
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}
