package server

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"spadework/examples"
	"spadework/exchange"
	"spadework/store"
)

// office is a server on a store of its own.
type office struct {
	*testing.T
	url   string
	store *store.Store
}

func open(t *testing.T) *office {
	t.Helper()
	s, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "store.db"), store.Options{PhotoLimit: 1 << 20})
	if err != nil {
		t.Fatal(err)
	}
	v := New(s, Options{Log: slog.New(slog.DiscardHandler)})
	h := httptest.NewServer(v)
	t.Cleanup(func() {
		v.Close()
		h.Close()
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return &office{t, h.URL, s}
}

// asked is an answer.
type asked struct {
	status int
	header http.Header
	body   []byte
}

// ask sends a request; headers come in pairs.
func (o *office) ask(method, path, body string, headers ...string) asked {
	o.Helper()
	r, err := http.NewRequestWithContext(o.Context(), method, o.url+path, strings.NewReader(body))
	if err != nil {
		o.Fatal(err)
	}
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
		if headers[i] == "Host" {
			r.Host = headers[i+1]
		}
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		o.Fatal(err)
	}
	defer answer.Body.Close()
	data, err := io.ReadAll(answer.Body)
	if err != nil {
		o.Fatal(err)
	}
	return asked{answer.StatusCode, answer.Header, data}
}

// read asks and decodes what has a status.
func (o *office) read(into any, status int, method, path, body string, headers ...string) asked {
	o.Helper()
	a := o.ask(method, path, body, headers...)
	if a.status != status {
		o.Fatalf("%s %s = %d %s, want %d", method, path, a.status, a.body, status)
	}
	if into != nil {
		if err := json.Unmarshal(a.body, into); err != nil {
			o.Fatalf("%s %s = %s: %v", method, path, a.body, err)
		}
	}
	return a
}

