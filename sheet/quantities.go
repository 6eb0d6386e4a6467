package sheet

import (
	"math"
	"strconv"

	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
)

// earthLine tells in the plan how much is dug in all.
func (s *Sheet) earthLine(p *plan.Plan) {
	q := p.Quantities
	if q == nil || q.Bank == 0 {
		return
	}
	s.line(s.Text("sheet.earth", phrase.With("bank", q.Bank)))
	if len(q.Unknown) > 0 {
		s.detail(s.Text("sheet.earth_unknown", phrase.With("ids", q.Unknown), phrase.With("count", len(q.Unknown)), phrase.With("area", q.Missing)))
	}
}

// Quantities tells what is dug, hauled and filled, dig by dig and in all.
func Quantities(p *plan.Plan, v View) *Sheet {
	s := &Sheet{View: v}
	s.head(p)
	if p.Quantities == nil {
		s.paragraph(s.Text("sheet.no_ground"))
		return s
	}
	s.volumeHeading("sheet.dug")
	s.table(s.dugTable(p))
	s.volumeHeading("sheet.filled")
	s.table(s.filledTable(p))
	s.spoil(p)
	s.totals(p)
	return s
}

// dugTable is what leaves each hole.
func (s *Sheet) dugTable(p *plan.Plan) *Table {
	t := &Table{Columns: []Column{s.column("dig"), s.main("bank"), s.figures("bank_share"), s.figures("loose"),
		s.figures("end_area"), s.figures("prismoidal"), s.column("material")}}
	for i := range p.Digs {
		e := p.Digs[i].Earth
		bank, share := "–", "–"
		if e.Known() {
			bank, share = s.volume(&e.Bank), s.volume(&e.Share)
		}
		var end, prism *unit.Volume
		if e.ByHand != nil {
			end, prism = &e.ByHand.EndArea, &e.ByHand.Prismoidal
		}
		material := s.Text("sheet.no_material")
		if e.Material != nil {
			material = s.Say(e.Material.Name())
		}
		t.Add(p.Digs[i].Excavation.ID, bank, share, s.volume(e.Loose), s.volume(end), s.volume(prism), material)
	}
	return t
}

// filledTable is what goes into each hole.
func (s *Sheet) filledTable(p *plan.Plan) *Table {
	t := &Table{Columns: []Column{s.column("dig"), s.figures("concrete"), s.figures("blinding"), s.figures("subbase"),
		s.figures("bedding"), s.figures("pipe"), s.figures("backfill"), s.figures("surplus")}}
	for i := range p.Digs {
		e := p.Digs[i].Earth
		b := &e.Bill
		t.Add(p.Digs[i].Excavation.ID, s.volume(b.Concrete), s.volume(&b.Blinding), s.volume(&b.Subbase),
			s.volume(&b.Bedding), s.volume(&b.Pipe), s.volume(b.Backfill), s.volume(e.Surplus))
	}
	return t
}

// volumeHeading heads a table of volumes with their unit.
func (s *Sheet) volumeHeading(key phrase.Key) {
	name := "m³"
	if s.Style.System == unit.Imperial {
		name = "yd³"
	}
	s.add(Heading, s.Text(key, phrase.With("unit", name)))
}

// volume is a figure without its unit, which the head names; a dash if unknown.
func (v View) volume(x *unit.Volume) string {
	if x == nil {
		return "–"
	}
	if v.Style.System == unit.Imperial {
		return v.Style.Fixed(float64(*x/unit.CubicYard), 1)
	}
	return v.Style.Fixed(float64(*x), 1)
}

// spoil tells where heaps go and which find no room.
func (s *Sheet) spoil(p *plan.Plan) {
	t := &Table{Columns: []Column{s.column("dig"), s.figures("heap_length"), s.figures("heap_base"), s.figures("heap_height"),
		s.figures("heap_room"), s.words("heap_fits")}}
	for i := range p.Digs {
		h := p.Digs[i].Earth.Heap
		if h == nil {
			continue
		}
		room, fits := s.Text("sheet.open_ground"), s.Text("sheet.heap_yes")
		if h.Room != nil {
			room = s.Style.Length(*h.Room)
		}
		if !h.Fits {
			fits = s.Text("sheet.heap_no")
		}
		t.Add(p.Digs[i].Excavation.ID, s.Style.Length(h.Length), s.Style.Length(h.Base), s.Style.Length(h.Height), room, fits)
	}
	if len(t.Rows) == 0 {
		return
	}
	s.heading("sheet.spoil")
	s.table(t)
}

