package server

import (
	"context"
	"net/http"
	"net/url"

	"github.com/danielgtaylor/huma/v2"

	"spadework/cab"
	"spadework/engine/phrase"
	"spadework/sheet"
)

type paperInput struct {
	Job      string `path:"job" maxLength:"200"`
	Revision int64  `query:"revision" minimum:"0" doc:"0 the newest"`
	Today    string `query:"today" doc:"date that tickets are judged by, YYYY-MM-DD, empty today"`
	Paper    string `query:"paper" enum:"letter,a4" default:"letter"`
	Language string `query:"lang" enum:"en,es," doc:"empty the job's"`
}

type paperOutput struct {
	ContentType string `header:"Content-Type"`
	Disposition string `header:"Content-Disposition"`
	Body        []byte
}

// registerPaper adds what is printed: the proof for an inspector, and the sheets
// of the job.
func (v *Server) registerPaper(api huma.API) {
	printed := map[string]*huma.Response{"200": {Description: "the pages", Content: map[string]*huma.MediaType{
		"application/pdf": {Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}}}}
	huma.Register(api, huma.Operation{
		OperationID: "proof-of-job", Method: http.MethodGet, Path: "/api/jobs/{job}/proof.pdf", Responses: printed,
		Summary: "The proof of levels, from a revision and every record of the job",
	}, func(ctx context.Context, in *paperInput) (*paperOutput, error) {
		return v.paper(ctx, in, "proof", func(c *cab.Cab, p sheet.Paper) (sheet.Document, *phrase.Fault) { return c.Proof(p), nil })
	})
	huma.Register(api, huma.Operation{
		OperationID: "sheets-of-job", Method: http.MethodGet, Path: "/api/jobs/{job}/sheets.pdf", Responses: printed,
		Summary: "The job on paper: cards, cut sheets, stakes",
	}, func(ctx context.Context, in *paperInput) (*paperOutput, error) {
		return v.paper(ctx, in, "sheets", (*cab.Cab).Sheets)
	})
}

// paper opens a revision with its records and prints it.
func (v *Server) paper(ctx context.Context, in *paperInput, name string, lay func(*cab.Cab, sheet.Paper) (sheet.Document, *phrase.Fault)) (*paperOutput, error) {
	today, err := v.today(in.Today)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	r, b, err := v.bundle(ctx, in.Job, in.Revision)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	records, err := v.everyRecord(ctx, in.Job)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	c, f := cab.Open(cab.Opening{ID: in.Job, Bundle: b, Revision: r.Number, Language: phrase.Language(in.Language), Today: today, Records: records}, nil)
	if f != nil {
		return nil, v.fail(ctx, f)
	}
	paper, _ := sheet.PaperNamed(in.Paper)
	d, f := lay(c, paper)
	if f != nil {
		return nil, v.fail(ctx, f)
	}
	return &paperOutput{"application/pdf", "attachment; filename*=UTF-8''" + url.PathEscape(in.Job+"-"+name+".pdf"), sheet.PDF(d)}, nil
}

// everyRecord are the records of a job in their canonical form.
func (v *Server) everyRecord(ctx context.Context, job string) ([]string, error) {
	var out []string
	for after := int64(0); ; {
		list, err := v.store.Records(ctx, job, after, maxRead)
		if err != nil {
			return nil, err
		}
		for _, l := range list {
			out = append(out, string(l.Body))
			after = l.Cursor
		}
		if len(list) < maxRead {
			return out, nil
		}
	}
}
