package server

import (
	"bytes"
	_ "embed"
	"html/template"
	"net/http"
	"slices"

	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/sheet"
)

//go:embed page.html
var pageText string

//go:embed page.css
var pageStyles string

var pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{"figures": figures, "has": slices.Contains[[]int]}).Parse(pageText))

// styles is the style sheet of the page with the colours before it.
func styles() string { return sheet.ColourVariables() + pageStyles }

// The papers of the drawings. The narrow site plan is for a phone, where the wide
// one would be too small to read.
var (
	wideSite    = draw.Frame{Width: 240, Height: 140, Type: 3.2}
	narrowSite  = draw.Frame{Width: 134, Height: 104, Type: 3}
	runPaper    = draw.Frame{Width: 230, Height: 104, Type: 3.4}
	acrossPaper = draw.Frame{Width: 126, Height: 124, Type: 3.6}
)

// page is what the template fills in.
type page struct {
	Words     pageWords
	Language  phrase.Language
	Other     phrase.Language
	OtherName string
	Styles    template.CSS
	Name      string
	Head      []fact
	Curvature string
	Stops     []section
	Site      []drawing // wide, and narrow for a phone
	Sections  []section
	Strips    []section
	Stakes    []sheet.Block
	Digs      []digCard
	Notes     []section
	Advice    string
}

// pageWords are the fixed words of the page.
type pageWords struct{ Site, Signs, Alone, Data, Paper, Digs, Strips, Stakes string }

func (d demo) words(v sheet.View) pageWords {
	signs := v.Text("page.signs")
	if d.p.Planned() {
		signs += " " + v.Text("page.signs_planned")
	}
	return pageWords{
		Site: v.Text("page.site"), Signs: signs, Alone: v.Text("page.drawing_alone"), Data: v.Text("page.data"), Paper: v.Text("page.paper"),
		Digs: v.Text("page.digs"), Strips: v.Text("page.strips"), Stakes: v.Text("page.stakes"),
	}
}

// fact is a box of the head.
type fact struct{ Name, Value string }

// section is blocks under a heading.
type section struct {
	Title  string
	Blocks []sheet.Block
}

// digCard is one dig: its drawings and its arithmetic.
type digCard struct {
	ID, Words string
	Drawings  []drawing
	Trace     []sheet.Block
}

// drawing is an SVG of our own under a caption.
type drawing struct {
	Kind    string
	Caption string
	SVG     template.HTML // its texts escaped
}

func (d demo) page(w http.ResponseWriter, r *http.Request) {
	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, d.fill(d.view(r))); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	writeAll(w, b.Bytes())
}

// fill gathers the page.
func (d demo) fill(v sheet.View) page {
	blocks := sheet.Plan(d.p, v, true).Blocks
	sections := split(blocks)
	out := page{
		Words:    d.words(v),
		Language: v.Language, Other: phrase.Spanish, OtherName: "español",
		Styles: template.CSS(styles()), Name: d.p.Job.Name, Head: d.head(v),
		Site:   []drawing{d.site(v, "wide", wideSite), d.site(v, "narrow", narrowSite)},
		Stops:  named(sections, v.Text("sheet.stops")),
		Notes:  named(sections, v.Text("sheet.notes")),
		Strips: d.strips(v),
		Stakes: sheet.Stakes(d.p, v).Blocks,
		Digs:   d.cards(v),
		Advice: v.Text("safety.advice"),
	}
	for _, key := range []phrase.Key{"sheet.hand_dig", "sheet.setups", "sheet.numbers", "sheet.stands", "sheet.pipes", "sheet.cautions"} {
		out.Sections = append(out.Sections, named(sections, v.Text(key))...)
	}
	out.Curvature = v.Text(phrase.Key("sheet.curvature_" + d.p.Job.Curvature.String()))
	if v.Language == phrase.Spanish {
		out.Other, out.OtherName = phrase.English, "English"
	}
	return out
}

