package server

import (
	"crypto/sha256"
	"encoding/base64"
	"net/http"

	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/sheet"
)

// Demo serves a plan as one page: GET / is the page, GET /plan.json the plan as
// data, GET /plan.svg the site plan, GET /sheets.pdf the sheets on paper (?paper=a4
// or letter, which it is without). ?lang=en or es chooses the language, else it
// is the view's. Only requests that name this machine are answered, so that no
// page of another host can read it through the browser.
func Demo(p *plan.Plan, v sheet.View) http.Handler {
	d := demo{p: p, v: v}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", d.page)
	mux.HandleFunc("GET /plan.json", d.json)
	mux.HandleFunc("GET /plan.svg", d.svg)
	mux.HandleFunc("GET /sheets.pdf", d.sheets)
	return d.guard(mux)
}

type demo struct {
	p *plan.Plan
	v sheet.View
}

// guard refuses foreign hosts and sets what keeps a page to itself.
func (d demo) guard(next http.Handler) http.Handler {
	policy := contentPolicy()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if !loopback(r.Host) || r.Header.Get("Forwarded") != "" || r.Header.Get("X-Forwarded-For") != "" {
			http.Error(w, d.view(r).Text("page.foreign"), http.StatusForbidden)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// contentPolicy allows the page's own style sheet, told by its digest, and
// nothing else.
func contentPolicy() string {
	sum := sha256.Sum256([]byte(styles()))
	return "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) +
		"'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
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
	v := d.view(r)
	w.Header().Set("Content-Type", "image/svg+xml")
	writeAll(w, sheet.SVG(draw.SitePlan(d.p, draw.Voice(v), wideSite), d.siteTitle(v)))
}

// sheets is the whole book of the job as a PDF. The page's own address is this
// machine's, which no phone can open: the cards have no codes.
func (d demo) sheets(w http.ResponseWriter, r *http.Request) {
	paper, ok := sheet.PaperNamed(r.URL.Query().Get("paper"))
	if !ok {
		paper = sheet.Letter
	}
	v := d.view(r)
	book, fault := sheet.Book(d.p, v, sheet.BookOptions{Paper: paper})
	if fault != nil {
		http.Error(w, fault.Render(v.Language, v.Style), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/pdf")
	writeAll(w, sheet.PDF(book))
}

func (d demo) siteTitle(v sheet.View) string {
	return v.Text("page.site_plan", phrase.With("name", d.p.Job.Name))
}

// writeAll answers; a client that went away is no error of ours.
func writeAll(w http.ResponseWriter, data []byte) {
	if _, err := w.Write(data); err != nil {
		return
	}
}
