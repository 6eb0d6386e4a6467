package server

import (
	_ "embed"
	"html/template"
	"net"
	"net/http"
	"strings"

	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/sheet"
)

//go:embed page.html
var pageText string

var pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{"unbroken": sheet.Unbroken}).Parse(pageText))

// Demo serves a plan as one page: GET /, /plan.json and /plan.svg. ?lang=es or
// en chooses the language. Only requests that name this machine are answered,
// so that no page of another host can read it through the browser.
func Demo(p *plan.Plan, v sheet.View) http.Handler {
	d := demo{p: p, v: v}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", d.page)
	mux.HandleFunc("GET /plan.json", d.json)
	mux.HandleFunc("GET /plan.svg", d.svg)
	return guard(mux)
}

type demo struct {
	p *plan.Plan
	v sheet.View
}

// guard refuses foreign hosts and sets what keeps a page to itself.
func guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !loopback(r.Host) || r.Header.Get("Forwarded") != "" || r.Header.Get("X-Forwarded-For") != "" {
			http.Error(w, "this page is for this machine alone", http.StatusForbidden)
			return
		}
		h := w.Header()
		h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; img-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cache-Control", "no-store")
		next.ServeHTTP(w, r)
	})
}

// loopback says that a Host header names this machine.
func loopback(host string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = host
	}
	name = strings.Trim(name, "[]")
	ip := net.ParseIP(name)
	return strings.EqualFold(name, "localhost") || ip != nil && ip.IsLoopback()
}

// view is the language that the request asks for.
func (d demo) view(r *http.Request) sheet.View {
	v := d.v
	switch l := phrase.Language(r.URL.Query().Get("lang")); l {
	case phrase.English, phrase.Spanish:
		v.Language = l
	}
	return v
}

func (d demo) json(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "application/json")
	writeAll(w, d.p.AppendJSON(nil))
}

func (d demo) svg(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "image/svg+xml")
	writeAll(w, []byte(d.drawing(d.view(r))))
}

// writeAll answers; a client that went away is no error of ours.
func writeAll(w http.ResponseWriter, data []byte) {
	if _, err := w.Write(data); err != nil {
		return
	}
}

// Size of the drawing on the page, in millimetres.
const drawingWidth, drawingHeight = 240, 130

func (d demo) drawing(v sheet.View) string {
	words := draw.Words{North: v.Text("page.north"), Scale: v.Text("page.scale")}
	scene, _ := draw.SitePlan(d.p, v.Style, words, drawingWidth, drawingHeight)
	return sheet.SVG(scene, v.Text("page.drawing", phrase.With("name", d.p.Job.Name)))
}

// page is what the template fills in.
type page struct {
	Language, Other   phrase.Language
	OtherName, Traces string
	Strips, Data      string
	Drawing           template.HTML // our own SVG, its texts escaped
	TraceSheets       []namedSheet
	StripSheets       []namedSheet
	Before, After     []sheet.Block
}

type namedSheet struct {
	Name   string
	Blocks []sheet.Block
}

func (d demo) page(w http.ResponseWriter, r *http.Request) {
	v := d.view(r)
	s := sheet.Plan(d.p, v, true)
	split := firstSection(s, v.Text("sheet.setups"))
	out := page{
		Language: v.Language, Other: phrase.Spanish, OtherName: "español",
		Traces: v.Text("page.traces"), Strips: v.Text("page.strips"), Data: v.Text("page.data"),
		Drawing: template.HTML(d.drawing(v)), Before: s.Blocks[:split], After: s.Blocks[split:],
	}
	if v.Language == phrase.Spanish {
		out.Other, out.OtherName = phrase.English, "English"
	}
	for _, dig := range d.p.Digs {
		out.TraceSheets = append(out.TraceSheets, namedSheet{dig.Excavation.ID, sheet.Trace(d.p, v, dig).Blocks})
	}
	for _, set := range d.p.Setups {
		if groups, fault := d.p.ClampStrip(set.ID, 0); fault == nil {
			out.StripSheets = append(out.StripSheets, namedSheet{set.ID, sheet.Strip(v, set, groups).Blocks})
		}
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	if err := pageTemplate.Execute(w, out); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
	}
}

// firstSection is the index of the block with a heading, the end if there is
// none.
func firstSection(s *sheet.Sheet, heading string) int {
	for i, b := range s.Blocks {
		if b.Kind == sheet.Heading && b.Text == heading {
			return i
		}
	}
	return len(s.Blocks)
}
