package server

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"io"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/exchange"
	"spadework/sheet"
)

const job = `[job]
name = "Wall & gate"
units = "ft"
[[datum]]
id = "FFL"
elevation = 104.5
[[benchmark]]
id = "BM1"
at = [0, 0]
elevation = 101.37
[ground]
level = 102.3
[[laser]]
id = "L1"
accuracy = '10"'
range = 400
[[rod]]
id = "R1"
face = "inches"
longest = 16
[[excavation]]
id = "<F1>"
kind = "footing"
words = "3'-4\" & less"
at = [30, 20]
size = [4, 6]
bottom = { below = "3'-4\"", datum = "FFL" }
[[setup]]
tag = "A1"
at = [50, 0]
backsights = [{ benchmark = "BM1", rod = "6'-4 1/4\"" }]
`

func demoHandler(t *testing.T) http.Handler {
	t.Helper()
	j, voice, err := exchange.ReadJob("job.toml", []byte(job), func(string) ([]byte, error) { return nil, errors.New("no files") })
	if err != nil {
		t.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	return Demo(p, sheet.View{Language: phrase.English, Style: voice.Style})
}

// get asks the handler as a browser on this machine does.
func get(t *testing.T, method, target, host string) *http.Response {
	t.Helper()
	return ask(demoHandler(t), method, target, host)
}

func ask(h http.Handler, method, target, host string) *http.Response {
	r := httptest.NewRequest(method, target, nil)
	r.Host = host
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

func TestRoutesMethodsAndHosts(t *testing.T) {
	for _, c := range []struct {
		method, target, host string
		want                 int
	}{
		{"GET", "/", "127.0.0.1:8471", 200},
		{"HEAD", "/", "localhost:8471", 200},
		{"GET", "/", "[::1]:8471", 200},
		{"GET", "/plan.json", "127.0.0.1", 200},
		{"GET", "/plan.svg?lang=es", "127.0.0.1:8471", 200},
		{"GET", "/nothing", "127.0.0.1:8471", 404},
		{"GET", "/plan.json/", "127.0.0.1:8471", 404},
		{"GET", "/../job.toml", "127.0.0.1:8471", 307}, // to the clean path, which is not there
		{"GET", "/job.toml", "127.0.0.1:8471", 404},
		{"HEAD", "/plan.json", "127.0.0.1:8471", 200},
		{"HEAD", "/plan.svg", "127.0.0.1:8471", 200},
		{"POST", "/", "127.0.0.1:8471", 405},
		{"PUT", "/plan.json", "127.0.0.1:8471", 405},
		{"DELETE", "/plan.svg", "127.0.0.1:8471", 405},
		{"OPTIONS", "/", "127.0.0.1:8471", 405},
		{"GET", "/", "127.0.0.1.evil.example", 403},
		{"GET", "/", "192.168.1.10:8471", 403},
		{"GET", "/", "0.0.0.0:8471", 403},
		{"GET", "/", "evil.example", 403},
		{"GET", "/plan.json", "evil.example:8471", 403},
		{"GET", "/", "", 403},
	} {
		if got := get(t, c.method, c.target, c.host).StatusCode; got != c.want {
			t.Errorf("%s %s for %q = %d, want %d", c.method, c.target, c.host, got, c.want)
		}
	}
}

func body(t *testing.T, r *http.Response) string {
	t.Helper()
	data, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestForwardedRequestsAreRefused(t *testing.T) {
	for _, header := range []string{"Forwarded", "X-Forwarded-For"} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Host = "127.0.0.1:8471"
		r.Header.Set(header, "for=192.0.2.1")
		w := httptest.NewRecorder()
		demoHandler(t).ServeHTTP(w, r)
		if w.Code != 403 {
			t.Errorf("with %s = %d, want 403", header, w.Code)
		}
	}
}

// TestThePolicyAllowsThePagesOwnStylesAlone recomputes the digest from the page
// as it is sent (CSP Level 3: the digest of the element's text).
func TestThePolicyAllowsThePagesOwnStylesAlone(t *testing.T) {
	r := get(t, "GET", "/", "127.0.0.1")
	_, after, _ := strings.Cut(body(t, r), "<style>")
	styles, _, ok := strings.Cut(after, "</style>")
	sum := sha256.Sum256([]byte(styles))
	want := "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "';"
	if got := r.Header.Get("Content-Security-Policy"); !ok || !strings.HasPrefix(got, want) {
		t.Errorf("Content-Security-Policy = %q, want it to begin %q", got, want)
	}
	for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "Cache-Control": "no-store"} {
		if got := r.Header.Get(name); got != want {
			t.Errorf("%s = %q, want %q", name, got, want)
		}
	}
}

func TestThePageHasTheNumbersInBothLanguages(t *testing.T) {
	for lang, words := range map[string][]string{"en": {"NUMBERS", "STOP"}, "es": {"NÚMEROS", "PARE"}} {
		text := body(t, get(t, "GET", "/?lang="+lang, "127.0.0.1"))
		for _, want := range append(words, fmt.Sprintf("<html lang=%q>", lang), html.EscapeString("<F1>"), "Wall &amp; gate") {
			if !strings.Contains(text, want) {
				t.Errorf("page in %s lacks %q", lang, want)
			}
		}
		if !strings.Contains(plain(text), "6'-6"+"\u00a0"+`3/4"`) {
			t.Errorf("page in %s lacks the rod of F1", lang)
		}
		for _, bad := range []string{"<F1>", "<script", " style=", "onload"} {
			if strings.Contains(text, bad) {
				t.Errorf("page in %s holds %q", lang, bad)
			}
		}
		if others := foreign.FindAllString(strings.ReplaceAll(text, "http://www.w3.org/2000/svg", ""), -1); len(others) > 0 {
			t.Errorf("page in %s names other hosts: %v", lang, others)
		}
	}
}

// foreign is the begin of any address on another host.
var foreign = regexp.MustCompile(`(?i)(https?:)?//[a-z0-9]`)

func TestTheDrawingIsXMLAndTheDataJSON(t *testing.T) {
	d := xml.NewDecoder(strings.NewReader(body(t, get(t, "GET", "/plan.svg", "127.0.0.1"))))
	elements := 0
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := token.(xml.StartElement); ok {
			elements++
		}
	}
	if elements < 10 {
		t.Errorf("the drawing has %d elements", elements)
	}
	var data struct{ Format int }
	if err := json.Unmarshal([]byte(body(t, get(t, "GET", "/plan.json", "127.0.0.1"))), &data); err != nil || data.Format != plan.Format {
		t.Errorf("plan.json: format %d, %v", data.Format, err)
	}
}

func TestTheSheetsAreAPDFInTheLanguageAskedFor(t *testing.T) {
	h := demoHandler(t)
	get := func(path string) *httptest.ResponseRecorder {
		r := httptest.NewRequest("GET", path, nil)
		r.Host = "127.0.0.1:8471"
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w
	}
	english, spanish, again := get("/sheets.pdf"), get("/sheets.pdf?lang=es&paper=a4"), get("/sheets.pdf")
	for _, w := range []*httptest.ResponseRecorder{english, spanish} {
		if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "application/pdf" || !strings.HasPrefix(w.Body.String(), "%PDF-1.7") {
			t.Errorf("status %d, type %q, want a PDF", w.Code, w.Header().Get("Content-Type"))
		}
	}
	if english.Body.String() == spanish.Body.String() || english.Body.String() != again.Body.String() {
		t.Error("the language or paper asked for makes no difference, or the same request makes one")
	}
	// A4 is 595.28 × 841.89 points, Letter 612 × 792.
	if !strings.Contains(spanish.Body.String(), "/MediaBox [0 0 595.28 841.89]") || !strings.Contains(english.Body.String(), "/MediaBox [0 0 612 792]") {
		t.Error("the pages are not of the paper asked for")
	}
}