// totals are the sums of the site.
func (s *Sheet) totals(p *plan.Plan) {
	q := p.Quantities
	s.heading("sheet.in_all")
	s.earthLine(p)
	s.paragraph(s.Text("sheet.total_fill", phrase.With("concrete", q.Concrete), phrase.With("blinding", q.Blinding),
		phrase.With("subbase", q.Subbase), phrase.With("bedding", q.Bedding)))
	s.surplus(p, q)
	s.hours(p)
	for _, m := range p.Materials() {
		s.material(&m)
	}
}

// material tells the factors of a material and where they come from.
func (s *Sheet) material(m *dig.Material) {
	s.paragraph(s.Text("sheet.material", phrase.With("id", m.Name()), phrase.With("swell", toTenths(m.Swell)),
		phrase.With("shrinkage", toTenths(m.Shrinkage)), phrase.With("source", m.From())))
}

// toTenths is a share to a tenth of a percent, which is more than any list is good for.
func toTenths(share float64) unit.Grade { return unit.Grade(math.Round(share*1000) / 1000) }

// hours tells how long digging takes, and by what.
func (s *Sheet) hours(p *plan.Plan) {
	h := p.Quantities.Hours
	if h.Most == 0 {
		return
	}
	soil, _ := dig.DigsAsSoil.Pace()
	clay, _ := dig.DigsAsClay.Pace()
	name, per := "m³", unit.Volume(1)
	if s.Style.System == unit.Imperial {
		name, per = "yd³", unit.CubicYard
	}
	figure := func(name string, v unit.Volume, digits int) phrase.Arg {
		return phrase.With(name, s.Style.Fixed(float64(v/per), digits))
	}
	s.paragraph(s.Text("sheet.hours", phrase.With("least", s.Style.Fixed(h.Least, 0)), phrase.With("most", s.Style.Fixed(h.Most, 0)),
		phrase.With("untrimmed", s.Style.Fixed(h.Untrimmed, 0)), figure("soil_least", soil.Least, 1), figure("soil_most", soil.Most, 1),
		figure("clay_least", clay.Least, 1), figure("clay_most", clay.Most, 1), figure("rated", dig.RatedBucket, 2),
		figure("bucket", p.Bucket(), 2), phrase.With("unit", name)))
	var ids []string
	for i := range p.Digs {
		if e := p.Digs[i].Earth; e.Bank > 0 && e.Hours.Most == 0 {
			ids = append(ids, p.Digs[i].Excavation.ID)
		}
	}
	if len(ids) > 0 {
		s.detail(s.Text("sheet.hours_unknown", phrase.With("ids", ids), phrase.With("count", len(ids))))
	}
}

// surplus is what trucks take away, or what is to be brought in.
func (s *Sheet) surplus(p *plan.Plan, q *plan.Quantities) {
	if q.Surplus == nil {
		var ids []string
		for i := range p.Digs {
			if p.Digs[i].Earth.Surplus == nil {
				ids = append(ids, p.Digs[i].Excavation.ID)
			}
		}
		s.paragraph(s.Text("sheet.surplus_unknown", phrase.With("ids", ids), phrase.With("count", len(ids))))
		return
	}
	if *q.Surplus < 0 {
		s.paragraph(s.Text("sheet.import", phrase.With("bank", -*q.Surplus)))
		return
	}
	s.paragraph(s.Text("sheet.export", phrase.With("bank", *q.Surplus), phrase.With("loose", q.SurplusAs.Loose)))
	if l := q.SurplusAs.Loads; l.Most() > 0 {
		s.detail(s.Text("sheet.loads", phrase.With("count", l.Most()), phrase.With("volume", l.ByVolume), phrase.With("weight", l.ByWeight)))
	}
}

