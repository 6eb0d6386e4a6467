package server

import (
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"spadework/engine/record"
	"spadework/store"
)

// TestMain lets this test's own program be the server that is killed.
func TestMain(m *testing.M) {
	if db := os.Getenv("SERVER_TEST_DB"); db != "" {
		fmt.Fprintln(os.Stderr, serveTill(db))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// serveTill serves a store until the process is killed, and tells its address.
func serveTill(db string) error {
	s, err := store.Open(context.Background(), db, store.Options{})
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	fmt.Println(listener.Addr())
	return http.Serve(listener, New(s, Options{Log: slog.New(slog.DiscardHandler)}))
}

// kills is how often the server is killed: SPADEWORK_LONG=1 for the long run.
func kills() int {
	if os.Getenv("SPADEWORK_LONG") == "1" {
		return 200
	}
	return 20
}

// sender is a phone: it writes its chain, keeps what was not acknowledged and
// sends it again to whatever server is there.
type sender struct {
	name    string
	head    record.Head
	waiting []record.Record
	acked   []record.ID
	written int
}

// write adds a record to the chain.
func (p *sender) write() error {
	p.written++
	var random [10]byte
	binary.BigEndian.PutUint64(random[2:], uint64(p.written))
	random[0] = p.name[len(p.name)-1] // two phones never draw the same
	random[1] = p.name[len(p.name)-2]
	r, head, f := p.head.Next(record.Draft{Job: "yard", Device: p.name, Person: "ana", Payload: &record.Note{Words: "under load"}}, int64(p.written), random)
	if f != nil {
		return f
	}
	p.head, p.waiting = head, append(p.waiting, r)
	return nil
}

// send pushes everything that waits; only an answer takes it off the list.
func (p *sender) send(ctx context.Context, address string) error {
	var bodies []json.RawMessage
	for _, r := range p.waiting {
		bodies = append(bodies, r.Append(nil))
	}
	body := text(map[string]any{"device": map[string]string{"id": p.name, "name": p.name}, "records": bodies})
	q, err := http.NewRequestWithContext(ctx, "POST", "http://"+address+"/api/jobs/yard/records", strings.NewReader(body))
	if err != nil {
		return err
	}
	q.Header.Set("Content-Type", "application/json")
	answer, err := http.DefaultClient.Do(q)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	data, err := io.ReadAll(answer.Body)
	if err != nil {
		return err
	}
	if answer.StatusCode != http.StatusOK {
		return &wrongAnswer{fmt.Sprintf("%d %s", answer.StatusCode, data)}
	}
	var got struct{ Answers []Answer }
	if err := json.Unmarshal(data, &got); err != nil {
		return err
	}
	for i, a := range got.Answers {
		if a.Outcome != "stored" && a.Outcome != "known" {
			return &wrongAnswer{fmt.Sprintf("record %d of %s: %+v, want stored or known", i, p.name, a)}
		}
		p.acked = append(p.acked, p.waiting[i].ID)
	}
	p.waiting = nil
	return nil
}

// wrongAnswer is an answer that a living server must not give.
type wrongAnswer struct{ text string }

func (w *wrongAnswer) Error() string { return w.text }

// TestKilledServerLosesNothing kills a server under load at random moments and
// starts it again; the phones send again what was not acknowledged. In the end
// every record is there once, every chain is whole and the job opens.
func TestKilledServerLosesNothing(t *testing.T) {
	db := filepath.Join(t.TempDir(), "yard.db")
	s, err := store.Open(t.Context(), db, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.SaveJob(t.Context(), store.Edit{Job: "yard", Document: string(exampleBundle(t, "alder-quay").Encode()), Person: "ana"}); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 0))
	phones := make([]*sender, 6)
	for i := range phones {
		phones[i] = &sender{name: fmt.Sprintf("phone-%02d", i)}
	}
	loaded := 0
	for range kills() {
		if killOnce(t, db, phones, random) {
			loaded++
		}
	}
	if loaded < kills()/2 {
		t.Errorf("%d of %d kills met a server that had acknowledged, want at least half", loaded, kills())
	}
	checkAll(t, db, phones)
}

// killOnce serves, sends and kills; it says whether anything was acknowledged.
func killOnce(t *testing.T, db string, phones []*sender, random *rand.Rand) bool {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), "SERVER_TEST_DB="+db)
	c.Stderr = os.Stderr
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	address, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("the server does not start: %v", err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	before := 0
	var group sync.WaitGroup
	for _, p := range phones {
		before += len(p.acked)
		group.Add(1)
		go func() {
			defer group.Done()
			for n := 0; ; n++ {
				for range 1 + n%3 {
					if err := p.write(); err != nil {
						t.Error(err)
						return
					}
				}
				var wrong *wrongAnswer
				if err := p.send(ctx, strings.TrimSpace(address)); errors.As(err, &wrong) {
					t.Error(err)
					return
				} else if err != nil {
					return // killed: what waits is sent to the next server
				}
			}
		}()
	}
	time.Sleep(time.Duration(random.Int64N(int64(300 * time.Millisecond))))
	if err := c.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	group.Wait()
	_ = c.Wait() // it was killed
	after := 0
	for _, p := range phones {
		after += len(p.acked)
	}
	return after > before
}

// checkAll sends the rest and looks at everything.
func checkAll(t *testing.T, db string, phones []*sender) {
	t.Helper()
	s, err := store.Open(t.Context(), db, store.Options{Existing: true})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	found := map[string]int{}
	var all []record.Record
	for after := int64(0); ; {
		rows, err := s.Records(t.Context(), "yard", after, store.MaxBatch)
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) == 0 {
			break
		}
		for _, row := range rows {
			r, f := record.Decode(row.Body)
			if f != nil {
				t.Fatal(f)
			}
			found[r.ID.String()]++
			all = append(all, r)
		}
		after = rows[len(rows)-1].Cursor
	}
	acked := 0
	for _, p := range phones {
		acked += len(p.acked)
		for _, id := range p.acked {
			if found[id.String()] != 1 {
				t.Errorf("the acknowledged record %s of %s is there %d times, want once", id, p.name, found[id.String()])
			}
		}
	}
	for _, chain := range record.Verify(all) {
		if len(chain.Breaks) > 0 {
			t.Errorf("the chain of %s has breaks: %v", chain.Device, chain.Breaks)
		}
	}
	report, err := s.Verify(t.Context())
	if err != nil || !report.Sound() {
		t.Errorf("Verify = %v, %v, want it sound", report.Flaws, err)
	}
	r, err := s.Revision(t.Context(), "yard", 0)
	if err != nil || !bytes.HasPrefix([]byte(r.Document), []byte(`{"format":1`)) {
		t.Errorf("the job does not open: %v", err)
	}
	t.Logf("%d kills, %d records acknowledged and found once", kills(), acked)
}
