package sheet

import "spadework/engine/draw"

// left lays out how the job was left, from its log; without one it is a form to
// fill in.
func (b *book) left() {
	b.begin(b.Text("sheet.left_title"), "")
	b.words(draw.Strong, sizeBody, 0, b.Text("sheet.left_numbers"))
	b.col.gap(1)
	if b.Log == nil || b.Log.Count == 0 {
		b.leftForm()
		return
	}
	s := &Sheet{View: b.View}
	s.howLeft(b.plan, b.Log, b.plan.Job.Today)
	b.blocks(s)
}

// leftForm is the same with room to write, for a job without a record.
func (b *book) leftForm() {
	b.words(draw.Body, sizeBody, 0, b.Text("sheet.left_form"))
	b.col.gap(2)
	t := &Table{}
	for _, key := range []string{"dig", "stage", "shots", "open", "holds"} {
		col := b.column(key)
		col.Write = key != "dig"
		t.Columns = append(t.Columns, col)
	}
	for _, d := range b.plan.Digs {
		t.Add(d.Excavation.ID, "", "", "", "")
	}
	b.table(t, 7)
	f := &Table{}
	for _, key := range []string{"tag", "laser", "last_close", "by_time"} {
		col := b.column(key)
		col.Write = key != "tag"
		f.Columns = append(f.Columns, col)
	}
	for _, s := range b.plan.Setups {
		f.Add(s.ID, "", "", "")
	}
	if len(f.Rows) > 0 {
		b.table(f, writeRow)
	}
}
