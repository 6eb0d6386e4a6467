package server

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/store"
)

// Limits of a batch of records on the network.
const (
	maxPush  = 8 << 20 // bytes
	maxRead  = 1000    // records
	pushTime = 30 * time.Second
)

// Receipt is the server's word for the log up to a cursor.
type Receipt struct {
	Cursor    int64  `json:"cursor"`
	Link      string `json:"link" doc:"hash over all records till there"`
	Signed    int64  `json:"signed" doc:"milliseconds since 1970 UTC"`
	Signature string `json:"signature" doc:"Ed25519, hexadecimal"`
}

// Answer is what became of one record.
type Answer struct {
	ID      string `json:"id" doc:"empty where it was refused"`
	Outcome string `json:"outcome" enum:"stored,known,held,quarantined,refused"`
	Cursor  int64  `json:"cursor" doc:"in the log, 0 not there"`
	Reason  string `json:"reason" doc:"of held, quarantined and refused"`
}

type pushInput struct {
	Job     string `path:"job" maxLength:"200"`
	RawBody []byte `contentType:"application/json"`
}

type pushOutput struct {
	Body struct {
		Answers []Answer `json:"answers" nullable:"false"`
		Cursor  int64    `json:"cursor" doc:"of the newest record"`
		Receipt *Receipt `json:"receipt"`
		Now     int64    `json:"now" doc:"the server's clock, milliseconds since 1970 UTC"`
	}
}

type readInput struct {
	Job   string `path:"job" maxLength:"200"`
	After int64  `query:"after" minimum:"0"`
	Limit int    `query:"limit" minimum:"1" maximum:"1000" default:"500"`
}

// Logged is a record and its place in the log.
type Logged struct {
	Cursor int64           `json:"cursor"`
	Record json.RawMessage `json:"record"`
}

type readOutput struct {
	Body struct {
		Records []Logged `json:"records" nullable:"false"`
		Cursor  int64    `json:"cursor" doc:"to read on from"`
		More    bool     `json:"more"`
		Receipt *Receipt `json:"receipt"`
		Now     int64    `json:"now"`
	}
}

const pushPath = "/api/jobs/{job}/records"

// registerRecords adds pushing and reading of records.
func (v *Server) registerRecords(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "push-records", Method: http.MethodPost, Path: pushPath,
		Summary:      "Records by batch: repeated ones are known, each has its own answer, acknowledged after the commit",
		MaxBodyBytes: maxPush, BodyReadTimeout: pushTime, SkipValidateBody: true, // readPush does
	}, v.push)
	describePush(api, pushPath)
	huma.Register(api, huma.Operation{
		OperationID: "read-records", Method: http.MethodGet, Path: "/api/jobs/{job}/records", Summary: "Records after a cursor",
	}, v.readOn)
}

func (v *Server) push(ctx context.Context, in *pushInput) (*pushOutput, error) {
	body, err := readPush(in.RawBody)
	if err != nil {
		return nil, misread(ctx, err)
	}
	entries := make([]store.Entry, len(body.Records))
	for i, r := range body.Records {
		entries[i] = store.Entry{Body: r}
	}
	ack, err := v.store.Append(ctx, in.Job, entries)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out := &pushOutput{}
	out.Body.Answers = make([]Answer, len(ack.Answers))
	kept := 0
	for i, a := range ack.Answers {
		out.Body.Answers[i] = answerOf(a, languageOf(ctx))
		if a.Outcome == store.Stored {
			kept++
		}
	}
	out.Body.Receipt, out.Body.Now = receiptOf(ack.Receipt), v.now().UnixMilli()
	if ack.Receipt != nil {
		out.Body.Cursor = ack.Receipt.Cursor
	}
	v.counts.records.Add(int64(kept))
	if kept > 0 {
		v.wake.tell(in.Job)
	}
	return out, nil
}

// misread tells a body that is not as described, or no JSON at all.
func misread(ctx context.Context, err error) error {
	p := told(fault(phrase.Invalid, "server.request", phrase.With("detail", err.Error())), languageOf(ctx))
	var m misfit
	if !errors.As(err, &m) {
		p.status = http.StatusBadRequest
	}
	return p
}

func answerOf(a store.Answer, lang phrase.Language) Answer {
	out := Answer{Outcome: string(a.Outcome), Cursor: a.Cursor}
	if a.ID != (record.ID{}) {
		out.ID = a.ID.String()
	}
	if a.Why.Key != "" {
		out.Reason = a.Why.Render(lang, unit.Style{})
	}
	return out
}

func receiptOf(r *store.Receipt) *Receipt {
	if r == nil {
		return nil
	}
	return &Receipt{r.Cursor, r.Link, r.Signed, r.Signature}
}

func (v *Server) readOn(ctx context.Context, in *readInput) (*readOutput, error) {
	if _, err := v.store.Revision(ctx, in.Job, 0); err != nil {
		return nil, v.fail(ctx, err)
	}
	rows, err := v.store.Records(ctx, in.Job, in.After, in.Limit+1)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	receipt, err := v.store.Receipt(ctx, in.Job)
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out := &readOutput{}
	out.Body.More = len(rows) > in.Limit
	rows = rows[:min(len(rows), in.Limit)]
	out.Body.Cursor = in.After
	out.Body.Records = make([]Logged, len(rows))
	for i, r := range rows {
		out.Body.Records[i] = Logged{r.Cursor, r.Body}
		out.Body.Cursor = r.Cursor
	}
	out.Body.Receipt, out.Body.Now = receiptOf(receipt), v.now().UnixMilli()
	return out, nil
}
