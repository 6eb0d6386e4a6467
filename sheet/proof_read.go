package sheet

import (
	"bytes"
	"encoding/json"
	"io"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// Statement is what a proof says it rests on.
type Statement struct {
	Paper    Paper
	Language phrase.Language
	Today    string
	Foremen  []string
	Files    []SourceFile
	Records  []record.Record
	Canon    []byte // the whole, in its canonical form
}

// statementJSON is the embedded JSON as it is read; what the proof says of digs
// is compared as a whole.
type statementJSON struct {
	Format   int             `json:"format"`
	Paper    string          `json:"paper"`
	Language phrase.Language `json:"language"`
	Today    string          `json:"today"`
	Foremen  []string        `json:"foremen"`
	Files    []struct {
		Name   string `json:"name"`
		SHA256 string `json:"sha256"`
	} `json:"files"`
	Records []json.RawMessage `json:"records"`
	Job     json.RawMessage   `json:"job"`
	Digs    json.RawMessage   `json:"digs"`
	Heads   json.RawMessage   `json:"heads"`
	Digest  string            `json:"digest"`
}

// ReadStatement reads what a proof rests on from its PDF.
func ReadStatement(pdf []byte) (Statement, *phrase.Fault) {
	data, f := Attached(pdf)
	if f != nil {
		return Statement{}, f
	}
	var in statementJSON
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&in); err != nil {
		return Statement{}, notOurs(err.Error())
	}
	if _, err := d.Token(); err != io.EOF {
		return Statement{}, notOurs("more after the end")
	}
	paper, ok := PaperNamed(in.Paper)
	if in.Format != proofFormat || !ok || in.Language != phrase.English && in.Language != phrase.Spanish {
		return Statement{}, notOurs("format, paper, language")
	}
	out := Statement{Paper: paper, Language: in.Language, Today: in.Today, Foremen: in.Foremen, Canon: data}
	for _, one := range in.Files {
		h, ok := record.ParseHash(one.SHA256)
		if !ok {
			return Statement{}, notOurs("sha256")
		}
		out.Files = append(out.Files, SourceFile{one.Name, h})
	}
	for _, raw := range in.Records {
		r, f := record.Decode(raw)
		if f != nil {
			return Statement{}, f
		}
		out.Records = append(out.Records, r)
	}
	return out, nil
}

func notOurs(detail string) *phrase.Fault {
	return phrase.NewFault(phrase.New("proven.not_ours", phrase.With("detail", detail)), phrase.New("proven.not_ours.remedy"))
}

// CompareFiles tells how files differ from those that a proof was made from.
func (s Statement) CompareFiles(now []SourceFile) []phrase.Message {
	var out []phrase.Message
	have := map[string]record.Hash{}
	for _, f := range now {
		have[f.Name] = f.SHA256
	}
	for _, f := range s.Files {
		switch h, ok := have[f.Name]; {
		case !ok:
			out = append(out, phrase.New("proven.file_gone", phrase.With("file", f.Name)))
		case h != f.SHA256:
			out = append(out, phrase.New("proven.file_changed", phrase.With("file", f.Name)))
		}
		delete(have, f.Name)
	}
	for _, f := range now {
		if _, more := have[f.Name]; more {
			out = append(out, phrase.New("proven.file_more", phrase.With("file", f.Name)))
		}
	}
	return out
}

// CompareRecords tells how a log differs from the records of a proof; later counts
// those that came after it.
func (s Statement) CompareRecords(log []record.Record) (differs []phrase.Message, later int) {
	seen, after := record.Until(log, record.Verify(s.Records))
	have, wanted := map[record.Hash]bool{}, map[record.Hash]bool{}
	ids := map[record.ID]bool{}
	for _, r := range seen {
		have[r.Hash()], ids[r.ID] = true, true
	}
	told := map[record.ID]bool{}
	for _, r := range s.Records {
		wanted[r.Hash()] = true
		if have[r.Hash()] {
			continue
		}
		key := phrase.Key("proven.record_gone")
		if ids[r.ID] {
			key = "proven.record_changed"
		}
		told[r.ID] = true
		differs = append(differs, recordMessage(key, r))
	}
	for _, r := range seen {
		if !wanted[r.Hash()] && !told[r.ID] {
			differs = append(differs, recordMessage("proven.record_more", r))
		}
	}
	return differs, len(after)
}

func recordMessage(key phrase.Key, r record.Record) phrase.Message {
	return phrase.New(key, phrase.With("seq", int(r.Seq)), phrase.With("device", r.Device))
}
