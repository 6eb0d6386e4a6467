package server

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/record"
	"spadework/store"
	"spadework/store/cluster"
)

// network carries requests to any of several servers on one store. It loses
// them, loses their answers, or carries them twice; what it holds back comes
// later, after what was sent since.
type network struct {
	servers []*Server
	late    []func()
	broken  bool
}

// carry gives the answer, nil where it did not come back.
func (n *network) carry(t *rapid.T, method, path, body string) *httptest.ResponseRecorder {
	server := rapid.SampledFrom(n.servers).Draw(t, "server")
	deliver := func() *httptest.ResponseRecorder {
		r := httptest.NewRequest(method, "http://127.0.0.1"+path, strings.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		server.ServeHTTP(w, r)
		return w
	}
	if !n.broken {
		return deliver()
	}
	switch rapid.SampledFrom([]string{"fine", "fine", "lost", "answer lost", "twice", "late"}).Draw(t, "luck") {
	case "lost":
		return nil
	case "answer lost":
		deliver()
		return nil
	case "twice":
		deliver()
		return deliver()
	case "late":
		n.late = append(n.late, func() { deliver() })
		return nil
	}
	return deliver()
}

// arrive lets one of the late requests arrive.
func (n *network) arrive(t *rapid.T) {
	if len(n.late) == 0 {
		return
	}
	i := rapid.IntRange(0, len(n.late)-1).Draw(t, "which")
	n.late[i]()
	n.late = slices.Delete(n.late, i, i+1)
}

// replica is a device with what it holds.
type replica struct {
	job     string
	name    string
	head    record.Head
	holds   map[record.ID]record.Record
	waiting []record.Record
	cursor  int64
	written int
}

func (d *replica) write(t *rapid.T) {
	d.written++
	var random [10]byte
	binary.BigEndian.PutUint64(random[2:], uint64(d.written))
	copy(random[:2], d.name)
	seen := []record.ID{}
	for _, chain := range record.Verify(values(d.holds)) {
		if chain.Device != d.name {
			seen = append(seen, chain.Head.ID)
		}
	}
	r, head, f := d.head.Next(record.Draft{Job: d.job, Device: d.name, Person: d.name, Seen: seen, Payload: &record.Note{Words: strconv.Itoa(d.written)}}, int64(d.written), random)
	if f != nil {
		t.Fatal(f)
	}
	d.head = head
	d.holds[r.ID] = r
	d.waiting = append(d.waiting, r)
}

func values(m map[record.ID]record.Record) []record.Record {
	out := make([]record.Record, 0, len(m))
	for _, r := range m {
		out = append(out, r)
	}
	slices.SortFunc(out, func(a, b record.Record) int { return a.ID.Compare(b.ID) })
	return out
}

func (d *replica) push(t *rapid.T, n *network) {
	var bodies []json.RawMessage
	for _, r := range d.waiting {
		bodies = append(bodies, r.Append(nil))
	}
	if bodies == nil {
		return
	}
	w := n.carry(t, "POST", "/api/jobs/"+d.job+"/records", text(map[string]any{"device": map[string]string{"id": d.name, "name": d.name}, "records": bodies}))
	if w == nil {
		return
	}
	var got struct{ Answers []Answer }
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || w.Code != http.StatusOK || len(got.Answers) != len(bodies) {
		t.Fatalf("push = %d %s", w.Code, w.Body)
	}
	for _, a := range got.Answers {
		if a.Outcome != "stored" && a.Outcome != "known" {
			t.Fatalf("push = %+v, want stored or known", a)
		}
	}
	d.waiting = nil
}

func (d *replica) pull(t *rapid.T, n *network) {
	w := n.carry(t, "GET", "/api/jobs/"+d.job+"/records?limit=3&after="+strconv.FormatInt(d.cursor, 10), "")
	if w == nil {
		return
	}
	var page struct {
		Records []Logged
		Cursor  int64
	}
	if err := json.Unmarshal(w.Body.Bytes(), &page); err != nil || w.Code != http.StatusOK {
		t.Fatalf("pull = %d %s", w.Code, w.Body)
	}
	for _, l := range page.Records {
		r, f := record.Decode(l.Record)
		if f != nil {
			t.Fatal(f)
		}
		d.holds[r.ID] = r
		d.head = d.head.Saw(r)
	}
	d.cursor = page.Cursor
}

// Law: whatever the network does, once it works every replica holds every record
// that was written, the store holds each once, and all come to the same state.
func TestReplicasConverge(t *testing.T) {
	t.Run("two servers, one SQLite", func(t *testing.T) {
		s := openStore(t, filepath.Join(t.TempDir(), "yard.db"))
		converge(t, s, s)
	})
	t.Run("two servers, one PostgreSQL", func(t *testing.T) {
		c, err := cluster.Start()
		if errors.Is(err, cluster.ErrNone) {
			t.Skip("PostgreSQL is not tested: " + err.Error())
		}
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = c.Stop() })
		address, err := c.Database()
		if err != nil {
			t.Fatal(err)
		}
		converge(t, openStore(t, address), openStore(t, address))
	})
}

