package server

import (
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"

	engine "spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/exchange"
	"spadework/store"
)

const (
	// plansAtOnce bounds the plans that are being made.
	plansAtOnce = 2
	// plansKept bounds the plans and names that are kept after they were made.
	plansKept = 16
	// planWork is how much work is done between two looks at whether anybody still
	// waits: some hundredths of a second.
	planWork = 30_000_000
	// progressEvery is how often progress is told.
	progressEvery = 250 * time.Millisecond
)

// planner makes plans, a few at a time, and keeps the newest.
type planner struct {
	room chan struct{}
	mu   sync.Mutex
	kept map[string][]byte // by what they were made from
	keys []string          // oldest first
}

func newPlanner() *planner {
	return &planner{room: make(chan struct{}, plansAtOnce), kept: map[string][]byte{}}
}

func (p *planner) find(key string) ([]byte, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	data, found := p.kept[key]
	return data, found
}

func (p *planner) keep(key string, data []byte) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if _, there := p.kept[key]; !there {
		p.keys = append(p.keys, key)
	}
	p.kept[key] = data
	if len(p.keys) > plansKept {
		delete(p.kept, p.keys[0])
		p.keys = p.keys[1:]
	}
}

// nameOf is the name in the newest revision of a job, its id where that does not
// read.
func (p *planner) nameOf(ctx context.Context, s *store.Store, j store.Job) (string, error) {
	r, err := s.Revision(ctx, j.ID, 0)
	if err != nil {
		return "", err
	}
	if name, found := p.find("name " + r.Digest); found {
		return string(name), nil
	}
	name := j.ID
	if b, f := exchange.DecodeBundle([]byte(r.Document)); f == nil {
		if read, _, err := b.Job(); err == nil {
			name = read.Name
		}
	}
	p.keep("name "+r.Digest, []byte(name))
	return name, nil
}

// Progress is how far a plan is.
type Progress struct {
	Stage string `json:"stage"`
	Done  int64  `json:"done"`
	Of    int64  `json:"of" doc:"0 not known"`
}

// make plans a job, telling how far it is, and ends when nobody waits.
func (p *planner) make(ctx context.Context, j *engine.Job, tell func(Progress)) ([]byte, error) {
	select {
	case p.room <- struct{}{}:
		defer func() { <-p.room }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	m, f := plan.NewMaker(j)
	if f != nil {
		return nil, f
	}
	for told := time.Now(); !m.Step(planWork); {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if time.Since(told) > progressEvery {
			stage, done, of := m.Stage()
			tell(Progress{string(stage), done, of})
			told = time.Now()
		}
	}
	made, f := m.Plan()
	if f != nil {
		return nil, f
	}
	return made.AppendJSON(nil), nil
}

type planInput struct {
	Job      string `path:"job" maxLength:"200"`
	Revision int64  `query:"revision" minimum:"0" doc:"0 the newest"`
	Today    string `query:"today" doc:"date that tickets are judged by, YYYY-MM-DD, empty today"`
	Accept   string `header:"Accept"`
}

// registerPlan adds planning.
func (v *Server) registerPlan(api huma.API) {
	document := &huma.Schema{Type: huma.TypeObject, Description: "the plan, format 1"}
	huma.Register(api, huma.Operation{
		OperationID: "plan-job", Method: http.MethodGet, Path: "/api/jobs/{job}/plan",
		Summary: "The plan of a revision; as text/event-stream with its progress. Ending the request ends the work",
		Responses: map[string]*huma.Response{"200": {Description: "the plan", Content: map[string]*huma.MediaType{
			"application/json":  {Schema: document},
			"text/event-stream": {Schema: &huma.Schema{Type: huma.TypeString, Description: "events progress, then plan or fault"}},
		}}},
	}, v.plan)
}

// plan reads the revision before it answers, so that what is not there has its
// status.
func (v *Server) plan(ctx context.Context, in *planInput) (*huma.StreamResponse, error) {
	today, err := v.today(in.Today)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	r, b, err := v.bundle(ctx, in.Job, in.Revision)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	key := "plan " + r.Digest + " " + today
	work := func(tell func(Progress)) ([]byte, error) {
		if data, found := v.plans.find(key); found {
			return data, nil
		}
		j, _, err := b.Job()
		if err != nil {
			return nil, err
		}
		j.Today = today
		data, err := v.plans.make(ctx, j, tell)
		if err == nil {
			v.plans.keep(key, data)
			v.counts.plans.Add(1)
		}
		return data, err
	}
	if strings.Contains(in.Accept, "text/event-stream") {
		return &huma.StreamResponse{Body: func(h huma.Context) { v.planStream(h, work) }}, nil
	}
	data, err := work(func(Progress) {})
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return &huma.StreamResponse{Body: func(h huma.Context) {
		h.SetHeader("Content-Type", "application/json")
		h.SetStatus(http.StatusOK)
		if _, err := h.BodyWriter().Write(data); err != nil {
			v.log.Warn("plan not sent to its end", "error", err)
		}
	}}, nil
}

// today is the date asked for, else the server's.
func (v *Server) today(asked string) (string, error) {
	if asked == "" {
		return v.now().Format(time.DateOnly), nil
	}
	if _, err := time.Parse(time.DateOnly, asked); err != nil {
		return "", fault(phrase.Invalid, "server.today", phrase.With("value", asked))
	}
	return asked, nil
}

// planStream tells progress, then the plan or why there is none.
func (v *Server) planStream(h huma.Context, work func(func(Progress)) ([]byte, error)) {
	s := openStream(h)
	data, err := work(func(p Progress) { s.send("progress", "", encoded(p)) })
	if err == nil {
		s.send("plan", "", data)
		return
	}
	if h.Context().Err() == nil {
		s.send("fault", "", encoded(v.fail(h.Context(), err)))
	}
}

// encoded is a body of ours as JSON.
func encoded(body any) []byte {
	data, err := json.Marshal(body)
	if err != nil {
		panic("server: a body does not fail to encode: " + err.Error())
	}
	return data
}
