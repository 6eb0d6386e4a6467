package server

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"log/slog"

	"spadework/store"
)

// BenchmarkPhones has phones post one record a request at once, in turn with the
// same requests to the same server with an empty handler, which reads them and
// answers nothing, and to that handler bare. Told are the times of a request, and
// what the machine's cores spent on one, phones included.
func BenchmarkPhones(b *testing.B) {
	for _, count := range []int{1, 10, 100} {
		b.Run(fmt.Sprint(count), func(b *testing.B) { benchPhones(b, count) })
	}
}

// target is a server under load and what was measured of it.
type target struct {
	name, url string
	took      []time.Duration
	cpu       time.Duration
}

func (t *target) serve(b *testing.B, h http.Handler) {
	s := httptest.NewServer(h)
	b.Cleanup(s.Close)
	t.url = s.URL
}

func benchPhones(b *testing.B, count int) {
	s, err := store.Open(b.Context(), filepath.Join(b.TempDir(), "yard.db"), store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	if _, err := s.SaveJob(b.Context(), store.Edit{Job: "yard", Document: "{}", Person: "ana"}); err != nil {
		b.Fatal(err)
	}
	v := New(s, Options{Log: slog.New(slog.DiscardHandler)})
	defer v.Close()
	empty := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if _, err := io.Copy(io.Discard, r.Body); err != nil {
			return
		}
		w.WriteHeader(http.StatusNoContent)
	})
	targets := []*target{{name: "record"}, {name: "empty"}, {name: "bare"}}
	for i, h := range []http.Handler{v, v.logged(v.here(empty)), empty} {
		targets[i].serve(b, h)
	}
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: count, MaxConnsPerHost: count}}
	phones := make([]*sender, count)
	for i := range phones {
		phones[i] = &sender{name: fmt.Sprintf("phone-%02d", i)}
	}
	for b.Loop() {
		bodies := requests(b, phones, rounds)
		for _, t := range targets {
			before := spent()
			t.took = append(t.took, volley(b, client, t.url, bodies)...)
			t.cpu += spent() - before
		}
	}
	for _, t := range targets {
		slices.Sort(t.took)
		b.ReportMetric(float64(share(t.took, 0.5).Microseconds()), t.name+"-median-µs")
		b.ReportMetric(float64(t.cpu.Nanoseconds())/1e3/float64(len(t.took)), t.name+"-cpu-µs")
	}
	record := targets[0]
	b.ReportMetric(float64(share(record.took, 0.99).Microseconds()), "record-p99-µs")
	b.ReportMetric(total(targets[1].took)/total(record.took), "empty/record")
	b.ReportMetric(total(targets[2].took)/total(record.took), "bare/record")
}

// rounds is how many requests a phone posts to one server before the next's turn.
const rounds = 100

// spent is what this process took of the cores till now.
func spent() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// requests are the bodies that every phone posts, in the order of its chain.
func requests(b *testing.B, phones []*sender, each int) [][]string {
	out := make([][]string, len(phones))
	for i, p := range phones {
		for range each {
			if err := p.write(); err != nil {
				b.Fatal(err)
			}
			r := p.waiting[len(p.waiting)-1]
			out[i] = append(out[i], `{"device":{"id":"`+p.name+`","name":"x"},"records":[`+string(r.Append(nil))+`]}`)
		}
	}
	return out
}

// volley has every phone post its bodies, one after the other, all phones at
// once.
func volley(b *testing.B, client *http.Client, url string, bodies [][]string) []time.Duration {
	var mu sync.Mutex
	var group sync.WaitGroup
	var all []time.Duration
	for _, list := range bodies {
		group.Add(1)
		go func() {
			defer group.Done()
			var took []time.Duration
			for _, body := range list {
				start := time.Now()
				answer, err := client.Post(url+"/api/jobs/yard/records", "application/json", strings.NewReader(body))
				if err != nil {
					b.Error(err)
					return
				}
				if _, err := io.Copy(io.Discard, answer.Body); err != nil || answer.StatusCode >= 300 || answer.Body.Close() != nil {
					b.Errorf("%d, %v", answer.StatusCode, err)
				}
				took = append(took, time.Since(start))
			}
			mu.Lock()
			defer mu.Unlock()
			all = append(all, took...)
		}()
	}
	group.Wait()
	return all
}

func share(sorted []time.Duration, part float64) time.Duration {
	return sorted[min(len(sorted)-1, int(part*float64(len(sorted))))]
}

func total(all []time.Duration) float64 {
	sum := 0.0
	for _, d := range all {
		sum += d.Seconds()
	}
	return sum
}
