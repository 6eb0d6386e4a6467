package store

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/store/cluster"
)

// runChild is what a child process of a test does; it gives the exit status.
func runChild(what string) int {
	address, run := os.Getenv("STORE_TEST_ADDRESS"), os.Getenv("STORE_TEST_RUN")
	switch what {
	case "load":
		return load(address, run)
	case "append":
		return appendSome(address, run)
	case "limited":
		return appendLimited(address, run)
	case "open":
		return tellFault(address)
	}
	return 3
}

// child is a process of this test's own program.
func child(t testing.TB, what, address, run string) *exec.Cmd {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), "STORE_TEST_CHILD="+what, "STORE_TEST_ADDRESS="+address, "STORE_TEST_RUN="+run)
	c.Stderr = os.Stderr
	return c
}

// load writes to a store from several phones till it is killed, and tells each
// record and revision after it was acknowledged.
func load(address, run string) int {
	ctx := context.Background()
	s, err := Open(ctx, address, Options{Existing: !isPostgres(address)})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	var mu sync.Mutex
	out := bufio.NewWriter(os.Stdout)
	tell := func(format string, args ...any) {
		mu.Lock()
		defer mu.Unlock()
		fmt.Fprintf(out, format, args...)
		out.Flush()
	}
	for i := range 4 {
		go func() {
			p := phone{job: "yard", name: fmt.Sprintf("%s-%d", run, i), person: "ana"}
			for n := 0; ; n++ {
				var list []record.Record
				for range 1 + n%3 {
					r, _ := p.write(&record.Note{Words: "under load"})
					list = append(list, r)
				}
				if _, err := s.Append(ctx, "yard", entries(list...)); err != nil {
					fmt.Fprintln(os.Stderr, err)
					os.Exit(1)
				}
				for _, r := range list {
					tell("record %s\n", r.ID)
				}
			}
		}()
	}
	for {
		now, err := s.Revision(ctx, "yard", 0)
		if err == nil {
			now, err = s.SaveJob(ctx, Edit{Job: "yard", Base: now.Number, Document: run + now.Document[:min(len(now.Document), 50)], Person: "ana"})
		}
		var race *Race
		if errors.As(err, &race) {
			continue // PostgreSQL ended what a killed client had sent
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		tell("revision %d\n", now.Number)
	}
}

// tellFault opens and writes to a store that this user may not write, and
// prints the fault's key.
func tellFault(address string) int {
	ctx := context.Background()
	s, err := Open(ctx, address, Options{})
	if err == nil {
		_, err = s.SaveJob(ctx, Edit{Job: "new", Document: "d", Person: "ana"})
	}
	var f *phrase.Fault
	if !errors.As(err, &f) {
		fmt.Println("no fault:", err)
		return 1
	}
	fmt.Println(f.What.Key)
	return 0
}

// TestReadOnlyFolderIsOneClearFault opens a store as a user who may not write:
// root may write everything.
func TestReadOnlyFolderIsOneClearFault(t *testing.T) {
	dir, err := os.MkdirTemp("", "spadework-readonly")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.Chmod(dir, 0o700); _ = os.RemoveAll(dir) })
	program := filepath.Join(dir, "test")
	data, err := os.ReadFile(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "store.db")
	s := openYard(t, path)
	p := phone{job: "yard", name: "a", person: "ana"}
	mustAppend(t, s, "yard", entries(p.note(t, "kept")))
	if err := errors.Join(s.Close(), os.WriteFile(program, data, 0o755), os.Chmod(path, 0o444), os.Chmod(dir, 0o555)); err != nil {
		t.Fatal(err)
	}
	for address, want := range map[string]string{path: "store.read_only store.no_file", filepath.Join(dir, "new.db"): "store.no_file store.read_only"} {
		c := child(t, "open", address, "")
		c.Path, c.Args = program, []string{program}
		if os.Getuid() == 0 {
			c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: cluster.Nobody, Gid: cluster.Nobody}}
		}
		out, err := c.Output()
		if got := strings.TrimSpace(string(out)); err != nil || got == "" || !strings.Contains(want, got) {
			t.Errorf("%s: %q, %v, want one of %s", filepath.Base(address), got, err, want)
		}
	}
	if err := errors.Join(os.Chmod(dir, 0o755), os.Chmod(path, 0o644)); err != nil {
		t.Fatal(err)
	}
	again := open(t, path, Options{})
	if r, err := again.Verify(context.Background()); err != nil || !r.Sound() || r.Records != 1 {
		t.Errorf("Verify afterwards = %+v, %v, want the one record", r, err)
	}
}

// TestFullDiskLosesNothing fills a store to its bound.
func TestFullDiskLosesNothing(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "store.db")
	s := open(t, path, Options{MaxPages: 120})
	if _, err := s.SaveJob(ctx, Edit{Job: "yard", Document: "d", Person: "ana"}); err != nil {
		t.Fatal(err)
	}
	p := phone{job: "yard", name: "a", person: "ana"}
	var kept []record.Record
	var failed []record.Record
	for len(failed) < 5 {
		r := p.note(t, strings.Repeat("wet clay ", 100))
		_, err := s.Append(ctx, "yard", entries(r))
		if err == nil {
			kept = append(kept, r)
			continue
		}
		wantKey(t, "Append to a full store", err, "store.disk_full")
		failed = append(failed, r)
	}
	if len(kept) < 20 {
		t.Fatalf("%d records fit, want the bound to be met under way", len(kept))
	}
	if log, err := s.Records(ctx, "yard", 0, MaxBatch); err != nil || len(log) != len(kept) {
		t.Errorf("full: %d records, %v, want the %d acknowledged", len(log), err, len(kept))
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	roomy := open(t, path, Options{})
	for _, a := range mustAppend(t, roomy, "yard", entries(kept...)).Answers {
		if a.Outcome != Known {
			t.Errorf("an acknowledged record is %s after the disk was full", a.Outcome)
		}
	}
	for _, a := range mustAppend(t, roomy, "yard", entries(failed...)).Answers {
		if a.Outcome != Stored {
			t.Errorf("a record that did not fit is %s when sent again", a.Outcome)
		}
	}
	if r, err := roomy.Verify(ctx); err != nil || !r.Sound() || len(r.Breaks) != 0 {
		t.Errorf("Verify = %+v, %v, want it sound", r, err)
	}
}

func wantKey(t testing.TB, what string, err error, key phrase.Key) {
	t.Helper()
	var f *phrase.Fault
	if !errors.As(err, &f) || f.What.Key != key {
		t.Errorf("%s: %v, want %s", what, err, key)
	}
}
