package cli

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"spadework/engine/plan"
)

// TestTimeToTheNumber tells how long a phone waits for its number, at a quarter
// of this machine's speed; SPADEWORK_LONG=1 runs it. It holds what is shown, not
// how fast: speed is told in docs/benchmarks.md.
func TestTimeToTheNumber(t *testing.T) {
	if os.Getenv("SPADEWORK_LONG") != "1" {
		t.Skip("SPADEWORK_LONG=1 measures")
	}
	p := openPhone(t)
	p.isCalled("Ines")
	p.opens("/setup")
	p.sees("Set up")
	for name, text := range map[string]string{"tag": "S1", "east": "90", "north": "30", "reading": "6'-2\""} {
		p.fills(name, text)
	}
	p.taps("Work it out", "The laser stands, keep S1")
	p.sees("S1 has its numbers")
	p.opens("/dig/P2/S1")
	p.sees("check every corner")
	p.opens("/me")
	p.sees("ready to work offline")
	p.opens("/dig/P2/S1")
	p.sees("check every corner")
	if _, err := chromedp.Run(p.ctx, func(ctx context.Context, _ *chromedp.Target) (chromedp.Void, error) {
		_, err := chromedp.Call(ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
		return chromedp.Void{}, err
	}); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		start := time.Now()
		p.do(chromedp.Reload())
		for evaluated[bool](p, `!document.querySelector('.number.large.live')`) {
			time.Sleep(5 * time.Millisecond)
		}
		stored := time.Since(start)
		for evaluated[bool](p, `!document.querySelector('.points')`) {
			time.Sleep(5 * time.Millisecond)
		}
		t.Logf("number from what is kept after %v, from the engine after %v", stored.Round(time.Millisecond), time.Since(start).Round(time.Millisecond))
	}
}

// TestBytesAndPlans tells what a first and a second visit send, how long a phone
// without anything waits for its first number, and how long a job of 500 digs is
// planned in the page and natively; SPADEWORK_LONG=1 runs it.
func TestBytesAndPlans(t *testing.T) {
	if os.Getenv("SPADEWORK_LONG") != "1" {
		t.Skip("SPADEWORK_LONG=1 measures")
	}
	p := openPhone(t)
	p.isCalled("Ines")
	p.setsUp()
	q := &phone{T: t, line: p.line, url: p.url}
	q.line.sent.Store(0)
	start := time.Now()
	q.browse(profileFolder(t))
	q.waits(".number.live")
	t.Logf("cold, not throttled: a number after %v", time.Since(start).Round(time.Millisecond))
	q.opens("/me")
	q.sees("ready to work offline")
	t.Logf("first visit: %d bytes", q.line.sent.Swap(0))
	q.do(chromedp.Reload())
	q.sees("in touch")
	t.Logf("second visit: %d bytes, the job and its records among them", q.line.sent.Swap(0))
}

// waits until the page has something.
func (p *phone) waits(selector string) {
	p.Helper()
	for evaluated[bool](p, `!document.querySelector('`+selector+`')`) {
		time.Sleep(5 * time.Millisecond)
	}
}

// A job of 500 pads under one set-up, as a page plans it and as it is planned here.
func TestPlanOf500Digs(t *testing.T) {
	if os.Getenv("SPADEWORK_LONG") != "1" {
		t.Skip("SPADEWORK_LONG=1 measures")
	}
	file := filepath.Join(t.TempDir(), "job.toml")
	if err := os.WriteFile(file, []byte(padJob(500)), 0o644); err != nil {
		t.Fatal(err)
	}
	j, err := readJob(file)
	if err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	made, fault := plan.Make(j)
	if fault != nil {
		t.Fatal(fault)
	}
	t.Logf("natively: %d digs, %d numbers, %v", len(made.Digs), len(made.Numbers), time.Since(start).Round(time.Millisecond))
	p := openPage(t, "serve", "--addr", "127.0.0.1:0", "--db", filepath.Join(t.TempDir(), "jobs.db"))
	p.sees("There is no job on this server yet.")
	p.chooses(file)
	p.waits(".digs")
	for range 3 {
		start := time.Now()
		p.do(chromedp.Reload())
		p.waits(".digs")
		t.Logf("in the page, from opening it: %v", time.Since(start).Round(time.Millisecond))
	}
}

// padJob is a level site with pads on a lattice.
func padJob(pads int) string {
	var b strings.Builder
	b.WriteString("[job]\nname = \"Pads\"\nunits = \"m\"\n[[datum]]\nid = \"D\"\nelevation = 50\n[[benchmark]]\nid = \"BM1\"\nat = [0, 0]\nelevation = 50\n" +
		"[ground]\nlevel = 50\n[[laser]]\nid = \"L1\"\naccuracy = \"1.5 mm per 30 m\"\nrange = 400\n[[rod]]\nid = \"rod\"\nface = \"metric\"\nshortest = 0.5\nlongest = 5\n" +
		"[[setup]]\nid = \"A1\"\nat = [60, 40]\nlaser = \"L1\"\nrod = \"rod\"\nbacksights = [{ benchmark = \"BM1\", rod = 1.5 }]\n")
	for i := range pads {
		fmt.Fprintf(&b, "[[excavation]]\nid = \"P%d\"\nkind = \"pad\"\nat = [%d, %d]\nsize = [2, 2]\nbottom = { below = 1.2, datum = \"D\" }\ntolerance = { above = 0.01, below = 0.02 }\n",
			i+1, 6*(i%25), 6*(i/25))
	}
	return b.String()
}
