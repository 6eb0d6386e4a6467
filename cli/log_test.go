package cli

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"

	"spadework/engine/record"
)

// copyExample copies the tables of an example, without its log.
func copyExample(t *testing.T, name string) string {
	t.Helper()
	folder := t.TempDir()
	from := filepath.Join("..", "examples", name)
	files, err := os.ReadDir(from)
	if err != nil || len(files) == 0 {
		t.Fatalf("%s: %d files, %v", from, len(files), err)
	}
	for _, f := range files {
		if filepath.Ext(f.Name()) == ".jsonl" {
			continue
		}
		data, err := os.ReadFile(filepath.Join(from, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, f.Name()), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// TestManyAddToOneLog: additions at the same time wait for each other, so that
// every device's chain is whole and nothing is lost.
func TestManyAddToOneLog(t *testing.T) {
	folder := copyExample(t, "fennel-yard")
	const devices, each = 4, 6
	var wg sync.WaitGroup
	for d := range devices {
		wg.Go(func() {
			for i := range each {
				var out bytes.Buffer
				args := []string{"log", folder, "add", "note", "words=" + strconv.Itoa(i), "--person", "Noa", "--device", "phone-" + strconv.Itoa(d%2)}
				if status := Run(context.Background(), args, Streams{Out: &out, Err: &out}); status != 0 {
					t.Errorf("status %d: %s", status, out.String())
				}
			}
		})
	}
	wg.Wait()
	log, err := readLog(filepath.Join(folder, "job.log.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	if len(log.records) != devices*each {
		t.Errorf("%d records, want %d", len(log.records), devices*each)
	}
	for _, c := range record.Verify(log.records) {
		if len(c.Breaks) > 0 {
			t.Errorf("%s: %v", c.Device, c.Breaks)
		}
	}
}

// TestAnyCutOfALogIsToldAndNotLost: cut anywhere, the whole lines before the
// cut are read, and the next addition keeps the rest beside the log.
func TestAnyCutOfALogIsToldAndNotLost(t *testing.T) {
	whole, err := os.ReadFile(filepath.Join("..", "examples", "alder-quay", "job.log.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	for cut := 1; cut < len(whole); cut += 97 {
		path := filepath.Join(t.TempDir(), "job.log.jsonl")
		if err := os.WriteFile(path, whole[:cut], 0o644); err != nil {
			t.Fatal(err)
		}
		lines := bytes.Count(whole[:cut], []byte("\n"))
		log, f, err := openLog(path)
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		f.Close()
		if n := len(log.records); n != lines && n != lines+1 {
			t.Errorf("cut at %d: %d records, want %d", cut, n, lines)
		}
		left, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		away, _ := os.ReadFile(tornPath(path))
		if got := append(bytes.Clone(left), bytes.TrimSuffix(away, []byte("\n"))...); !bytes.Equal(bytes.TrimSuffix(got, []byte("\n")), bytes.TrimSuffix(whole[:cut], []byte("\n"))) {
			t.Errorf("cut at %d: %d bytes kept of %d", cut, len(got), cut)
		}
	}
}
