package cli

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// screens are the sizes that a foreman works at.
var screens = []struct {
	name          string
	width, height int64
	mobile        bool
}{{"laptop", 1280, 800, false}, {"phone", 390, 844, true}}

// sized gives a page one of the foreman's screens.
func (p *phone) sized(width, height int64, mobile bool) {
	p.Helper()
	if mobile {
		p.do(chromedp.EmulateViewport(width, height, chromedp.EmulateScale(2), chromedp.EmulateMobile))
		return
	}
	p.do(chromedp.EmulateViewport(width, height))
}

// enters writes into a field and leaves it, as a person does.
func (p *phone) enters(field, text string) {
	p.Helper()
	script := `(() => { const all = [...document.querySelectorAll('[name=` + quotedJS(field) + `]')].filter(e => e.offsetParent !== null); const e = all[0]; if (!e) return false;
		e.scrollIntoView({block: 'center'}); e.focus(); e.value = ` + quotedJS(text) + `; e.dispatchEvent(new Event('input', {bubbles: true})); e.dispatchEvent(new Event('change', {bubbles: true})); return true })()`
	for range 100 {
		if evaluated[bool](p, script) {
			time.Sleep(150 * time.Millisecond)
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	p.picture("failed")
	p.Fatalf("no field %q; the page says %q", field, p.text())
}

// tapsAt taps a place of an element, told in shares of its width and height.
func (p *phone) tapsAt(selector string, x, y float64) {
	p.Helper()
	box := evaluated[[]float64](p, `(() => { const e = document.querySelector(`+quotedJS(selector)+`); e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); return [r.left, r.top, r.width, r.height] })()`)
	p.do(chromedp.MouseClickXY(box[0]+x*box[2], box[1]+y*box[3]))
	time.Sleep(300 * time.Millisecond)
}

// A foreman on an empty server comes to a first number on the page alone.
func TestForemanComesToAFirstNumber(t *testing.T) {
	for _, s := range screens {
		t.Run(s.name, func(t *testing.T) {
			p := openPage(t, "serve", "--addr", "127.0.0.1:0", "--db", filepath.Join(t.TempDir(), "jobs.db"))
			p.sized(s.width, s.height, s.mobile)
			start := time.Now()
			p.sees("There is no job on this server yet.", "Begin a job here")
			p.picture("empty")
			p.enters("jobname", "Tern Wharf shed")
			p.enters("person", "Ines")
			p.taps("Begin")
			p.sees("Still missing for a first number")
			p.picture("missing")
			p.enters("bmz", "100.00")
			p.enters("east", "30")
			p.enters("north", "20")
			p.enters("size", "4")
			p.enters("bottom", "96.50")
			p.taps("Work it out")
			p.sees("F1")
			p.lacks("Still missing")
			p.picture("planned")
			p.taps("Save")
			p.sees("Saved as revision 2")
			p.opens("/setup")
			p.sees("I have set the laser somewhere")
			p.enters("east", "10")
			p.enters("north", "10")
			p.enters("reading", `5'-2"`)
			p.taps("Work it out")
			p.sees("HI 105.17", "Serves")
			p.taps("The laser stands, keep")
			p.sees("has its numbers")
			p.opens("/dig/F1")
			// 100.00 + 5'-2" − 96.50 = 8.667 ft = 8'-8" (by hand)
			p.sees("8'-8\"")
			p.picture("number")
			t.Logf("the first number after %s of the browser's time, 9 fields and 6 taps", time.Since(start).Round(time.Second))
			if len(p.foreign) > 0 {
				t.Errorf("the page asks foreign hosts: %v", p.foreign)
			}
			_ = strings.TrimSpace
		})
	}
}
