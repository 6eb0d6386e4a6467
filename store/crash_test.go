package store

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"spadework/engine/record"
)

// kills is how often the crash test kills: SPADEWORK_LONG=1 for the long run.
func kills() int {
	if os.Getenv("SPADEWORK_LONG") == "1" {
		return 200
	}
	return 20
}

// TestKilledAtAnyMomentLosesNothing kills a process that writes, at random
// moments, and looks for every record and revision that it acknowledged. A
// killed process leaves what the system holds in memory: it does not show what
// a power cut does.
func TestKilledAtAnyMomentLosesNothing(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s := openYard(t, address)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		seed := uint64(time.Now().UnixNano())
		random := rand.New(rand.NewPCG(seed, 0))
		t.Logf("seed %d", seed)
		crash := crashed{acked: map[string]bool{}}
		loaded := 0
		for run := range kills() {
			before := len(crash.acked)
			crash.kill(t, address, run, random)
			if len(crash.acked) > before {
				loaded++
			}
			if run%10 == 9 || run == kills()-1 {
				crash.check(t, address)
			}
		}
		if loaded < kills()/2 {
			t.Errorf("%d of %d kills met a process that had written, want at least half", loaded, kills())
		}
		t.Logf("%d kills, %d under load, %d records acknowledged and found once, newest revision %d", kills(), loaded, len(crash.acked), crash.revision)
	})
}

// crashed is what killed processes had acknowledged.
type crashed struct {
	acked    map[string]bool
	revision int64
}

// kill starts a process, kills it while it writes and takes down what it told.
func (c *crashed) kill(t *testing.T, address string, run int, random *rand.Rand) {
	t.Helper()
	process := child(t, "load", address, fmt.Sprintf("run%d", run))
	pipe, err := process.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := process.Start(); err != nil {
		t.Fatal(err)
	}
	// A tenth of the kills may come while it opens the store.
	timer := time.AfterFunc(time.Duration(random.Int64N(int64(20*time.Second))), func() { _ = process.Process.Kill() })
	first := random.IntN(10) > 0
	if !first {
		timer.Reset(time.Duration(random.Int64N(int64(50 * time.Millisecond))))
	}
	lines := bufio.NewReader(pipe)
	for {
		line, err := lines.ReadString('\n')
		if err != nil {
			break // a line cut off was not told
		}
		if first {
			timer.Reset(time.Duration(random.Int64N(int64(250 * time.Millisecond))))
			first = false
		}
		c.note(t, strings.Fields(line))
	}
	timer.Stop()
	if err := process.Wait(); err == nil || !strings.Contains(err.Error(), "killed") {
		t.Fatalf("the child ended by itself: %v", err)
	}
}

func (c *crashed) note(t *testing.T, words []string) {
	t.Helper()
	if words[0] == "record" {
		c.acked[words[1]] = true
		return
	}
	n, err := strconv.ParseInt(words[1], 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	c.revision = max(c.revision, n)
}

// check opens the store as a new process would and looks at everything.
func (c *crashed) check(t *testing.T, address string) {
	t.Helper()
	ctx := context.Background()
	s, err := Open(ctx, address, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	r, err := s.Verify(ctx)
	if err != nil || !r.Sound() || len(r.Breaks) != 0 {
		t.Fatalf("Verify = %v, breaks %v, %v, want it sound", r.Flaws, r.Breaks, err)
	}
	found := map[string]int{}
	for after := int64(0); ; {
		log, err := s.Records(ctx, "yard", after, MaxBatch)
		if err != nil {
			t.Fatal(err)
		}
		if len(log) == 0 {
			break
		}
		for _, l := range log {
			rec, f := record.Decode(l.Body)
			if f != nil {
				t.Fatal(f)
			}
			found[rec.ID.String()]++
		}
		after = log[len(log)-1].Cursor
	}
	for id := range c.acked {
		if found[id] != 1 {
			t.Errorf("the acknowledged record %s is there %d times, want once", id, found[id])
		}
	}
	if now, err := s.Revision(ctx, "yard", 0); err != nil || now.Number < c.revision {
		t.Errorf("newest revision %d, %v, want %d or later", now.Number, err, c.revision)
	}
}
