package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"slices"
	"strings"
	"sync"
)

// policy lets the page load from its own host only and compile the engine.
const policy = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; img-src 'self' blob:; style-src 'self'; " +
	"connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// engineName and sheetsName are the modules that "go generate ./web" makes.
const (
	engineName = "engine.wasm"
	sheetsName = "sheets.wasm"
)

// page is one file with what tells it apart.
type page struct {
	data, packed []byte
	packing      string // br or gzip, "" not packed
	media, tag   string
}

// files reads what is served, once.
var files = sync.OnceValue(func() map[string]page {
	out := map[string]page{}
	entries, err := dist.ReadDir("dist")
	if err != nil {
		panic("web: the folder that is built in cannot be read: " + err.Error())
	}
	for _, e := range entries {
		data, err := fs.ReadFile(dist, "dist/"+e.Name())
		if err != nil {
			panic("web: a file that is built in cannot be read: " + err.Error())
		}
		sum := sha256.Sum256(data)
		out[e.Name()] = page{data: data, media: mediaOf(e.Name()), tag: hex.EncodeToString(sum[:8])}
	}
	for name, p := range out {
		if packed, ok := out[name+".br"]; ok {
			p.packed, p.packing = packed.data, "br"
		} else if path.Ext(name) != ".png" && path.Ext(name) != ".br" && path.Ext(name) != ".wasm" {
			p.packed, p.packing = zipped(p.data), "gzip"
		}
		out[name] = p
	}
	return out
})

// zipped is data as gzip (RFC 1952).
func zipped(data []byte) []byte {
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	_, err := w.Write(data)
	if err = errors.Join(err, w.Close()); err != nil {
		panic("web: packing into memory does not fail: " + err.Error())
	}
	return out.Bytes()
}

func mediaOf(name string) string {
	switch path.Ext(name) {
	case ".wasm":
		return "application/wasm"
	case ".webmanifest":
		return "application/manifest+json"
	case ".js":
		return "text/javascript; charset=utf-8"
	}
	return mime.TypeByExtension(path.Ext(name))
}

// HasEngine says that the engine's module was made.
func HasEngine() bool {
	_, ok := files()[engineName]
	return ok
}

// listed is a file of the page's offline list.
type listed struct {
	Path string `json:"path"`
	Tag  string `json:"tag"`
}

// later are files that only a foreman's page asks for, and the sheets: they are
// kept once they were asked for, so that a phone in the cab need not carry them.
var later = []string{"foreman.wasm", "pdf.js", "pdf.worker.js", sheetsName}

// offlineList is every file that the page needs without a network, and a version
// that changes with any of them. What is fetched later is not among them
// (laterList).
func offlineList() (version string, list []listed) {
	sum := sha256.New()
	for name, p := range files() {
		if !strings.HasSuffix(name, ".br") && name != "offline.js" && !slices.Contains(later, name) && !strings.HasPrefix(name, ".") {
			list = append(list, listed{"/" + name, p.tag})
		}
	}
	slices.SortFunc(list, func(a, b listed) int { return strings.Compare(a.Path, b.Path) })
	for _, l := range list {
		sum.Write([]byte(l.Path + l.Tag)) // never fails (hash.Hash)
	}
	return hex.EncodeToString(sum.Sum(nil)[:8]), list
}

// laterList is what the page keeps once it was fetched.
func laterList() []listed {
	out := []listed{}
	for _, name := range later {
		if p, ok := files()[name]; ok {
			out = append(out, listed{"/" + name, p.tag})
		}
	}
	return out
}

// Handler serves the page. A path without a file is the page itself, which reads
// it.
func Handler() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			http.Error(w, http.StatusText(http.StatusMethodNotAllowed), http.StatusMethodNotAllowed)
			return
		}
		w.Header().Set("Content-Security-Policy", policy)
		w.Header().Set("Permissions-Policy", "geolocation=(self), camera=(self), microphone=()")
		w.Header().Set("Cache-Control", "no-cache")
		name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
		switch {
		case name == "offline.js":
			serveOffline(w)
			return
		case name == "" || path.Ext(name) == "":
			name = "index.html"
		}
		p, ok := files()[name]
		if !ok || strings.HasSuffix(name, ".br") {
			http.NotFound(w, r)
			return
		}
		serveFile(w, r, p)
	})
}

// serveOffline is the service worker with the list it keeps.
func serveOffline(w http.ResponseWriter) {
	version, list := offlineList()
	text, err := json.Marshal(list)
	later, err2 := json.Marshal(laterList())
	if err = errors.Join(err, err2); err != nil {
		panic("web: a list of names does not fail to encode: " + err.Error())
	}
	w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	body := "self.VERSION=\"" + version + "\";self.FILES=" + string(text) + ";self.LATER=" + string(later) + ";\n" + string(files()["offline.js"].data)
	if _, err := w.Write([]byte(body)); err != nil {
		return // the browser went away
	}
}

func serveFile(w http.ResponseWriter, r *http.Request, p page) {
	h := w.Header()
	h.Set("Content-Type", p.media)
	h.Set("ETag", `"`+p.tag+`"`)
	h.Set("Vary", "Accept-Encoding")
	if r.Header.Get("If-None-Match") == `"`+p.tag+`"` {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	body := p.data
	if p.packed != nil && strings.Contains(r.Header.Get("Accept-Encoding"), p.packing) {
		h.Set("Content-Encoding", p.packing)
		body = p.packed
	}
	if r.Method == http.MethodHead {
		return
	}
	if _, err := w.Write(body); err != nil {
		return // the browser went away
	}
}