// AsDug tells what to order for the holes as the shots found them.
func AsDug(p *plan.Plan, v View, holes []record.AsDug, o record.Order) *Sheet {
	s := &Sheet{View: v}
	s.heading("sheet.as_dug")
	t := &Table{Columns: []Column{s.column("dig"), s.figures("shots"), s.figures("over"), s.figures("over_volume"),
		s.figures("concrete"), s.figures("order"), s.figures("cost")}}
	for _, h := range holes {
		cost := "–"
		if h.Cost != nil {
			cost = s.Style.Fixed(*h.Cost, 0)
		}
		t.Add(h.Excavation, strconv.Itoa(h.Shots), s.Style.Length(h.Over), s.volume(&h.Volume), s.volume(h.Design), s.volume(h.Order), cost)
	}
	s.table(t)
	key := phrase.Key("sheet.order")
	if o.OverConcrete == 0 {
		key = "sheet.order_plain"
	}
	s.line(s.Text(key, phrase.With("concrete", o.Concrete), phrase.With("over", o.OverConcrete), phrase.With("ids", concreteOver(holes))))
	if o.OverStone > 0 {
		s.line(s.Text("sheet.order_stone", phrase.With("stone", o.OverStone)))
	}
	if len(o.Unshot) > 0 {
		s.paragraph(s.Text("sheet.order_unshot", phrase.With("ids", o.Unshot), phrase.With("count", len(o.Unshot))))
	}
	if o.Cost != nil {
		s.paragraph(s.Text("sheet.order_cost", phrase.With("cost", s.Style.Fixed(*o.Cost, 0)), phrase.With("currency", p.Job.Risk.Currency)))
	}
	return s
}

// concreteOver are the holes whose over-dig is filled with concrete.
func concreteOver(holes []record.AsDug) []string {
	var out []string
	for _, h := range holes {
		if h.Spoken() && h.Design != nil {
			out = append(out, h.Excavation)
		}
	}
	return out
}

// QuantityRows is the table of quantities as cells for a spreadsheet: figures in
// the unit that the head names, empty where not known.
func QuantityRows(p *plan.Plan, v View) [][]string {
	symbol := "m3"
	if v.Style.System == unit.Imperial {
		symbol = "yd3"
	}
	head := []string{"dig"}
	for _, c := range []string{"bank_alone", "bank_share", "bound", "loose", "end_area", "prismoidal", "concrete", "blinding",
		"subbase", "bedding", "pipe", "backfill_compacted", "surplus_bank"} {
		head = append(head, c+"_"+symbol)
	}
	rows := [][]string{append(head, "loads", "material")}
	for i := range p.Digs {
		if e := p.Digs[i].Earth; e != nil {
			rows = append(rows, v.quantityRow(p.Digs[i].Excavation.ID, e))
		}
	}
	return rows
}

// quantityRow is the row of one dig.
func (v View) quantityRow(id string, e *plan.Earth) []string {
	var bank, share, bound, end, prism *unit.Volume
	if e.Known() {
		bank, share, bound = &e.Bank, &e.Share, &e.Bound
	}
	if e.ByHand != nil {
		end, prism = &e.ByHand.EndArea, &e.ByHand.Prismoidal
	}
	b := &e.Bill
	row := []string{id}
	for _, x := range []*unit.Volume{bank, share, bound, e.Loose, end, prism, b.Concrete, &b.Blinding, &b.Subbase, &b.Bedding,
		&b.Pipe, b.Backfill, e.Surplus} {
		row = append(row, v.cell(x))
	}
	material, loads := "", ""
	if e.Material != nil {
		material = e.Material.ID
	}
	if e.Surplus != nil {
		loads = strconv.Itoa(e.Hauled.Loads.Most())
	}
	return append(row, loads, material)
}

// cell is a volume in the job's unit with a point, as spreadsheets read it.
func (v View) cell(x *unit.Volume) string {
	if x == nil {
		return ""
	}
	f := float64(*x)
	if v.Style.System == unit.Imperial {
		f = float64(*x / unit.CubicYard)
	}
	return strconv.FormatFloat(f, 'f', 6, 64)
}