// head is the ruled boxes over the page.
func (d demo) head(v sheet.View) []fact {
	j := d.p.Job
	or := func(value string) string {
		if value == "" {
			return v.Text("page.not_told")
		}
		return value
	}
	return []fact{
		{v.Text("page.drawing"), or(j.Drawing)},
		{v.Text("page.revision"), or(j.Revision)},
		{v.Text("page.date"), or(j.Today)},
	}
}

// split cuts a sheet at its headings; the head and the advice, which the page
// has places for, are left out.
func split(blocks []sheet.Block) []section {
	var out []section
	for i, b := range blocks {
		switch {
		case b.Kind == sheet.Heading:
			out = append(out, section{Title: b.Text})
		case len(out) > 0 && (i < len(blocks)-1 || b.Kind != sheet.Line):
			last := &out[len(out)-1]
			last.Blocks = append(last.Blocks, b)
		}
	}
	return out
}

// named are the sections of a title, none or one.
func named(sections []section, title string) []section {
	for i, s := range sections {
		if s.Title == title {
			return sections[i : i+1]
		}
	}
	return nil
}

func (d demo) strips(v sheet.View) []section {
	var out []section
	for _, set := range d.p.Setups {
		if groups, fault := d.p.ClampStrip(set.ID, 0); fault == nil {
			out = append(out, section{set.ID, sheet.Strip(v, set, groups, d.p.WorkedTo).Blocks})
		}
	}
	return out
}

func svg(scene draw.Scene, title string) template.HTML {
	return template.HTML(sheet.SVG(scene, title))
}

// site draws the site plan on a paper, and says what it has no room for.
func (d demo) site(v sheet.View, kind string, f draw.Frame) drawing {
	scene := draw.SitePlan(d.p, draw.Voice(v), f)
	caption := ""
	if scene.Unplaced > 0 {
		caption = v.Text("page.unnamed", phrase.With("count", scene.Unplaced))
	}
	return drawing{kind, caption, svg(scene, d.siteTitle(v))}
}

// cards draws every dig from every set-up that serves it.
func (d demo) cards(v sheet.View) []digCard {
	var out []digCard
	for _, dig := range d.p.Digs {
		card := digCard{ID: dig.Excavation.ID, Words: dig.Excavation.Words, Trace: sheet.Trace(d.p, v, dig).Blocks}
		for _, setup := range d.serving(dig) {
			card.Drawings = append(card.Drawings, d.upright(v, draw.Cut{Plan: d.p, Dig: dig, Setup: setup})...)
		}
		out = append(out, card)
	}
	return out
}

// serving are the set-ups with a number for a dig, "" where none has.
func (d demo) serving(dig plan.Dig) []string {
	var out []string
	for _, n := range d.p.Numbers {
		if n.Excavation == dig.Excavation.ID && n.From == plan.FromBeam && !slices.Contains(out, n.Setup) {
			out = append(out, n.Setup)
		}
	}
	if len(out) == 0 {
		return []string{""}
	}
	slices.Sort(out)
	return out
}

// upright is the profile of a run or the section of an area.
func (d demo) upright(v sheet.View, c draw.Cut) []drawing {
	key, alone, kind := phrase.Key("page.section"), phrase.Key("page.section_alone"), "across"
	scene, ok := draw.Section(c, draw.Voice(v), acrossPaper)
	if c.Dig.Excavation.Kind.Run() {
		key, alone, kind = "page.profile", "page.profile_alone", "along"
		scene, ok = draw.Profile(c, draw.Voice(v), runPaper)
	}
	if !ok {
		return nil
	}
	caption := v.Text(key, phrase.With("id", c.Dig.Excavation.ID), phrase.With("setup", c.Setup))
	if c.Setup == "" {
		caption = v.Text(alone, phrase.With("id", c.Dig.Excavation.ID))
	}
	if scene.Unplaced > 0 {
		caption += " " + v.Text("page.unplaced", phrase.With("count", scene.Unplaced))
	}
	if c.Dig.Excavation.Count > 1 {
		caption += " " + v.Text("page.first_trench", phrase.With("count", c.Dig.Excavation.Count))
	}
	return []drawing{{kind, caption, svg(scene, caption)}}
}
