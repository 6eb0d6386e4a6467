package server

import (
	"context"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/danielgtaylor/huma/v2"

	"spadework/engine/phrase"
	"spadework/exchange"
	"spadework/store"
)

// somebody is the person of an edit while the server runs open for one person.
const somebody = "this machine"

// personOf is who an edit says that it is by, while the server knows no people of
// its own.
func personOf(header string) string {
	name, err := url.PathUnescape(header)
	if name = strings.TrimSpace(name); err != nil || name == "" || !utf8.ValidString(name) {
		return somebody
	}
	return name
}

// maxEdit bounds the body that carries a bundle: its texts are escaped.
const maxEdit = 2 * exchange.MaxBundle

// JobLine is a job in the list.
type JobLine struct {
	ID       string `json:"id"`
	Name     string `json:"name" doc:"of its newest revision"`
	Revision int64  `json:"revision"`
	Cursor   int64  `json:"cursor" doc:"of its newest record, 0 none"`
}

// Saved is a revision that was made.
type Saved struct {
	ID       string `json:"id"`
	Revision int64  `json:"revision"`
}

// JobBody is a revision of a job.
type JobBody struct {
	ID       string          `json:"id"`
	Revision int64           `json:"revision"`
	Newest   int64           `json:"newest" doc:"newest revision"`
	Digest   string          `json:"digest" doc:"SHA-256 of the document, hexadecimal"`
	Person   string          `json:"person"`
	Saved    int64           `json:"saved" doc:"milliseconds since 1970 UTC"`
	Bundle   exchange.Bundle `json:"bundle"`
}

type savedOutput struct {
	ETag string `header:"ETag"`
	Body Saved
}

type jobsOutput struct {
	Body struct {
		Jobs []JobLine `json:"jobs" nullable:"false"`
	}
}

type newJobInput struct {
	Person string `header:"Spadework-Person" maxLength:"600" doc:"who saves, percent-encoded"`
	Body   struct {
		ID     string          `json:"id" minLength:"1" maxLength:"200"`
		Bundle exchange.Bundle `json:"bundle"`
	}
}

type getJobInput struct {
	Job      string `path:"job" maxLength:"200"`
	Revision int64  `query:"revision" minimum:"0" doc:"0 the newest"`
}

type jobOutput struct {
	ETag string `header:"ETag"`
	Body JobBody
}

type editInput struct {
	Job    string `path:"job" maxLength:"200"`
	Match  string `header:"If-Match" doc:"the revision that the edit was made from, quoted"`
	Person string `header:"Spadework-Person" maxLength:"600" doc:"who saves, percent-encoded"`
	Body   struct {
		Bundle exchange.Bundle `json:"bundle"`
	}
}

// registerJobs adds the list of jobs, and reading and saving one.
func (v *Server) registerJobs(api huma.API) {
	huma.Register(api, huma.Operation{OperationID: "list-jobs", Method: http.MethodGet, Path: "/api/jobs", Summary: "The jobs"}, v.listJobs)
	huma.Register(api, huma.Operation{
		OperationID: "new-job", Method: http.MethodPost, Path: "/api/jobs", Summary: "A first revision of a new job",
		DefaultStatus: http.StatusCreated, MaxBodyBytes: maxEdit, BodyReadTimeout: time.Minute,
	}, v.newJob)
	huma.Register(api, huma.Operation{OperationID: "get-job", Method: http.MethodGet, Path: "/api/jobs/{job}", Summary: "A revision of a job"}, v.getJob)
	huma.Register(api, huma.Operation{
		OperationID: "save-job", Method: http.MethodPut, Path: "/api/jobs/{job}", Summary: "The next revision of a job; a lost race is told",
		MaxBodyBytes: maxEdit, BodyReadTimeout: time.Minute,
	}, v.saveJob)
}

func (v *Server) listJobs(ctx context.Context, _ *struct{}) (*jobsOutput, error) {
	jobs, err := v.store.Jobs(ctx)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out := &jobsOutput{}
	out.Body.Jobs = make([]JobLine, len(jobs))
	for i, j := range jobs {
		name, err := v.plans.nameOf(ctx, v.store, j)
		if err != nil {
			return nil, v.fail(ctx, err)
		}
		out.Body.Jobs[i] = JobLine{j.ID, name, j.Revision, j.Cursor}
	}
	return out, nil
}

func (v *Server) newJob(ctx context.Context, in *newJobInput) (*savedOutput, error) {
	if f := in.Body.Bundle.Check(); f != nil {
		return nil, v.fail(ctx, f)
	}
	if strings.ContainsAny(in.Body.ID, `/\`) || in.Body.ID == "." || in.Body.ID == ".." {
		return nil, v.fail(ctx, fault(phrase.Invalid, "server.job_id", phrase.With("value", in.Body.ID)))
	}
	return v.save(ctx, store.Edit{Job: in.Body.ID, Document: string(in.Body.Bundle.Encode()), Person: personOf(in.Person)})
}

func (v *Server) saveJob(ctx context.Context, in *editInput) (*savedOutput, error) {
	base, err := strconv.ParseInt(strings.Trim(in.Match, `"`), 10, 64)
	if err != nil || base < 1 {
		return nil, v.fail(ctx, fault(phrase.Invalid, "server.if_match", phrase.With("value", in.Match)))
	}
	if f := in.Body.Bundle.Check(); f != nil {
		return nil, v.fail(ctx, f)
	}
	return v.save(ctx, store.Edit{Job: in.Job, Base: base, Document: string(in.Body.Bundle.Encode()), Person: personOf(in.Person)})
}

// save keeps a revision even where its job does not read yet: an unfinished
// drawing is not lost; the plan tells what is wrong with it.
func (v *Server) save(ctx context.Context, e store.Edit) (*savedOutput, error) {
	r, err := v.store.SaveJob(ctx, e)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	v.wake.tell(e.Job)
	return &savedOutput{quoted(r.Number), Saved{r.Job, r.Number}}, nil
}

func (v *Server) getJob(ctx context.Context, in *getJobInput) (*jobOutput, error) {
	r, b, err := v.bundle(ctx, in.Job, in.Revision)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	newest := r
	if in.Revision != 0 {
		if newest, err = v.store.Revision(ctx, in.Job, 0); err != nil {
			return nil, v.fail(ctx, err)
		}
	}
	return &jobOutput{quoted(r.Number), JobBody{r.Job, r.Number, newest.Number, r.Digest, r.Person, r.Saved, b}}, nil
}

// bundle is a revision and what it holds.
func (v *Server) bundle(ctx context.Context, job string, number int64) (store.Revision, exchange.Bundle, error) {
	r, err := v.store.Revision(ctx, job, number)
	if err != nil {
		return r, exchange.Bundle{}, err
	}
	b, f := exchange.DecodeBundle([]byte(r.Document))
	if f != nil {
		return r, b, f
	}
	return r, b, nil
}

func quoted(revision int64) string { return `"` + strconv.FormatInt(revision, 10) + `"` }
