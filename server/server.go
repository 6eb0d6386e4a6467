package server

import (
	"io/fs"
	"log/slog"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"spadework/store"
)

// Options are what a server needs beside its store.
type Options struct {
	Log  *slog.Logger // slog.Default
	App  http.Handler // what is not under /api, "not here" without
	Demo fs.FS        // nil, or the folder of the example that an empty server offers
	Now  func() time.Time
}

// Server answers over HTTP for one store. On one PostgreSQL any number of them
// may run.
type Server struct {
	store   *store.Store
	log     *slog.Logger
	now     func() time.Time
	wake    *wake
	plans   *planner
	counts  *counts
	handler http.Handler
}

// New is a server of a store. It answers for the loopback address: only
// requests that name this machine are served. Close it before its store.
func New(s *store.Store, o Options) *Server {
	if o.Log == nil {
		o.Log = slog.Default()
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	v := &Server{store: s, log: o.Log, now: o.Now, wake: newWake(s), plans: newPlanner(), counts: newCounts()}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /healthz", v.health)
	mux.HandleFunc("GET /metrics", v.metrics)
	mux.HandleFunc("/api/", v.unknownRoute)
	if o.App != nil {
		mux.Handle("/", o.App)
	}
	v.register(humago.New(mux, v.apiConfig()))
	v.handler = v.logged(v.here(mux))
	return v
}

// ServeHTTP answers a request.
func (v *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { v.handler.ServeHTTP(w, r) }

// Close ends the streams of changes, so that a graceful stop need not wait for
// them.
func (v *Server) Close() { v.wake.close() }

// apiConfig describes the API; there are no pages of documentation that would
// ask a foreign host for their script.
func (v *Server) apiConfig() huma.Config {
	c := huma.DefaultConfig("Spadework", "1")
	c.OpenAPIPath = "/api/openapi"
	c.DocsPath, c.SchemasPath = "", ""
	c.CreateHooks = nil
	c.Transformers = nil
	return c
}

// register adds every operation.
func (v *Server) register(api huma.API) {
	v.registerJobs(api)
	v.registerRecords(api)
	v.registerPhotos(api)
	v.registerPlan(api)
	v.registerPaper(api)
	v.registerEvents(api)
}
