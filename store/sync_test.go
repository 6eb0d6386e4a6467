package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// traced is how many records the traced process appends.
const traced = 30

// appendSome appends records one at a time and tells each after it was
// acknowledged.
func appendSome(address, run string) int {
	s, err := Open(context.Background(), address, Options{Existing: true})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	p := phone{job: "yard", name: run, person: "ana"}
	for range traced {
		if err := appendOne(s, &p, "traced"); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
	}
	return 0
}

// appendOne appends a note and tells its id.
func appendOne(s *Store, p *phone, words string) error {
	r, f := p.write(&record.Note{Words: words})
	if f != nil {
		return f
	}
	_, err := s.Append(context.Background(), "yard", entries(r))
	if err == nil {
		fmt.Printf("record %s\n", r.ID)
	}
	return err
}

// appendLimited appends under a bound on the size of files, in bytes less than
// the log is given room for, till it meets it, and tells the fault's key.
func appendLimited(address, run string) int {
	limit := syscall.Rlimit{Cur: 2 << 20, Max: 2 << 20}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	s, err := Open(context.Background(), address, Options{Existing: true})
	p := phone{job: "yard", name: run, person: "ana"}
	for range 100_000 {
		if err == nil {
			err = appendOne(s, &p, strings.Repeat("wet clay ", 100))
		}
	}
	var f *phrase.Fault
	if !errors.As(err, &f) {
		fmt.Fprintln(os.Stderr, "no fault:", err)
		return 1
	}
	fmt.Println(f.What.Key)
	return 0
}

// TestSyncComesBeforeTheAcknowledgement watches the system calls of a process
// that appends: before each record is told, its pages were written to SQLite's
// log and that was synced, after the last of them.
func TestSyncComesBeforeTheAcknowledgement(t *testing.T) {
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("the system calls are not watched: ", err)
	}
	path := filepath.Join(t.TempDir(), "store.db")
	if err := openYard(t, path).Close(); err != nil {
		t.Fatal(err)
	}
	log := filepath.Join(t.TempDir(), "calls")
	c := child(t, "append", path, "one")
	c.Path, c.Args = strace, []string{strace, "-f", "-y", "-o", log, "-e", "trace=pwrite64,fsync,fdatasync,write", os.Args[0]}
	if out, err := c.Output(); err != nil {
		if data, _ := os.ReadFile(log); !strings.Contains(string(data), "pwrite64(") {
			t.Skip("the system calls cannot be watched here: ", err)
		}
		t.Fatalf("%v: %s", err, out)
	}
	data, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	told := syncedBeforeTold(t, strings.Split(string(data), "\n"))
	if told != traced {
		t.Errorf("%d records were told, want %d", told, traced)
	}
}

// syncedBeforeTold walks the calls of a process that does one thing at a time,
// and gives how many records it told.
func syncedBeforeTold(t *testing.T, calls []string) (told int) {
	t.Helper()
	written, synced, syncing := 0, false, false
	for _, call := range calls {
		onLog := strings.Contains(call, "-wal>")
		begins := strings.Contains(call, "fsync(") || strings.Contains(call, "fdatasync(")
		switch {
		case strings.Contains(call, "pwrite64(") && onLog:
			written, synced = written+1, false
		case begins && onLog && strings.Contains(call, "unfinished"):
			syncing = true
		case begins && onLog, syncing && (strings.Contains(call, "fsync resumed") || strings.Contains(call, "fdatasync resumed")):
			synced, syncing = strings.Contains(call, "= 0"), false
		case strings.Contains(call, "write(1") && strings.Contains(call, `"record `):
			told++
			if written == 0 || !synced {
				t.Errorf("record %d was told after %d writes to the log, synced after the last: %v", told, written, synced)
			}
			written, synced = 0, false
		}
	}
	return told
}

// TestSyncWatcherCanFail gives the watcher calls that miss the sync.
func TestSyncWatcherCanFail(t *testing.T) {
	const write, sync, tell = `7 pwrite64(8</d/store.db-wal>, "", 24, 32) = 24`, `7 fsync(8</d/store.db-wal>) = 0`, `7 write(1<pipe:[1]>, "record 01\n", 10) = 10`
	for _, c := range []struct {
		calls []string
		fails bool
	}{
		{[]string{write, sync, tell}, false},
		{[]string{write, `7 fsync(8</d/store.db-wal> <unfinished ...>`, `7 <... fsync resumed>) = 0`, tell}, false},
		{[]string{write, tell, sync}, true},
		{[]string{sync, write, tell}, true},
		{[]string{sync, tell}, true},
		{[]string{write, `7 fsync(8</d/store.db-wal>) = -1 EIO`, tell}, true},
		{[]string{write, sync, tell, tell}, true},
	} {
		quiet := &testing.T{}
		syncedBeforeTold(quiet, c.calls)
		if quiet.Failed() != c.fails {
			t.Errorf("the watcher fails on %q: %v, want %v", c.calls, quiet.Failed(), c.fails)
		}
	}
}

// TestFileSizeLimitLosesNothing has a process meet the system's bound on the size
// of a file, while it gives the log its room and while it appends.
func TestFileSizeLimitLosesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "store.db")
	if err := openYard(t, path).Close(); err != nil {
		t.Fatal(err)
	}
	out, err := child(t, "limited", path, "one").Output()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var ids []string
	var end string
	for line := range strings.Lines(string(out)) {
		if id, ok := strings.CutPrefix(strings.TrimSpace(line), "record "); ok {
			ids = append(ids, id)
		} else {
			end = strings.TrimSpace(line)
		}
	}
	if len(ids) < 20 || end != "store.no_write" {
		t.Fatalf("%d records were acknowledged, then %q; want some and then store.no_write", len(ids), end)
	}
	crash := crashed{acked: map[string]bool{}}
	for _, id := range ids {
		crash.acked[id] = true
	}
	crash.check(t, path)
	s := open(t, path, Options{})
	again := phone{job: "yard", name: "after", person: "ana"}
	wantOutcomes(t, mustAppend(t, s, "yard", entries(again.note(t, "there is room again"))), Stored)
}
