//go:build foreman || !js

package cab

import (
	"spadework/engine/guard"
	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/sheet"
)

// Paper is a sheet as a page shows it.
type Paper struct {
	Blocks []Block `json:"blocks"`
}

// Block is one piece of a sheet: a title, line, heading, paragraph, detail,
// finding or table.
type Block struct {
	Kind     string `json:"kind"`
	Text     string `json:"text,omitempty"`
	Severity string `json:"severity,omitempty"`
	Table    *Table `json:"table,omitempty"`
}

// Table is rows of text under their heads.
type Table struct {
	Heads   []Head     `json:"heads"`
	Rows    [][]string `json:"rows"`
	Planned []int      `json:"planned,omitempty"` // rows that are not to be dug to
}

// Head is the head of a column.
type Head struct {
	Text  string `json:"text"`
	Right bool   `json:"right,omitempty"` // figures
}

// Paper is a sheet by its name, of the whole job or of one dig.
func (c *Cab) Paper(name, dig string) (Paper, *phrase.Fault) {
	v := sheet.View(c.view)
	switch name {
	case "plan":
		return paperOf(sheet.Plan(c.plan, v, true)), nil
	case "why":
		return paperOf(sheet.Explain(c.plan, v)), nil
	case "amounts":
		return paperOf(sheet.Quantities(c.plan, v)), nil
	case "checks":
		proofs, f := guard.Prove(c.plan, c.state)
		if f != nil {
			return Paper{}, f
		}
		return paperOf(sheet.CheckLog(c.plan, v, c.state, proofs)), nil
	case "left":
		return paperOf(sheet.HowLeft(c.plan, v, c.state, c.opening.Today)), nil
	case "order":
		return paperOf(c.order()), nil
	case "trace", "trust":
		d, ok := c.plan.Dig(dig)
		if !ok {
			return Paper{}, notFound("cab.unknown_dig", dig)
		}
		if name == "trust" {
			return paperOf(sheet.TrustOf(c.plan, v, dig)), nil
		}
		return paperOf(sheet.Trace(c.plan, v, d)), nil
	}
	return Paper{}, notFound("cab.unknown_call", name)
}

// order is the concrete to order for the holes as the log's shots found them.
func (c *Cab) order() *sheet.Sheet {
	var shots []record.AsBuilt
	for _, d := range record.ProveLog(c.plan, c.state) {
		for _, pt := range d.Proofs {
			if pt.Verdict == record.Withdrawn {
				continue
			}
			shots = append(shots, record.AsBuilt{
				Shot: record.Shot{Excavation: d.Excavation}, Height: pt.Height, Deviation: pt.Deviation, Known: pt.Known,
				Within: pt.Verdict != record.ToDig && pt.Verdict != record.OverDug,
			})
		}
	}
	holes, order := record.HolesAsDug(c.plan, shots)
	return sheet.AsDug(c.plan, sheet.View(c.view), holes, order)
}

func paperOf(s *sheet.Sheet) Paper {
	out := Paper{Blocks: make([]Block, len(s.Blocks))}
	for i, b := range s.Blocks {
		out.Blocks[i] = Block{Kind: b.Kind.Name(), Text: b.Text, Severity: string(b.Severity), Table: tableOf(b.Table)}
	}
	return out
}

func tableOf(t *sheet.Table) *Table {
	if t == nil {
		return nil
	}
	out := &Table{Heads: make([]Head, len(t.Columns)), Rows: t.Rows, Planned: t.Planned}
	for i, c := range t.Columns {
		out.Heads[i] = Head{c.Head, c.Right}
	}
	if out.Rows == nil {
		out.Rows = [][]string{}
	}
	return out
}
