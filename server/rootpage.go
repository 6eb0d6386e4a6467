package server

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"
	"net/http"
	"strconv"

	"spadework/engine/phrase"
	"spadework/sheet"
)

//go:embed rootpage.html
var rootPageText string

//go:embed rootpage.css
var rootPageStyles string

var rootPageTemplate = template.Must(template.New("root").Parse(rootPageText))

// rootSteps are how many sentences each list of steps has.
var rootSteps = []struct {
	key   string
	count int
}{{"android", 5}, {"ios", 6}, {"remove", 3}}

// rootPage is what the template fills in.
type rootPage struct {
	Language, Other          phrase.Language
	OtherName                string
	Styles                   template.CSS
	Title, Why, Scan, Mind   string
	Get, Print, Then, Opened string
	Fingerprint              string
	App                      string
	Code                     Code
	Lists                    []rootList
}

type rootList struct {
	Title string
	Steps []string
}

// RootPage serves, without TLS, what a phone needs before it can use TLS here:
// the authority's certificate and the steps to install and remove it. own is the
// address of the page, app that of the server; neither page holds a secret.
func RootPage(a *Authority, own, app string) (http.Handler, error) {
	code, err := codeOf(own)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256([]byte(rootPageStyles))
	policy := "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
	mux := http.NewServeMux()
	mux.HandleFunc("GET /authority.crt", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/x-x509-ca-cert")
		w.Header().Set("Content-Disposition", `attachment; filename="spadework-site-authority.crt"`)
		writeAll(w, a.Root())
	})
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) {
		var b bytes.Buffer
		if err := rootPageTemplate.Execute(&b, fillRoot(a, app, code, rootLanguage(r))); err != nil {
			http.Error(w, http.StatusText(http.StatusInternalServerError), http.StatusInternalServerError)
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		writeAll(w, b.Bytes())
	})
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cache-Control", "no-store")
		mux.ServeHTTP(w, r)
	}), nil
}

// rootLanguage is the one asked for in the address, else by the browser.
func rootLanguage(r *http.Request) phrase.Language {
	switch l := phrase.Language(r.URL.Query().Get("lang")); l {
	case phrase.English, phrase.Spanish:
		return l
	}
	return askedLanguage(r.Header.Get("Accept-Language"))
}

func fillRoot(a *Authority, app string, code Code, lang phrase.Language) rootPage {
	v := sheet.View{Language: lang}
	p := rootPage{
		Language: lang, Other: phrase.Spanish, OtherName: "español", Styles: template.CSS(rootPageStyles), App: app, Code: code, Fingerprint: a.Fingerprint(),
		Title: v.Text("server.root_title"), Why: v.Text("server.root_why", phrase.With("host", a.hosts[0])), Scan: v.Text("server.root_scan"),
		Mind: v.Text("server.root_mind"), Get: v.Text("server.root_get"), Print: v.Text("server.root_print"),
		Then: v.Text("server.root_then"), Opened: v.Text("server.root_open"),
	}
	if lang == phrase.Spanish {
		p.Other, p.OtherName = phrase.English, "English"
	}
	for _, l := range rootSteps {
		list := rootList{Title: v.Text(phrase.Key("server.root_" + l.key))}
		for i := range l.count {
			list.Steps = append(list.Steps, v.Text(phrase.Key("server.root_"+l.key+"_"+strconv.Itoa(i+1))))
		}
		p.Lists = append(p.Lists, list)
	}
	return p
}
