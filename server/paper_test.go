package server

import (
	"bytes"
	"net/http"
	"testing"

	"spadework/sheet"
)

// The proof of a job with its records is a PDF that carries every record; the
// sheets are one too. A paper that nobody makes is refused.
func TestTheProofComesAsAPDF(t *testing.T) {
	o := open(t)
	id := o.withExample()
	records := exampleLog(t)
	o.read(nil, http.StatusOK, "POST", "/api/jobs/"+id+"/records", text(map[string]any{"device": map[string]string{"id": "d", "name": "d"}, "records": records}))
	a := o.read(nil, http.StatusOK, "GET", "/api/jobs/"+id+"/proof.pdf?paper=a4&lang=es&today=2026-05-04", "")
	if kind := a.header.Get("Content-Type"); kind != "application/pdf" {
		t.Errorf("the proof is %q", kind)
	}
	st, f := sheet.ReadStatement(a.body)
	if f != nil {
		t.Fatal(f)
	}
	if len(st.Records) != len(records) || st.Language != "es" || st.Paper.Name != "a4" {
		t.Errorf("the proof has %d records in %s on %v, want %d in es on a4", len(st.Records), st.Language, st.Paper, len(records))
	}
	if a := o.read(nil, http.StatusOK, "GET", "/api/jobs/"+id+"/sheets.pdf", ""); !bytes.HasPrefix(a.body, []byte("%PDF-")) {
		t.Error("the sheets are no PDF")
	}
	o.read(nil, http.StatusNotFound, "GET", "/api/jobs/none/proof.pdf", "")
	o.read(nil, http.StatusUnprocessableEntity, "GET", "/api/jobs/"+id+"/proof.pdf?paper=napkin", "")
}

// An edit says who it is by; without a word it is this machine's.
func TestAnEditSaysWhoItIsBy(t *testing.T) {
	o := open(t)
	id := o.withExample()
	for _, c := range []struct{ header, want string }{{"In%C3%A9s", "Inés"}, {"%zz", somebody}, {"", somebody}} {
		var job JobBody
		o.read(&job, http.StatusOK, "GET", "/api/jobs/"+id, "")
		changed := exampleBundle(t, "alder-quay")
		changed.Files["job.toml"] += "\n# " + c.header + c.want + "\n"
		body := text(map[string]any{"bundle": changed})
		o.read(nil, http.StatusOK, "PUT", "/api/jobs/"+id, body, "If-Match", quoted(job.Revision), "Spadework-Person", c.header)
		o.read(&job, http.StatusOK, "GET", "/api/jobs/"+id, "")
		if job.Person != c.want {
			t.Errorf("an edit by %q is by %q, want %q", c.header, job.Person, c.want)
		}
	}
}
