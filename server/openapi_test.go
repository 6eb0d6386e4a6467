package server

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// description is as much of an OpenAPI 3.1 document as the tests read.
type description struct {
	OpenAPI    string
	Paths      map[string]map[string]operation
	Components struct{ Schemas map[string]schema }
}

type operation struct {
	OperationID string
	Parameters  []struct {
		Name, In string
		Schema   schema
	}
	RequestBody *struct {
		Content map[string]struct{ Schema schema }
	}
	Responses map[string]struct {
		Content map[string]struct{ Schema schema }
	}
}

type schema struct {
	Ref        string `json:"$ref"`
	Type       any    // a word or several
	Properties map[string]schema
	Required   []string
	Items      *schema
	Enum       []any
	Additional any `json:"additionalProperties"`
}

func (s schema) is(kind string) bool {
	switch t := s.Type.(type) {
	case string:
		return t == kind
	case []any:
		return slices.Contains(t, any(kind))
	}
	return false
}

// described reads the document of a running server.
func (o *office) described() description {
	o.Helper()
	var d description
	o.read(&d, http.StatusOK, "GET", "/api/openapi.json", "")
	return d
}

func (d description) resolve(s schema) schema {
	if name, ok := strings.CutPrefix(s.Ref, "#/components/schemas/"); ok {
		return d.Components.Schemas[name]
	}
	return s
}

// fits says where a value does not fit its schema: types, required members and
// members that are not told.
func (d description) fits(s schema, v any, at string) string {
	s = d.resolve(s)
	if s.Type == nil {
		return ""
	}
	switch v := v.(type) {
	case nil:
		if s.is("null") {
			return ""
		}
	case bool:
		if s.is("boolean") {
			return ""
		}
	case string:
		if s.is("string") && (len(s.Enum) == 0 || slices.Contains(s.Enum, any(v))) {
			return ""
		}
	case float64:
		if s.is("number") || s.is("integer") {
			return ""
		}
	case []any:
		if !s.is("array") {
			break
		}
		for _, one := range v {
			if wrong := d.fits(*s.Items, one, at+"[]"); wrong != "" {
				return wrong
			}
		}
		return ""
	case map[string]any:
		return d.fitsObject(s, v, at)
	}
	return at + " is not as described"
}

func (d description) fitsObject(s schema, v map[string]any, at string) string {
	if !s.is("object") {
		return at + " is an object"
	}
	for _, name := range s.Required {
		if _, there := v[name]; !there {
			return at + "." + name + " is missing"
		}
	}
	for _, name := range slices.Sorted(maps.Keys(v)) {
		member, told := s.Properties[name]
		switch {
		case told:
			if wrong := d.fits(member, v[name], at+"."+name); wrong != "" {
				return wrong
			}
		case s.Additional == false:
			return at + "." + name + " is not told"
		}
	}
	return ""
}

// The document tells the answers as the running server gives them.
func TestDescriptionIsTrue(t *testing.T) {
	o := open(t)
	id, log := o.withExample(), exampleLog(t)
	d := o.described()
	if !strings.HasPrefix(d.OpenAPI, "3.1") {
		t.Errorf("openapi %q, want 3.1", d.OpenAPI)
	}
	cases := []struct{ id, method, path, template, body, match string }{
		{"list-jobs", "GET", "/api/jobs", "/api/jobs", "", ""},
		{"get-job", "GET", "/api/jobs/" + id, "/api/jobs/{job}", "", ""},
		{"save-job", "PUT", "/api/jobs/" + id, "/api/jobs/{job}", text(map[string]any{"bundle": exampleBundle(t, "alder-quay")}), `"1"`},
		{"push-records", "POST", "/api/jobs/" + id + "/records", "/api/jobs/{job}/records", text(map[string]any{"device": map[string]string{"id": "d", "name": "n"}, "records": log}), ""},
		{"read-records", "GET", "/api/jobs/" + id + "/records", "/api/jobs/{job}/records", "", ""},
		{"new-job", "POST", "/api/jobs", "/api/jobs", text(map[string]any{"id": "another", "bundle": exampleBundle(t, "fennel-yard")}), ""},
		{"no job", "GET", "/api/jobs/nobody", "/api/jobs/{job}", "", ""},
	}
	for _, c := range cases {
		a := o.ask(c.method, c.path, c.body, "If-Match", c.match)
		op, told := d.Paths[c.template][strings.ToLower(c.method)]
		if !told {
			t.Errorf("%s is not described", c.id)
			continue
		}
		code := http.StatusText(a.status)
		answer, told := op.Responses[itoa(a.status)]
		if !told {
			answer, told = op.Responses["default"]
		}
		if !told {
			t.Errorf("%s answers %d %s, which is not described", c.id, a.status, code)
			continue
		}
		var v any
		if err := json.Unmarshal(a.body, &v); err != nil {
			t.Fatal(err)
		}
		media := answer.Content["application/json"]
		if media.Schema.Ref == "" && media.Schema.Type == nil {
			for _, m := range answer.Content {
				media = m
			}
		}
		if wrong := d.fits(media.Schema, v, c.id); wrong != "" {
			t.Errorf("%s: %s in %.200s", c.id, wrong, a.body)
		}
	}
}

