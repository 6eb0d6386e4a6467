package cab

import (
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

// papers are the sheets that a page shows, of the whole job or of one dig.
var papers = map[string]func(c *Cab, dig string) (*sheet.Sheet, *phrase.Fault){
	"plan":    wholePaper(func(c *Cab) *sheet.Sheet { return sheet.Plan(c.plan, sheet.View(c.view), true) }),
	"why":     wholePaper(func(c *Cab) *sheet.Sheet { return sheet.Explain(c.plan, sheet.View(c.view)) }),
	"amounts": wholePaper(func(c *Cab) *sheet.Sheet { return sheet.Quantities(c.plan, sheet.View(c.view)) }),
	"checks":  wholePaper(func(c *Cab) *sheet.Sheet { return sheet.CheckLog(c.plan, sheet.View(c.view), c.state) }),
	"log":     wholePaper(func(c *Cab) *sheet.Sheet { return sheet.Log(c.plan, sheet.View(c.view), c.state) }),
	"left": wholePaper(func(c *Cab) *sheet.Sheet {
		return sheet.HowLeft(c.plan, sheet.View(c.view), c.state, c.opening.Today)
	}),
	"order": func(c *Cab, _ string) (*sheet.Sheet, *phrase.Fault) { return c.order() },
	"trace": func(c *Cab, dig string) (*sheet.Sheet, *phrase.Fault) {
		d, ok := c.plan.Dig(dig)
		if !ok {
			return nil, notFound("cab.unknown_dig", dig)
		}
		return sheet.Trace(c.plan, sheet.View(c.view), d), nil
	},
	"trust": func(c *Cab, dig string) (*sheet.Sheet, *phrase.Fault) {
		if _, ok := c.plan.Dig(dig); !ok {
			return nil, notFound("cab.unknown_dig", dig)
		}
		return sheet.TrustOf(c.plan, sheet.View(c.view), dig), nil
	},
}

func wholePaper(make func(c *Cab) *sheet.Sheet) func(*Cab, string) (*sheet.Sheet, *phrase.Fault) {
	return func(c *Cab, _ string) (*sheet.Sheet, *phrase.Fault) { return make(c), nil }
}

// Paper is a sheet by its name.
func (c *Cab) Paper(name, dig string) (Paper, *phrase.Fault) {
	write, ok := papers[name]
	if !ok {
		return Paper{}, notFound("cab.unknown_call", name)
	}
	s, f := write(c, dig)
	if f != nil {
		return Paper{}, f
	}
	return paperOf(s), nil
}

// order is the concrete to order for the holes as the log's shots found them.
func (c *Cab) order() (*sheet.Sheet, *phrase.Fault) {
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
	return sheet.AsDug(c.plan, sheet.View(c.view), holes, order), nil
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
