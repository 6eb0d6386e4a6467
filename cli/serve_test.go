package cli

import (
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// stopped ends a running command and gives its status.
func stopped(t *testing.T, stop context.CancelFunc, status <-chan int) int {
	t.Helper()
	stop()
	select {
	case got := <-status:
		return got
	case <-time.After(20 * time.Second):
		t.Fatal("the command does not stop")
		return -1
	}
}

func TestServeStartsEmptyAndKeepsWhatIsSaved(t *testing.T) {
	db := filepath.Join(t.TempDir(), "jobs.db")
	for round, want := range []string{`{"jobs":[]}`, `{"jobs":[{"id":"yard","name":"yard","revision":1,"cursor":0}]}`} {
		ctx, stop := context.WithCancel(context.Background())
		var out, faults words
		status := make(chan int, 1)
		go func() {
			status <- Run(ctx, []string{"serve", "--db", db, "--addr", "127.0.0.1:0"}, Streams{Out: &out, Err: &faults})
		}()
		url := urlIn(t, &out)
		answer, err := http.Get(url + "api/jobs")
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(answer.Body)
		if err != nil || answer.Body.Close() != nil || strings.TrimSpace(string(got)) != want {
			t.Errorf("round %d: GET /api/jobs = %s (%v), want %s", round, got, err, want)
		}
		if round == 0 {
			body := `{"id":"yard","bundle":{"format":1,"main":"job.toml","files":{"job.toml":"[job]\n"}}}`
			saved, err := http.Post(url+"api/jobs", "application/json", strings.NewReader(body))
			if err != nil || saved.StatusCode != http.StatusCreated || saved.Body.Close() != nil {
				t.Fatalf("POST /api/jobs = %v, %v, want 201", saved, err)
			}
		}
		if got := stopped(t, stop, status); got != statusOK || faults.String() != "" {
			t.Errorf("stopped with status %d and %q, want 0 and nothing", got, faults.String())
		}
	}
}

func TestServeRefusesOtherMachines(t *testing.T) {
	var out, faults words
	status := Run(context.Background(), []string{"serve", "--db", filepath.Join(t.TempDir(), "x.db"), "--addr", "0.0.0.0:1"}, Streams{Out: &out, Err: &faults})
	if status != statusBad || !strings.Contains(faults.String(), `"0.0.0.0:1" is not an address of this machine`) {
		t.Errorf("status %d and %q, want 2 and a refusal", status, faults.String())
	}
}

// The demo leaves nothing behind.
func TestDemoServesTheDaysRecordsAndCleansUp(t *testing.T) {
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp)
	ctx, stop := context.WithCancel(context.Background())
	var out, faults words
	status := make(chan int, 1)
	go func() {
		status <- Run(ctx, []string{"demo", "--addr", "127.0.0.1:0"}, Streams{Out: &out, Err: &faults})
	}()
	answer, err := http.Get(urlIn(t, &out) + "api/jobs/alder-quay/records?limit=1")
	if err != nil {
		t.Fatal(err)
	}
	got, err := io.ReadAll(answer.Body)
	if err != nil || answer.Body.Close() != nil || !strings.Contains(string(got), `"more":true`) {
		t.Errorf("GET records = %s (%v), want more than one", got, err)
	}
	if got := stopped(t, stop, status); got != statusOK || faults.String() != "" {
		t.Errorf("stopped with status %d and %q, want 0 and nothing", got, faults.String())
	}
	if left, err := os.ReadDir(temp); err != nil || len(left) > 0 {
		t.Errorf("the demo leaves %v (%v), want nothing", left, err)
	}
}
