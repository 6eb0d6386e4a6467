package server

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"
)

// heartbeat is how often a silent stream shows that it lives.
const heartbeat = 15 * time.Second

type eventsInput struct {
	Job  string `path:"job" maxLength:"200"`
	Last string `header:"Last-Event-ID" doc:"revision and cursor that the reader has, as 3-17"`
}

// registerEvents adds the stream of changes.
func (v *Server) registerEvents(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "job-events", Method: http.MethodGet, Path: "/api/jobs/{job}/events",
		Summary: "Changes as they come: event job {revision}, event records {cursor}",
		Responses: map[string]*huma.Response{"200": {Description: "the stream", Content: map[string]*huma.MediaType{
			"text/event-stream": {Schema: &huma.Schema{Type: huma.TypeString}},
		}}},
	}, v.events)
}

func (v *Server) events(ctx context.Context, in *eventsInput) (*huma.StreamResponse, error) {
	if _, err := v.store.Revision(ctx, in.Job, 0); err != nil {
		return nil, v.fail(ctx, err)
	}
	seen := parseMark(in.Last)
	return &huma.StreamResponse{Body: func(h huma.Context) { v.follow(h, in.Job, seen) }}, nil
}

// mark is how far a reader is.
type mark struct{ revision, cursor int64 }

func (m mark) String() string {
	return strconv.FormatInt(m.revision, 10) + "-" + strconv.FormatInt(m.cursor, 10)
}

// parseMark reads a mark, the beginning where it is none.
func parseMark(s string) (m mark) {
	a, b, _ := strings.Cut(s, "-")
	revision, err := strconv.ParseInt(a, 10, 64)
	cursor, err2 := strconv.ParseInt(b, 10, 64)
	if err != nil || err2 != nil {
		return mark{}
	}
	return mark{revision, cursor}
}

// follow sends what changed until the reader goes or the server closes.
func (v *Server) follow(h huma.Context, job string, seen mark) {
	v.counts.streams.Add(1)
	defer v.counts.streams.Add(-1)
	s := openStream(h)
	news, done := v.wake.listen(job)
	defer done()
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	ctx := h.Context()
	for {
		now, err := v.wake.mark(ctx, job)
		if err != nil {
			return
		}
		s.changes(seen, now)
		if seen = now; s.gone {
			return
		}
		select {
		case <-ctx.Done():
			return
		case _, open := <-news:
			if !open || !v.stays(ctx, job) {
				return
			}
		case <-beat.C:
			if !v.stays(ctx, job) {
				return
			}
			s.write([]byte(": here\n\n"))
		}
	}
}

// stream writes server-sent events.
type stream struct {
	w     io.Writer
	flush func() error
	gone  bool // the reader
}

func openStream(h huma.Context) *stream {
	_, w := humago.Unwrap(h)
	h.SetHeader("Content-Type", "text/event-stream")
	h.SetHeader("X-Accel-Buffering", "no")
	h.SetStatus(http.StatusOK)
	s := &stream{w: h.BodyWriter(), flush: http.NewResponseController(w).Flush}
	s.write([]byte(": open\n\n"))
	return s
}

// changes sends what lies between two marks.
func (s *stream) changes(from, to mark) {
	if to.revision != from.revision {
		s.send("job", mark{to.revision, from.cursor}.String(), []byte(`{"revision":`+strconv.FormatInt(to.revision, 10)+`}`))
	}
	if to.cursor != from.cursor {
		s.send("records", to.String(), []byte(`{"cursor":`+strconv.FormatInt(to.cursor, 10)+`}`))
	}
}

// send writes one event; data has no line breaks but those that end its lines.
func (s *stream) send(event, id string, data []byte) {
	var b bytes.Buffer
	b.WriteString("event: " + event + "\n")
	if id != "" {
		b.WriteString("id: " + id + "\n")
	}
	for line := range bytes.SplitSeq(bytes.TrimSuffix(data, []byte("\n")), []byte("\n")) {
		b.WriteString("data: ")
		b.Write(line)
		b.WriteString("\n")
	}
	b.WriteString("\n")
	s.write(b.Bytes())
}

func (s *stream) write(p []byte) {
	if s.gone {
		return
	}
	_, err := s.w.Write(p)
	if err == nil {
		err = s.flush()
	}
	s.gone = err != nil && !errors.Is(err, http.ErrNotSupported)
}