// exampleBundle is an example as a bundle.
func exampleBundle(t *testing.T, name string) exchange.Bundle {
	t.Helper()
	folder, err := fs.Sub(examples.Files, name)
	if err != nil {
		t.Fatal(err)
	}
	b, err := exchange.BundleOf("job.toml", func(file string) ([]byte, error) { return fs.ReadFile(folder, file) })
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// exampleLog is the records of the example.
func exampleLog(t *testing.T) []json.RawMessage {
	t.Helper()
	data, err := fs.ReadFile(examples.Files, "alder-quay/job.log.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	var out []json.RawMessage
	for line := range bytes.Lines(data) {
		out = append(out, bytes.TrimSpace(line))
	}
	return out
}

// jobOf is the job that records are of.
func jobOf(t *testing.T, r json.RawMessage) string {
	t.Helper()
	var head struct{ Job string }
	if err := json.Unmarshal(r, &head); err != nil {
		t.Fatal(err)
	}
	return head.Job
}

func text(v any) string { return string(encoded(v)) }

// withExample has the example job and gives its id.
func (o *office) withExample() string {
	o.Helper()
	id := jobOf(o.T, exampleLog(o.T)[0])
	o.read(nil, http.StatusCreated, "POST", "/api/jobs", text(map[string]any{"id": id, "bundle": exampleBundle(o.T, "alder-quay")}))
	return id
}

func TestJobIsMadeReadAndSaved(t *testing.T) {
	o := open(t)
	id := o.withExample()
	var list struct{ Jobs []JobLine }
	o.read(&list, http.StatusOK, "GET", "/api/jobs", "")
	if len(list.Jobs) != 1 || list.Jobs[0].ID != id || list.Jobs[0].Name != "Alder Quay boat store" || list.Jobs[0].Revision != 1 {
		t.Errorf("GET /api/jobs = %+v, want the example's first revision by name", list.Jobs)
	}
	var job JobBody
	a := o.read(&job, http.StatusOK, "GET", "/api/jobs/"+id, "")
	if job.Revision != 1 || a.header.Get("ETag") != `"1"` || text(job.Bundle) != text(exampleBundle(t, "alder-quay")) {
		t.Errorf("GET job = revision %d, ETag %s, want 1 and the bundle sent", job.Revision, a.header.Get("ETag"))
	}
	job.Bundle.Files["job.toml"] += "\n# edited\n"
	edit := text(map[string]any{"bundle": job.Bundle})
	var saved Saved
	o.read(&saved, http.StatusOK, "PUT", "/api/jobs/"+id, edit, "If-Match", `"1"`)
	if saved.Revision != 2 {
		t.Errorf("PUT job = %+v, want revision 2", saved)
	}
	o.read(&job, http.StatusOK, "GET", "/api/jobs/"+id+"?revision=1", "")
	if job.Revision != 1 || job.Newest != 2 {
		t.Errorf("GET revision 1 = revision %d, newest %d, want 1 and 2", job.Revision, job.Newest)
	}
}

// A foreman who loses a race is told, and nothing of the other's is overwritten.
func TestLostRaceIsTold(t *testing.T) {
	o := open(t)
	id := o.withExample()
	b := exampleBundle(t, "alder-quay")
	edit := func(words string) string {
		c := exchange.Bundle{Format: 1, Main: b.Main, Files: map[string]string{}}
		for name, body := range b.Files {
			c.Files[name] = body
		}
		c.Files["job.toml"] += "\n# " + words + "\n"
		return text(map[string]any{"bundle": c})
	}
	o.read(nil, http.StatusOK, "PUT", "/api/jobs/"+id, edit("mine"), "If-Match", `"1"`)
	var lost struct {
		Error  Trouble
		Theirs *Theirs
	}
	o.read(&lost, http.StatusConflict, "PUT", "/api/jobs/"+id, edit("yours"), "If-Match", `"1"`)
	if lost.Theirs == nil || lost.Theirs.Revision != 2 || lost.Error.Code != "conflict" || lost.Error.Key != "store.race" {
		t.Errorf("lost race = %+v, %+v, want conflict with revision 2", lost.Error, lost.Theirs)
	}
	o.read(nil, http.StatusOK, "PUT", "/api/jobs/"+id, edit("mine"), "If-Match", `"1"`) // the winner's, sent again
	var job JobBody
	o.read(&job, http.StatusOK, "GET", "/api/jobs/"+id, "")
	if job.Revision != 2 || !strings.HasSuffix(job.Bundle.Files["job.toml"], "# mine\n") {
		t.Errorf("after the race revision %d, want 2 with the winner's words", job.Revision)
	}
}

func TestRecordsAreTakenOnceAndReadOn(t *testing.T) {
	o := open(t)
	id, log := o.withExample(), exampleLog(t)
	push := text(map[string]any{"device": map[string]string{"id": "d1", "name": "cab"}, "records": log})
	for round, want := range []string{"stored", "known"} {
		var got struct {
			Answers []Answer
			Cursor  int64
			Receipt *Receipt
		}
		o.read(&got, http.StatusOK, "POST", "/api/jobs/"+id+"/records", push)
		for _, a := range got.Answers {
			if a.Outcome != want {
				t.Errorf("round %d: answer %+v, want %s", round, a, want)
			}
		}
		if len(got.Answers) != len(log) || got.Cursor != int64(len(log)) || got.Receipt == nil {
			t.Errorf("round %d: %d answers, cursor %d, want %d each and a receipt", round, len(got.Answers), got.Cursor, len(log))
		}
	}
	var all []Logged
	for after, more := int64(0), true; more; {
		var page struct {
			Records []Logged
			Cursor  int64
			More    bool
		}
		o.read(&page, http.StatusOK, "GET", "/api/jobs/"+id+"/records?limit=7&after="+strconv.FormatInt(after, 10), "")
		all = append(all, page.Records...)
		after, more = page.Cursor, page.More
	}
	for i, r := range all {
		if r.Cursor != int64(i+1) || !bytes.Equal(r.Record, log[i]) {
			t.Errorf("record %d = cursor %d %s, want %s", i, r.Cursor, r.Record, log[i])
		}
	}
	if len(all) != len(log) {
		t.Errorf("read %d records, want %d", len(all), len(log))
	}
}

// Good records of a batch are kept beside one that is none.
func TestPartialSuccessIsToldRecordByRecord(t *testing.T) {
	o := open(t)
	id, log := o.withExample(), exampleLog(t)
	batch := []json.RawMessage{log[0], []byte(`{"format":1}`), log[1]}
	var got struct{ Answers []Answer }
	o.read(&got, http.StatusOK, "POST", "/api/jobs/"+id+"/records", text(map[string]any{"device": map[string]string{"id": "d", "name": "n"}, "records": batch}))
	if len(got.Answers) != 3 || got.Answers[0].Outcome != "stored" || got.Answers[1].Outcome != "refused" || got.Answers[1].Reason == "" || got.Answers[2].Outcome != "stored" {
		t.Errorf("answers = %+v, want stored, refused with a reason, stored", got.Answers)
	}
}

func TestPlanOfAJob(t *testing.T) {
	o := open(t)
	id := o.withExample()
	var p struct {
		Format  int
		Numbers []json.RawMessage
	}
	a := o.read(&p, http.StatusOK, "GET", "/api/jobs/"+id+"/plan?today=2026-05-04", "")
	if p.Format != 1 || len(p.Numbers) == 0 {
		t.Errorf("plan = %.100s, want format 1 with numbers", a.body)
	}
	events := o.ask("GET", "/api/jobs/"+id+"/plan?today=2026-05-04", "", "Accept", "text/event-stream")
	_, data, found := bytes.Cut(events.body, []byte("event: plan\ndata: "))
	if !found || !bytes.HasPrefix(data, []byte(`{"`)) {
		t.Errorf("plan as a stream = %.200s, want an event plan", events.body)
	}
}

// An unfinished job is kept; its plan says what is wrong in the reader's language.
func TestPlanOfAJobThatDoesNotRead(t *testing.T) {
	o := open(t)
	b := exchange.Bundle{Format: 1, Main: "job.toml", Files: map[string]string{"job.toml": "[job]\nname = 3\n"}}
	o.read(nil, http.StatusCreated, "POST", "/api/jobs", text(map[string]any{"id": "half", "bundle": b}))
	for lang, part := range map[string]string{"en": "job.toml:1:2", "es-MX,en;q=0.5": "job.toml:1:2"} {
		var p struct{ Error Trouble }
		o.read(&p, http.StatusUnprocessableEntity, "GET", "/api/jobs/half/plan", "", "Accept-Language", lang)
		if !strings.Contains(p.Error.Place, part) || p.Error.Remedy == "" {
			t.Errorf("plan of an unfinished job in %s = %+v, want a place with %s and a remedy", lang, p.Error, part)
		}
	}
}

func TestChangesAreTold(t *testing.T) {
	o := open(t)
	id, log := o.withExample(), exampleLog(t)
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
	defer cancel()
	r, err := http.NewRequestWithContext(ctx, "GET", o.url+"/api/jobs/"+id+"/events", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Last-Event-ID", "1-0")
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	o.read(nil, http.StatusOK, "POST", "/api/jobs/"+id+"/records", text(map[string]any{"device": map[string]string{"id": "d", "name": "n"}, "records": log[:2]}))
	want := "event: records\nid: 1-2\ndata: {\"cursor\":2}\n"
	var got []byte
	for buffer := make([]byte, 512); !bytes.Contains(got, []byte(want)); {
		n, err := answer.Body.Read(buffer)
		got = append(got, buffer[:n]...)
		if err != nil {
			t.Fatalf("events = %q then %v, want %q", got, err, want)
		}
	}
	if bytes.Contains(got, []byte("event: job")) {
		t.Errorf("events = %q, want no change of the job", got)
	}
}

func TestPhotos(t *testing.T) {
	o := open(t)
	png := "\x89PNG\r\n\x1a\n" + strings.Repeat("pixels", 100)
	digest := digestOf(png)
	o.read(nil, http.StatusOK, "PUT", "/api/photos/"+digest, png, "Content-Type", "image/png")
	if a := o.ask("GET", "/api/photos/"+digest, ""); a.status != http.StatusOK || string(a.body) != png || a.header.Get("Content-Type") != "image/png" {
		t.Errorf("GET photo = %d, %d bytes of %s, want the picture", a.status, len(a.body), a.header.Get("Content-Type"))
	}
	big := "\x89PNG\r\n\x1a\n" + strings.Repeat("x", 1<<20)
	cases := []struct {
		name, path, body string
		status           int
	}{
		{"another digest", "/api/photos/" + digestOf("x"), png, http.StatusUnprocessableEntity},
		{"no picture", "/api/photos/" + digestOf("<html>"), "<html>", http.StatusUnsupportedMediaType},
		{"too long", "/api/photos/" + digestOf(big), big, http.StatusUnprocessableEntity},
		{"no digest", "/api/photos/..%2f..%2fetc", png, http.StatusUnprocessableEntity},
	}
	for _, c := range cases {
		if a := o.ask("PUT", c.path, c.body, "Content-Type", "image/png"); a.status != c.status {
			t.Errorf("PUT photo with %s = %d %s, want %d", c.name, a.status, a.body, c.status)
		}
	}
}

func TestHostileRequestsAreRefused(t *testing.T) {
	o := open(t)
	id := o.withExample()
	deep := `{"records":` + strings.Repeat("[", 20000) + strings.Repeat("]", 20000) + `}`
	cases := []struct {
		name, method, path, body string
		headers                  []string
		status                   int
		code                     string
	}{
		{"foreign host", "GET", "/api/jobs", "", []string{"Host", "example.net"}, 403, "forbidden"},
		{"forwarded", "GET", "/api/jobs", "", []string{"X-Forwarded-For", "10.0.0.1"}, 403, "forbidden"},
		{"foreign origin", "POST", "/api/jobs", "{}", []string{"Origin", "http://example.net"}, 403, "forbidden"},
		{"no origin", "POST", "/api/jobs", "{}", []string{"Origin", "null"}, 403, "forbidden"},
		{"cross site", "GET", "/api/jobs", "", []string{"Sec-Fetch-Site", "cross-site"}, 403, "forbidden"},
		{"packed body", "POST", "/api/jobs", "{}", []string{"Content-Encoding", "gzip"}, 415, "unsupported"},
		{"form", "POST", "/api/jobs", "id=1", []string{"Content-Type", "application/x-www-form-urlencoded"}, 415, "unsupported"},
		{"no json", "POST", "/api/jobs", "{", nil, 400, "invalid"},
		{"deep json", "POST", "/api/jobs/" + id + "/records", deep, nil, 400, "invalid"},
		{"giant number", "GET", "/api/jobs/" + id + "/records?after=" + strings.Repeat("9", 400), "", nil, 422, "invalid"},
		{"negative", "GET", "/api/jobs/" + id + "/records?after=-1", "", nil, 422, "invalid"},
		{"body too large", "POST", "/api/jobs/" + id + "/records", `{"x":"` + strings.Repeat("y", maxPush) + `"}`, nil, 413, "too_large"},
		{"no such job", "GET", "/api/jobs/nobody", "", nil, 404, "not_found"},
		{"no such job's records", "GET", "/api/jobs/nobody/records", "", nil, 404, "not_found"},
		{"no such job's events", "GET", "/api/jobs/nobody/events", "", nil, 404, "not_found"},
		{"no such route", "GET", "/api/everything", "", nil, 404, "not_found"},
		{"traversal in a file", "POST", "/api/jobs", `{"id":"x","bundle":{"format":1,"main":"../job.toml","files":{"../job.toml":""}}}`, nil, 422, "invalid"},
		{"traversal in an id", "POST", "/api/jobs", text(map[string]any{"id": "../x", "bundle": exampleBundle(t, "alder-quay")}), nil, 422, "invalid"},
		{"no revision", "PUT", "/api/jobs/" + id, text(map[string]any{"bundle": exampleBundle(t, "alder-quay")}), nil, 422, "invalid"},
		{"no date", "GET", "/api/jobs/" + id + "/plan?today=tomorrow", "", nil, 422, "invalid"},
	}
	for _, c := range cases {
		a := o.ask(c.method, c.path, c.body, c.headers...)
		var p struct{ Error Trouble }
		if err := json.Unmarshal(a.body, &p); err != nil || a.status != c.status || p.Error.Code != c.code || p.Error.Message == "" || p.Error.Remedy == "" {
			t.Errorf("%s: %s %s = %d %.300s, want %d %s with words and remedy (%v)", c.name, c.method, c.path, a.status, a.body, c.status, c.code, err)
		}
	}
}

func TestHealthAndMetrics(t *testing.T) {
	o := open(t)
	o.withExample()
	if a := o.ask("GET", "/healthz", ""); a.status != http.StatusOK || string(a.body) != "ok\n" {
		t.Errorf("GET /healthz = %d %s, want ok", a.status, a.body)
	}
	if a := o.ask("GET", "/metrics", ""); !bytes.Contains(a.body, []byte("spadework_answers_total{status=\"2xx\"} 2\n")) {
		t.Errorf("GET /metrics = %s, want two answers before it", a.body)
	}
}

func digestOf(s string) string {
	sum := sha256.Sum256([]byte(s))
	return hex.EncodeToString(sum[:])
}
