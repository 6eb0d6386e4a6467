package web

import (
	"compress/gzip"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func get(t *testing.T, path, encoding string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, path, nil)
	r.Header.Set("Accept-Encoding", encoding)
	w := httptest.NewRecorder()
	Handler().ServeHTTP(w, r)
	return w
}

func TestHandlerServesThePage(t *testing.T) {
	cases := []struct {
		path, media string
		status      int
	}{
		{"/", "text/html", 200}, {"/dig/P1", "text/html", 200}, {"/app.js", "text/javascript", 200}, {"/app.css", "text/css", 200},
		{"/app.webmanifest", "application/manifest+json", 200}, {"/icon-192.png", "image/png", 200}, {"/offline.js", "text/javascript", 200},
		{"/nothing.js", "", 404}, {"/../embed.go", "", 404}, {"/engine.wasm.br", "", 404},
	}
	for _, c := range cases {
		w := get(t, c.path, "")
		if w.Code != c.status || c.media != "" && !strings.HasPrefix(w.Header().Get("Content-Type"), c.media) {
			t.Errorf("GET %s = %d %s, want %d %s", c.path, w.Code, w.Header().Get("Content-Type"), c.status, c.media)
		}
		if w.Header().Get("Content-Security-Policy") != policy {
			t.Errorf("GET %s lacks the policy", c.path)
		}
	}
}

// Packed or not, the bytes are the same, and what the browser has is not sent
// again.
func TestHandlerPacks(t *testing.T) {
	plain, packed := get(t, "/app.js", ""), get(t, "/app.js", "gzip, br")
	if packed.Header().Get("Content-Encoding") != "gzip" || packed.Body.Len() >= plain.Body.Len() {
		t.Fatalf("app.js comes as %q with %d bytes of %d", packed.Header().Get("Content-Encoding"), packed.Body.Len(), plain.Body.Len())
	}
	z, err := gzip.NewReader(packed.Body)
	if err != nil {
		t.Fatal(err)
	}
	if data, err := io.ReadAll(z); err != nil || string(data) != plain.Body.String() {
		t.Errorf("app.js unpacks to %d bytes (%v), want %d", len(data), err, plain.Body.Len())
	}
	r := httptest.NewRequest(http.MethodGet, "/app.js", nil)
	r.Header.Set("If-None-Match", plain.Header().Get("ETag"))
	w := httptest.NewRecorder()
	if Handler().ServeHTTP(w, r); w.Code != http.StatusNotModified || w.Body.Len() > 0 {
		t.Errorf("app.js again = %d with %d bytes, want 304", w.Code, w.Body.Len())
	}
}

// The offline list names what the page asks for, and its version is of the bytes.
func TestOfflineListIsWhole(t *testing.T) {
	version, list := offlineList()
	named := map[string]bool{}
	for _, l := range list {
		named[l.Path] = true
	}
	for _, path := range []string{"/index.html", "/app.js", "/app.css", "/worker.js", "/sheetworker.js", "/app.webmanifest", "/icon.svg"} {
		if !named[path] {
			t.Errorf("the offline list lacks %s", path)
		}
	}
	if named["/sheets.wasm"] {
		t.Error("the page would wait for the sheets' module before it works offline")
	}
	if HasEngine() != named["/engine.wasm"] || HasEngine() != named["/wasm_exec.js"] {
		t.Error("the offline list and the engine do not fit")
	}
	if len(version) != 16 || !strings.Contains(get(t, "/offline.js", "").Body.String(), version) {
		t.Errorf("the service worker lacks its version %q", version)
	}
}

// Both languages have the same texts, with the same places to fill in.
func TestTextsOfThePage(t *testing.T) {
	en, es := texts(t, "en"), texts(t, "es")
	for key, text := range en {
		if es[key] == "" || fields(es[key]) != fields(text) {
			t.Errorf("%s = %q in Spanish, want the places of %q", key, es[key], text)
		}
	}
	if len(es) != len(en) {
		t.Errorf("%d texts in Spanish, %d in English", len(es), len(en))
	}
}

func texts(t *testing.T, lang string) map[string]string {
	t.Helper()
	data, err := os.ReadFile("src/text/" + lang + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var out map[string]string
	if err := json.Unmarshal(data, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// fields are the places of a text, sorted.
func fields(text string) string {
	all := regexp.MustCompile(`\{\w+\}`).FindAllString(text, -1)
	slices.Sort(all)
	return strings.Join(all, "")
}