func itoa(n int) string { return text(n) }

// drawn is a value that fits a schema, or now and then does not.
func (d description) drawn(t *rapid.T, s schema, depth int) any {
	s = d.resolve(s)
	if depth > 6 || rapid.IntRange(0, 11).Draw(t, "odd") == 0 {
		return rapid.SampledFrom([]any{nil, true, -1, 1e300, "", "../../etc/passwd", "\x00", strings.Repeat("9", 400), []any{}, map[string]any{}}).Draw(t, "oddity")
	}
	switch {
	case s.is("object"):
		out := map[string]any{}
		for _, name := range slices.Sorted(maps.Keys(s.Properties)) {
			if rapid.IntRange(0, 9).Draw(t, "given") > 0 {
				out[name] = d.drawn(t, s.Properties[name], depth+1)
			}
		}
		if s.Additional != nil && s.Additional != false {
			out[rapid.SampledFrom([]string{"job.toml", "../x", "ground.csv"}).Draw(t, "name")] = rapid.String().Draw(t, "text")
		}
		return out
	case s.is("array"):
		out := []any{}
		for range rapid.IntRange(0, 3).Draw(t, "count") {
			out = append(out, d.drawn(t, *s.Items, depth+1))
		}
		return out
	case s.is("integer"), s.is("number"):
		return rapid.SampledFrom([]any{0, 1, 2, 1.5, int64(1) << 62}).Draw(t, "number")
	case s.is("boolean"):
		return rapid.Bool().Draw(t, "flag")
	}
	return rapid.OneOf(rapid.SampledFrom([]string{"job.toml", "alder-quay", "1"}), rapid.String()).Draw(t, "text")
}

// No request that the document describes, or nearly so, makes the server fail.
func TestDescribedRequestsNeverFailTheServer(t *testing.T) {
	o := open(t)
	id := o.withExample()
	d := o.described()
	type one struct{ path, method string }
	var all []one
	for path, operations := range d.Paths {
		for method := range operations {
			all = append(all, one{path, method})
		}
	}
	slices.SortFunc(all, func(a, b one) int { return strings.Compare(a.path+a.method, b.path+b.method) })
	if len(all) < 8 {
		t.Fatalf("%d operations are described, want at least 8", len(all))
	}
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.SampledFrom(all).Draw(t, "operation")
		op := d.Paths[q.path][q.method]
		path, query, headers := q.path, url.Values{}, map[string]string{}
		for _, p := range op.Parameters {
			value := strings.Trim(text(d.drawn(t, p.Schema, 5)), `"`)
			if p.Name == "job" && rapid.Bool().Draw(t, "known") {
				value = id
			}
			switch p.In {
			case "path":
				path = strings.ReplaceAll(path, "{"+p.Name+"}", url.PathEscape(value))
			case "query":
				query.Set(p.Name, value)
			case "header":
				if !strings.ContainsFunc(value, func(r rune) bool { return r < ' ' || r > '~' }) {
					headers[p.Name] = value
				}
			}
		}
		body := ""
		if op.RequestBody != nil {
			for _, media := range op.RequestBody.Content {
				body = text(d.drawn(t, media.Schema, 0))
			}
		}
		status, answer := o.try(t, strings.ToUpper(q.method), path+"?"+query.Encode(), body, headers)
		if status >= 500 || status == 0 {
			t.Fatalf("%s %s with %.300s = %d %.300s, want less than 500", q.method, path, body, status, answer)
		}
	})
}

// try sends a request and reads what comes within a moment: a stream has no end.
func (o *office) try(t *rapid.T, method, path, body string, headers map[string]string) (int, []byte) {
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	r, err := http.NewRequestWithContext(ctx, method, o.url+path, strings.NewReader(body))
	if err != nil {
		t.Skip("no such address")
	}
	r.Header.Set("Content-Type", "application/json")
	for name, value := range headers {
		r.Header.Set(name, value)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if strings.HasPrefix(answer.Header.Get("Content-Type"), "text/event-stream") {
		return answer.StatusCode, nil
	}
	data, err := io.ReadAll(answer.Body)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Fatal(err)
	}
	return answer.StatusCode, data
}
