package server

import (
	"fmt"
	"net/http"
	"strings"
	"sync/atomic"
)

// counts are what /metrics tells, in the text form of OpenMetrics.
type counts struct {
	answers [6]atomic.Int64 // by the first digit of their status
	records atomic.Int64    // acknowledged
	streams atomic.Int64    // open streams of changes
	plans   atomic.Int64    // made
}

func newCounts() *counts { return &counts{} }

func (c *counts) answered(status int) {
	if first := status / 100; first > 0 && first < len(c.answers) {
		c.answers[first].Add(1)
	}
}

// health says whether the store answers.
func (v *Server) health(w http.ResponseWriter, r *http.Request) {
	if _, err := v.store.Jobs(r.Context()); err != nil {
		v.log.Error("store does not answer", "error", err)
		http.Error(w, "store does not answer", http.StatusServiceUnavailable)
		return
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	writeAll(w, []byte("ok\n"))
}

func (v *Server) metrics(w http.ResponseWriter, _ *http.Request) {
	var b strings.Builder
	b.WriteString("# TYPE spadework_answers counter\n")
	for i := 1; i < len(v.counts.answers); i++ {
		fmt.Fprintf(&b, "spadework_answers_total{status=\"%dxx\"} %d\n", i, v.counts.answers[i].Load())
	}
	fmt.Fprintf(&b, "# TYPE spadework_records counter\nspadework_records_total %d\n", v.counts.records.Load())
	fmt.Fprintf(&b, "# TYPE spadework_plans counter\nspadework_plans_total %d\n", v.counts.plans.Load())
	fmt.Fprintf(&b, "# TYPE spadework_streams gauge\nspadework_streams %d\n# EOF\n", v.counts.streams.Load())
	w.Header().Set("Content-Type", "application/openmetrics-text; version=1.0.0; charset=utf-8")
	writeAll(w, []byte(b.String()))
}
