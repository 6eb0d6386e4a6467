package server

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"io"
	"net/http"
	"net/http/httptest"
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
	r := httptest.NewRequest(method, target, nil)
	r.Host = host
	w := httptest.NewRecorder()
	demoHandler(t).ServeHTTP(w, r)
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
		{"POST", "/", "127.0.0.1:8471", 405},
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

func TestThePageHasTheNumbersInBothLanguages(t *testing.T) {
	for lang, words := range map[string][]string{"en": {"NUMBERS", "STOP"}, "es": {"NÚMEROS", "PARE"}} {
		r := get(t, "GET", "/?lang="+lang, "127.0.0.1")
		text := body(t, r)
		if csp := r.Header.Get("Content-Security-Policy"); !strings.HasPrefix(csp, "default-src 'none'") {
			t.Errorf("Content-Security-Policy = %q", csp)
		}
		for _, want := range append(words, fmt.Sprintf("lang=%q", lang), html.EscapeString("<F1>"), "Wall &amp; gate", "6&#39;-6"+"\u00a0"+"3/4&#34;") {
			if !strings.Contains(text, want) {
				t.Errorf("page in %s lacks %q", lang, want)
			}
		}
		if strings.Contains(text, "<F1>") || strings.Contains(text, "http://") && !strings.Contains(text, "http://www.w3.org/2000/svg") {
			t.Errorf("page in %s holds a name unescaped or another host", lang)
		}
	}
}

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
