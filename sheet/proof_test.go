package sheet

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/unit"
)

// logOf is the log of an example.
func logOf(t testing.TB, name string) []record.Record {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(examplesFolder, name, "job.log.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	var out []record.Record
	for line := range bytes.Lines(data) {
		r, f := record.Decode(bytes.TrimRight(line, "\n"))
		if f != nil {
			t.Fatal(f)
		}
		out = append(out, r)
	}
	return out
}

// more adds records of a phone of its own at the end of a log.
func more(t testing.TB, log []record.Record, payloads ...record.Payload) []record.Record {
	t.Helper()
	var head record.Head
	for _, c := range record.Verify(log) {
		head.Clock = head.Clock.Seen(c.Head.Clock)
	}
	for i, p := range payloads {
		at := int64(1777930000000 + 60_000*i)
		d := record.Draft{Job: log[0].Job, Device: "phone-9", Person: "Bram", Revision: "C", Time: record.Stamp{Millis: at, Offset: -240}, Payload: p, Seen: p.Names()}
		r, next, f := head.Next(d, at, [10]byte{byte(i)})
		if f != nil {
			t.Fatal(f)
		}
		log, head = append(log, r), next
	}
	return log
}

// fullLog is the log of the quay with one of everything a proof tells.
func fullLog(t testing.TB) []record.Record {
	t.Helper()
	log := logOf(t, "alder-quay")
	hours, before, after := 1.5, unit.Volume(3), unit.Volume(4.25)
	var shot record.Record
	for _, r := range log {
		if s, ok := r.Payload.(*record.CheckShot); ok && s.Excavation == "P2" {
			shot = r
		}
	}
	return more(t, log,
		&record.Hold{Excavation: "P1", Hold: "bearing", By: "M. Rowe", Agency: "county", Passed: true},
		&record.Hold{Excavation: "P2", Hold: "steel", By: "M. Rowe", Agency: "county"},
		&record.Correction{Record: shot.ID, Of: record.KindShot, Reason: "read off the wrong face"},
		&record.Photo{Excavation: "P12", Digest: record.Hash{1, 2, 3}, Size: 9, Media: "image/jpeg", Words: "the ledge"},
		&record.Ticket{For: "rock", Excavation: "P12", Hours: &hours, Before: &before, After: &after, Words: "ledge broken out"},
		&record.SignOff{Role: "foreman", Words: "as shot"})
}

// proofOf is the proof of an edition of the quay.
func proofOf(t testing.TB, e edition, log []record.Record) Document {
	t.Helper()
	return Proof(e.plan, e.view, ProofInput{Records: log, Paper: e.paper, Files: []SourceFile{{"job.toml", record.Hash{7}}}})
}

func pageText(p Page) string {
	var b strings.Builder
	for _, it := range p.Items {
		b.WriteString(it.Text + " ")
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// TestProofPagesKeepTheLaw: both languages, systems and papers; texts keep their
// boxes, the first page says what is not proven, extra work stands apart.
func TestProofPagesKeepTheLaw(t *testing.T) {
	log := fullLog(t)
	for _, e := range editions(t, nil) {
		if !strings.HasPrefix(e.name, "alder") {
			continue
		}
		d := proofOf(t, e, log)
		for n, page := range d.Pages {
			if faults := lawless(page); len(faults) > 0 {
				t.Errorf("%s, page %d (%s):\n  %s", e.name, n+1, page.Title, strings.Join(faults, "\n  "))
			}
		}
		if first := pageText(d.Pages[0]); !strings.Contains(first, e.view.Text("proven.heights_only")) || !strings.Contains(first, "26-118") {
			t.Errorf("%s: the first page says %q", e.name, first)
		}
		last := pageText(d.Pages[len(d.Pages)-1])
		if !strings.Contains(last, "ledge broken out") || strings.Contains(pageText(d.Pages[0]), "ledge broken out") {
			t.Errorf("%s: extra work does not stand apart: %q", e.name, last)
		}
	}
}

func TestProofTellsEverythingAskedOfIt(t *testing.T) {
	e := edition{"quay", example(t, "alder-quay", nil), View{phrase.English, unit.Style{System: unit.Imperial, Face: unit.FaceInches, Fraction: 8}}, Letter}
	var all string
	for _, p := range proofOf(t, e, fullLog(t)).Pages {
		all += pageText(p) + " "
	}
	for _, want := range []string{
		"26-118", "S-101", "M. Rowe", "county", "passed", "NOT PASSED", "read off the wrong face", "drawing S-101",
		"read from BM2 on the first morning", "2026-04-20", "BM1 read 6'-2 1/2\"", "fill with blinding (REMEDY NOT IN)",
		"dry, light wind from the river", "the ledge (0102 0300 0000 0000)", "as shot", "SHOT TAKEN BACK", "For the crew",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("the proof does not say %q", want)
		}
	}
}

// TestProofCarriesWhatItRestsOn: out of the PDF comes what went in, with the same
// bytes every time, and every record the embedded JSON holds decodes.
func TestProofCarriesWhatItRestsOn(t *testing.T) {
	e := edition{"quay", example(t, "alder-quay", nil), View{phrase.Spanish, unit.Style{System: unit.Metric}}, A4}
	log := fullLog(t)
	pdf := PDF(proofOf(t, e, log))
	pdfObjects(t, pdf)
	if again := PDF(proofOf(t, e, log)); !bytes.Equal(pdf, again) {
		t.Error("the same proof has other bytes the second time")
	}
	s, f := ReadStatement(pdf)
	if f != nil {
		t.Fatal(f)
	}
	if s.Paper != A4 || s.Language != phrase.Spanish || s.Today != "2026-05-06" || len(s.Records) != len(log) {
		t.Errorf("ReadStatement = %v %v %q %d records, want A4 es 2026-05-06 %d", s.Paper, s.Language, s.Today, len(s.Records), len(log))
	}
	if record.Digest(s.Records) != record.Digest(log) {
		t.Error("the records in the PDF have another digest than the log")
	}
	var loose map[string]any
	if err := json.Unmarshal(s.Canon, &loose); err != nil || loose["digest"] != record.Digest(log).String() {
		t.Errorf("embedded JSON: %v, digest %v", err, loose["digest"])
	}
}

func TestProofIsHeldAgainstTheLog(t *testing.T) {
	e := edition{"quay", example(t, "alder-quay", nil), View{Language: phrase.English}, Letter}
	log := logOf(t, "alder-quay")
	s, f := ReadStatement(PDF(proofOf(t, e, log)))
	if f != nil {
		t.Fatal(f)
	}
	later := more(t, log, &record.Note{Words: "after the proof"})
	if differs, n := s.CompareRecords(later); len(differs) != 0 || n != 1 {
		t.Errorf("with one record after it: %v differ, %d later, want 0 and 1", differs, n)
	}
	if differs, _ := s.CompareRecords(log[1:]); len(differs) != 1 || differs[0].Key != "proven.record_gone" {
		t.Errorf("with the first record gone: %v", differs)
	}
	changed := append([]record.Record(nil), log...)
	changed[0].Person = "somebody else"
	if differs, _ := s.CompareRecords(changed); len(differs) != 1 || differs[0].Key != "proven.record_changed" {
		t.Errorf("with the first record changed: %v", differs)
	}
	short, f := ReadStatement(PDF(proofOf(t, e, log[1:])))
	if f != nil {
		t.Fatal(f)
	}
	if differs, _ := short.CompareRecords(log); len(differs) != 1 || differs[0].Key != "proven.record_more" {
		t.Errorf("with a record that the proof left out: %v", differs)
	}
	if d := s.CompareFiles([]SourceFile{{"ground.csv", record.Hash{1}}}); len(d) != 2 {
		t.Errorf("another file: %v, want one gone and one more", d)
	}
	if d := s.CompareFiles([]SourceFile{{"job.toml", record.Hash{8}}}); len(d) != 1 || d[0].Key != "proven.file_changed" {
		t.Errorf("a changed file: %v", d)
	}
}

// TestProofChance holds the chance of conformity against Φ by math.Erf
// (JCGM 106:2012, 7.3), U = 2u.
func TestProofChance(t *testing.T) {
	p := example(t, "alder-quay", nil)
	n := 0
	for _, d := range record.ProveLog(p, record.Replay(record.Input{Records: logOf(t, "alder-quay")})) {
		for _, pt := range d.Proofs {
			u := float64(pt.Expanded()) / 2
			if !(u > 0) || !pt.Known {
				t.Errorf("%s has no uncertainty or tolerance", d.Excavation)
				continue
			}
			phi := func(x float64) float64 { return (1 + math.Erf(x/math.Sqrt2)) / 2 }
			want := phi((float64(pt.Band.Above)-float64(pt.Value))/u) - phi((-float64(pt.Band.Below)-float64(pt.Value))/u)
			if got := float64(pt.Chance); !(math.Abs(got-want) < 1e-9) {
				t.Errorf("%s: chance = %.12f, want %.12f (tol 1e-9: two forms of Φ)", d.Excavation, got, want)
			}
			n++
		}
	}
	if n != 8 {
		t.Errorf("%d points proven, want the 8 of the log", n)
	}
}

func FuzzReadStatement(f *testing.F) {
	e := edition{"quay", example(f, "alder-quay", nil), View{Language: phrase.English}, Letter}
	f.Add(PDF(proofOf(f, e, logOf(f, "alder-quay")[:2])))
	f.Add([]byte("%PDF-1.7\n<< /Type /EmbeddedFile >>\nstream\nx"))
	f.Add([]byte("no pdf"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, fault := ReadStatement(data)
		if fault == nil && (s.Paper.Width == 0 || len(s.Canon) == 0) {
			t.Errorf("a statement without paper or bytes: %+v", s)
		}
	})
}
