package cli

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// A phone without a network prints the job: the file has the bytes that the
// command line makes of the same job and records. The module came in idle time.
func TestPhonePrintsTheSheetsWithoutANetwork(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.taps("Me")
	p.sees("ready to work offline")
	folder := jobFolder(t, p.url)
	if !p.comes(`(caches.match('/sheets.wasm').then(r => { window.keptSheets = !!r }), !!window.keptSheets)`) {
		t.Fatal("the sheets' module did not come by itself")
	}
	p.line.cut(true)
	p.do(chromedp.Reload())
	p.sees("no signal")
	p.opens("/me")
	p.sees("All sheets of the job as a PDF")
	p.picture("sheets")
	evaluated[bool](p, `(() => { const make = URL.createObjectURL.bind(URL);
		URL.createObjectURL = b => { b.arrayBuffer().then(a => { let s = ''; const u = new Uint8Array(a);
			for (let i = 0; i < u.length; i += 8192) s += String.fromCharCode(...u.subarray(i, i + 8192)); window.printed = btoa(s) }); return make(b) };
		return true })()`)
	p.taps("A4")
	if !p.comes(`!!window.printed`) {
		p.picture("failed")
		t.Fatalf("no file came; the page says %q", p.text())
	}
	got, err := base64.StdEncoding.DecodeString(evaluated[string](p, `window.printed`))
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "job.pdf")
	var said, faults words
	args := []string{"sheets", folder, "-o", out, "--paper", "a4", "--lang", "en", "--today", time.Now().Format("2006-01-02"), "--link", p.url}
	if status := Run(context.Background(), args, Streams{Out: &said, Err: &faults}); status != statusOK {
		t.Fatalf("sheets ends with %d: %s", status, faults.String())
	}
	want, err := os.ReadFile(out)
	if err != nil || len(want) < 100_000 || !bytes.Equal(got, want) {
		t.Errorf("the page prints %d bytes, %v, want the %d of the command line", len(got), err, len(want))
	}
}

// comes waits till a script gives true.
func (p *phone) comes(script string) bool {
	p.Helper()
	for range 1200 {
		if evaluated[bool](p, script) {
			return true
		}
		time.Sleep(100 * time.Millisecond)
	}
	return false
}

// jobFolder is the server's first job with its records, as the command line
// reads them.
func jobFolder(t *testing.T, server string) string {
	t.Helper()
	var list struct{ Jobs []struct{ ID string } }
	fetchJSON(t, server+"api/jobs", &list)
	var job struct {
		Bundle struct {
			Main  string
			Files map[string]string
		}
	}
	at := server + "api/jobs/" + url.PathEscape(list.Jobs[0].ID)
	fetchJSON(t, at, &job)
	var log struct {
		Records []struct{ Record json.RawMessage }
		More    bool
	}
	fetchJSON(t, at+"/records", &log)
	if log.More || len(log.Records) == 0 {
		t.Fatalf("%d records and more: %v, want some and all", len(log.Records), log.More)
	}
	folder := t.TempDir()
	job.Bundle.Files["job.log.jsonl"] = ""
	for _, r := range log.Records {
		job.Bundle.Files["job.log.jsonl"] += string(r.Record) + "\n"
	}
	for name, text := range job.Bundle.Files {
		if name == job.Bundle.Main {
			name = "job.toml"
		}
		path := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

func fetchJSON(t *testing.T, address string, into any) {
	t.Helper()
	answer, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if err := json.NewDecoder(answer.Body).Decode(into); err != nil || answer.StatusCode != http.StatusOK {
		t.Fatalf("GET %s = %d, %v", address, answer.StatusCode, err)
	}
}

// A card's code opens the card.
func TestCardsCodeOpensTheCard(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.sees("Digs")
	p.do(chromedp.Navigate(p.url + "#/dig/P8/A1"))
	p.sees("P8", "A1", "Points of the pattern")
	p.picture("card")
	p.do(chromedp.Navigate(p.url + "#/dig/P8/A1/Another%20yard"))
	p.sees("This card belongs to Another yard", "Do not dig by it")
}
