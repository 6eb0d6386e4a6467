package server

import (
	"context"
	"encoding/json"
	"net"
	"net/http"
	"net/url"
	"runtime/debug"
	"strings"
	"time"

	"spadework/engine/phrase"
)

// here lets in only requests that name this server and, where they change
// something, come from a page of it; so no page of another host can act or read
// through the browser. A compressed body is refused: it could
// unpack to any size.
func (v *Server) here(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		if strings.HasPrefix(r.URL.Path, "/api/") {
			h.Set("Cache-Control", "no-store")
			h.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
		}
		r = r.WithContext(context.WithValue(r.Context(), languageKey{}, askedLanguage(r.Header.Get("Accept-Language"))))
		if v.hsts {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		switch f := v.elsewhere(r); {
		case f != nil:
			writeFault(w, r, f)
		case r.Header.Get("Content-Encoding") != "" && !strings.EqualFold(r.Header.Get("Content-Encoding"), "identity"):
			writeFault(w, r, fault(Unsupported, "server.encoding", phrase.With("value", r.Header.Get("Content-Encoding"))))
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// elsewhere is why a request is not for this server, or comes from a page of
// another.
func (v *Server) elsewhere(r *http.Request) *phrase.Fault {
	forwarded := r.Header.Get("Forwarded") != "" || r.Header.Get("X-Forwarded-For") != "" || r.Header.Get("X-Forwarded-Host") != ""
	if v.open() && (!loopback(r.Host) || forwarded) {
		return fault(Forbidden, "server.foreign_host", phrase.With("host", r.Host))
	}
	if _, ours := v.host(r.Host); !v.open() && !ours {
		return fault(Forbidden, "server.foreign_host", phrase.With("host", r.Host))
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return v.unspoken(r)
	}
	if u, err := url.Parse(origin); err != nil || !strings.EqualFold(u.Host, r.Host) || !v.open() && u.Scheme != "https" {
		return fault(Forbidden, "server.foreign_origin", phrase.With("origin", origin))
	}
	return nil
}

// unspoken judges a request without Origin by Sec-Fetch-Site. With people, what
// changes something must say where it comes from, which every browser does; a
// link to the page, which holds no job, may come from anywhere.
func (v *Server) unspoken(r *http.Request) *phrase.Fault {
	site := r.Header.Get("Sec-Fetch-Site")
	reads := r.Method == http.MethodGet || r.Method == http.MethodHead
	foreign := site == "cross-site" || site == "same-site"
	if !v.open() {
		link := reads && !strings.HasPrefix(r.URL.Path, "/api/")
		foreign = foreign && !link || !reads && site != "same-origin"
	}
	if foreign {
		return fault(Forbidden, "server.foreign_origin", phrase.With("origin", site))
	}
	return nil
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

// writeFault answers with a fault outside the API's own operations.
func writeFault(w http.ResponseWriter, r *http.Request, f *phrase.Fault) {
	writeProblem(w, told(f, languageOf(r.Context())))
}

func writeProblem(w http.ResponseWriter, p *problem) {
	body, err := json.Marshal(p)
	if err != nil {
		panic("server: a body of strings does not fail to encode: " + err.Error())
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(p.status)
	writeAll(w, body)
}

// unknownRoute answers what no operation does.
func (v *Server) unknownRoute(w http.ResponseWriter, r *http.Request) {
	writeFault(w, r, fault(phrase.NotFound, "server.route", phrase.With("method", r.Method), phrase.With("path", r.URL.Path)))
}

// logged logs and counts every request, and answers for a panic. Neither query
// nor body nor headers are logged.
func (v *Server) logged(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		start := v.now()
		seen := &seenWriter{ResponseWriter: w}
		defer func() {
			if p := recover(); p != nil && p != http.ErrAbortHandler {
				v.log.Error("panic", "value", p, "stack", string(debug.Stack()))
				if seen.status == 0 {
					writeFault(seen, r, fault(Internal, "server.internal"))
				}
			}
			took := v.now().Sub(start)
			v.counts.answered(seen.status)
			v.log.Info("request", "method", r.Method, "path", r.URL.Path, "status", seen.status, "bytes", seen.bytes, "took", took.Round(time.Microsecond))
		}()
		next.ServeHTTP(seen, r)
	})
}

// seenWriter remembers what was answered.
type seenWriter struct {
	http.ResponseWriter
	status int
	bytes  int64
}

// WriteHeader sends the status.
func (w *seenWriter) WriteHeader(status int) {
	if w.status == 0 {
		w.status = status
	}
	w.ResponseWriter.WriteHeader(status)
}

// Write sends bytes.
func (w *seenWriter) Write(p []byte) (int, error) {
	if w.status == 0 {
		w.status = http.StatusOK
	}
	n, err := w.ResponseWriter.Write(p)
	w.bytes += int64(n)
	return n, err
}

// Unwrap is for http.ResponseController.
func (w *seenWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }
