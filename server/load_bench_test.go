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
	"testing"
	"time"

	"log/slog"

	"spadework/store"
)

// BenchmarkPhones has phones post one record a request at once, side by side with
// the same requests to a handler that reads them and answers nothing.
func BenchmarkPhones(b *testing.B) {
	for _, count := range []int{1, 10, 100} {
		b.Run(fmt.Sprint(count), func(b *testing.B) { benchPhones(b, count) })
	}
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
	real := httptest.NewServer(v)
	defer real.Close()
	empty := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if _, err := io.Copy(io.Discard, r.Body); err != nil {
			return
		}
		w.WriteHeader(http.StatusNoContent)
	}))
	defer empty.Close()
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: count, MaxConnsPerHost: count}}
	phones := make([]*sender, count)
	for i := range phones {
		phones[i] = &sender{name: fmt.Sprintf("phone-%02d", i)}
	}
	posts := max(b.N, 20)
	bodies := requests(b, phones, posts)
	b.ResetTimer()
	took := volley(b, client, real.URL, bodies)
	b.StopTimer()
	bare := volley(b, client, empty.URL, bodies)
	b.ReportMetric(float64(share(took, 0.5).Microseconds()), "median-µs")
	b.ReportMetric(float64(share(took, 0.99).Microseconds()), "p99-µs")
	b.ReportMetric(float64(share(bare, 0.5).Microseconds()), "empty-median-µs")
	b.ReportMetric(total(bare)/total(took), "empty/real")
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
	slices.Sort(all)
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