func openStore(t *testing.T, address string) *store.Store {
	t.Helper()
	s, err := store.Open(t.Context(), address, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// converge plays devices on a server for each store, which are views of one
// database; each round has a job of its own.
func converge(t *testing.T, stores ...*store.Store) {
	var servers []*Server
	for _, s := range stores {
		v := New(s, Options{Log: slog.New(slog.DiscardHandler)})
		t.Cleanup(v.Close)
		servers = append(servers, v)
	}
	round := 0
	rapid.Check(t, func(t *rapid.T) {
		round++
		play(t, fmt.Sprintf("yard%d", round), &network{servers: servers, broken: true}, stores)
	})
	for _, s := range stores {
		report, err := s.Verify(t.Context())
		if err != nil || !report.Sound() || len(report.Breaks) > 0 || report.Jobs != round {
			t.Errorf("Verify = %+v, %v, want %d sound jobs", report, err, round)
		}
	}
}

// play has devices write, push and pull over a broken network, which then
// works, and looks at everything.
func play(t *rapid.T, job string, n *network, stores []*store.Store) {
	if _, err := stores[0].SaveJob(t.Context(), store.Edit{Job: job, Document: "{}", Person: "ana"}); err != nil {
		t.Fatal(err)
	}
	devices := []*replica{}
	for _, name := range []string{"aa", "bb", "cc"} {
		devices = append(devices, &replica{job: job, name: name, holds: map[record.ID]record.Record{}})
	}
	for range rapid.IntRange(5, 40).Draw(t, "steps") {
		d := rapid.SampledFrom(devices).Draw(t, "device")
		switch rapid.IntRange(0, 3).Draw(t, "does") {
		case 0:
			d.write(t)
		case 1:
			d.push(t, n)
		case 2:
			d.pull(t, n)
		case 3:
			n.arrive(t)
		}
	}
	n.broken = false
	for len(n.late) > 0 {
		n.arrive(t)
	}
	total := 0
	for _, d := range devices {
		d.push(t, n)
		total += d.written
	}
	for _, d := range devices {
		for range total/3 + 1 {
			d.pull(t, n)
		}
	}
	for i, s := range stores {
		rows, err := s.Records(t.Context(), job, 0, store.MaxBatch)
		if err != nil || len(rows) != total {
			t.Fatalf("store %d holds %d records (%v), want each of %d once", i, len(rows), err, total)
		}
	}
	want := record.Replay(record.Input{Records: values(devices[0].holds)})
	for _, d := range devices {
		if len(d.holds) != total {
			t.Errorf("%s holds %d records, want %d", d.name, len(d.holds), total)
		}
		if got := record.Replay(record.Input{Records: values(d.holds)}); !reflect.DeepEqual(got, want) {
			t.Errorf("%s comes to another state", d.name)
		}
	}
}
