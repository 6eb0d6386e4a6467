package store

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"syscall"
	"testing"
	"time"
)

// BenchmarkAppendBesideTheDisk appends one record a commit, each in turn with a
// 4 KiB overwrite and fdatasync of a file in the same folder, and tells both
// medians and their ratio. STORE_BENCH_DIR names a folder on the disk to
// measure.
func BenchmarkAppendBesideTheDisk(b *testing.B) {
	dir := benchFolder(b)
	s := openYard(b, filepath.Join(dir, "store.db"))
	file, err := os.Create(filepath.Join(dir, "raw"))
	if err != nil {
		b.Fatal(err)
	}
	defer file.Close()
	page := make([]byte, 4096)
	if _, err := file.Write(page); err != nil {
		b.Fatal(err)
	}
	p := phone{job: "yard", name: "a", person: "ana"}
	var raw, ours []time.Duration
	for b.Loop() {
		list := entries(p.note(b, "one record a commit"))
		start := time.Now()
		if _, err := file.WriteAt(page, 0); err != nil {
			b.Fatal(err)
		}
		if err := syscall.Fdatasync(int(file.Fd())); err != nil {
			b.Fatal(err)
		}
		middle := time.Now()
		mustAppend(b, s, "yard", list)
		raw, ours = append(raw, middle.Sub(start)), append(ours, time.Since(middle))
	}
	r, o := median(raw), median(ours)
	b.ReportMetric(float64(r.Microseconds()), "raw-µs")
	b.ReportMetric(float64(o.Microseconds()), "append-µs")
	b.ReportMetric(float64(r)/float64(o), "raw/append")
}

func benchFolder(b *testing.B) string {
	base := os.Getenv("STORE_BENCH_DIR")
	if base == "" {
		return b.TempDir()
	}
	dir, err := os.MkdirTemp(base, "store-bench")
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = os.RemoveAll(dir) })
	return dir
}

func median(list []time.Duration) time.Duration {
	slices.Sort(list)
	return list[len(list)/2]
}

// BenchmarkAppendByManyPhones lets phones post one record each at once: their
// batches share commits.
func BenchmarkAppendByManyPhones(b *testing.B) {
	for _, phones := range []int{1, 10, 100} {
		b.Run(fmt.Sprint(phones), func(b *testing.B) {
			s := openYard(b, filepath.Join(benchFolder(b), "store.db"))
			var crew []*phone
			for i := range phones {
				crew = append(crew, &phone{job: "yard", name: fmt.Sprint(i), person: "ana"})
			}
			var mu sync.Mutex
			var took []time.Duration
			n := 0
			for b.Loop() {
				var wg sync.WaitGroup
				for _, p := range crew {
					wg.Go(func() {
						list := entries(p.note(b, "at once"))
						start := time.Now()
						mustAppend(b, s, "yard", list)
						mu.Lock()
						took = append(took, time.Since(start))
						mu.Unlock()
					})
				}
				wg.Wait()
				n += phones
			}
			b.ReportMetric(float64(n)/b.Elapsed().Seconds(), "records/s")
			m := median(took)
			b.ReportMetric(float64(m.Microseconds()), "median-µs")
			b.ReportMetric(float64(took[len(took)*99/100].Microseconds()), "p99-µs")
		})
	}
}
