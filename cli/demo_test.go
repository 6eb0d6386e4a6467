package cli

import (
	"bytes"
	"context"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"
)

// words collects what a command prints while it runs.
type words struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (w *words) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.buf.Write(p)
}

func (w *words) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.buf.String()
}

// urlIn waits for the address that the demo prints.
func urlIn(t *testing.T, out *words) string {
	t.Helper()
	for range 500 { // 5 s: planning the example takes well under one
		if _, after, ok := strings.Cut(out.String(), "http://"); ok && strings.Contains(after, "/ ") {
			address, _, _ := strings.Cut(after, "/ ")
			return "http://" + address + "/"
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("no address in %q", out.String())
	return ""
}

func TestDemoServesInTheLanguageAskedForAndStops(t *testing.T) {
	for lang, says := range map[string]struct{ line, page string }{
		"en": {"stop with Ctrl-C", `<html lang="en">`}, "es": {"se detiene con Ctrl-C", `<html lang="es">`},
	} {
		ctx, stop := context.WithCancel(context.Background())
		var out, faults words
		status := make(chan int, 1)
		go func() {
			status <- Run(ctx, []string{"--lang", lang, "--today", "2026-05-06", "demo", "--addr", "127.0.0.1:0"}, Streams{Out: &out, Err: &faults})
		}()
		url := urlIn(t, &out)
		response, err := http.Get(url + "paper/")
		if err != nil {
			t.Fatal(err)
		}
		page, err := io.ReadAll(response.Body)
		if err != nil || response.Body.Close() != nil {
			t.Fatal(err)
		}
		if !strings.Contains(out.String(), says.line) || !strings.Contains(string(page), says.page) || !strings.Contains(string(page), "2026-05-06") {
			t.Errorf("--lang %s prints %q and serves a page without %q or its date", lang, out.String(), says.page)
		}
		stop()
		select {
		case got := <-status:
			if got != statusOK || faults.String() != "" {
				t.Errorf("stopped with status %d and %q, want 0 and nothing", got, faults.String())
			}
		case <-time.After(10 * time.Second):
			t.Fatal("the demo does not stop")
		}
		if _, err := http.Get(url); err == nil {
			t.Error("the demo still answers after it stopped")
		}
	}
}

func TestDemoRefusesOtherMachinesAndBadAddresses(t *testing.T) {
	for _, addr := range []string{"0.0.0.0:8471", ":8471", "192.168.1.10:8471", "example.com:80", "[::]:8471", "8471", ""} {
		var out, faults bytes.Buffer
		status := Run(context.Background(), []string{"demo", "--addr=" + addr}, Streams{Out: &out, Err: &faults})
		want := "spadework: \"" + addr + "\" is not an address of this machine\nhint: write --addr 127.0.0.1:8471\n"
		if status != statusBad || faults.String() != want || out.Len() > 0 {
			t.Errorf("demo --addr=%s: status %d, prints %q and %q, want 2 and %q", addr, status, out.String(), faults.String(), want)
		}
	}
}

func TestDemoTellsThatAPortIsTaken(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	addr := listener.Addr().String()
	var out, faults bytes.Buffer
	status := Run(context.Background(), []string{"demo", "--addr", addr}, Streams{Out: &out, Err: &faults})
	want := "spadework: \"" + addr + "\" is taken: another program listens there\nhint: take another port: --addr 127.0.0.1:0 finds a free one\n"
	if status != statusBad || faults.String() != want || out.Len() > 0 {
		t.Errorf("status %d, prints %q and %q, want 2 and %q", status, out.String(), faults.String(), want)
	}
}
