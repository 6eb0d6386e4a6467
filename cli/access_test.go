package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// No screen of the page, in either language, dark or light, breaks a rule of
// WCAG 2.2 AA that axe-core 4.10 can find; and the number of the moment reaches
// the contrast of level AAA, 7:1.
func TestScreensAreAccessible(t *testing.T) {
	axe, err := os.ReadFile(filepath.Join("..", "web", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		t.Skip(`NOTICE: axe-core is not here; "npm ci" in web brings it`)
	}
	p := openPhone(t)
	p.isCalled("Ines")
	p.opens("/setup")
	p.sees("Set up")
	p.fills("tag", "S1")
	p.fills("east", "90")
	p.fills("north", "30")
	p.fills("reading", "6'-2\"")
	p.taps("Work it out", "The laser stands, keep S1")
	p.sees("S1 has its numbers")
	for _, look := range []struct {
		name string
		taps []string
	}{{"en", nil}, {"es", []string{"Español"}}, {"dark", []string{"Cabina oscura"}}} {
		p.opens("/me")
		p.taps(look.taps...)
		for name, hash := range map[string]string{"home": "/", "dig": "/dig/P2/S1", "none": "/dig/P2/A1", "setup": "/setup", "close": "/close/S1", "after": "/after/S1", "check": "/check", "map": "/map", "me": "/me"} {
			p.opens(hash)
			p.picture(look.name + "-" + name)
			p.violates(string(axe), look.name+" "+name)
			p.fits(look.name + " " + name)
			if name == "dig" {
				p.contrasts(".number.large", 7)
			}
		}
	}
	for name, size := range map[string][2]int64{"landscape": {844, 390}, "laptop": {1366, 768}} {
		p.do(chromedp.EmulateViewport(size[0], size[1], chromedp.EmulateScale(1)))
		for screen, hash := range map[string]string{"home": "/", "dig": "/dig/P2/S1", "setup": "/setup", "check": "/check"} {
			p.opens(hash)
			p.picture(name + "-" + screen)
			p.violates(string(axe), name+" "+screen)
			p.fits(name + " " + screen)
		}
	}
}

// fits holds that nothing is wider than the screen.
func (p *phone) fits(where string) {
	p.Helper()
	if over := evaluated[float64](p, `document.querySelector('main').scrollWidth - document.querySelector('main').clientWidth`); over > 0 {
		p.Errorf("%s is %v px wider than the screen", where, over)
	}
}

// violates runs axe and tells what it finds.
func (p *phone) violates(axe, where string) {
	p.Helper()
	script := axe + `; axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']}).then(r =>
		JSON.stringify(r.violations.map(v => ({id: v.id, nodes: v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + ' ' + n.failureSummary.slice(0, 160))}))))`
	out, err := chromedp.Run(p.ctx, chromedp.Evaluate[string](script, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatal(err)
	}
	var found []struct {
		ID    string
		Nodes []string
	}
	if err := json.Unmarshal([]byte(out), &found); err != nil {
		p.Fatal(err)
	}
	for _, v := range found {
		p.Errorf("%s: axe finds %s: %q", where, v.ID, v.Nodes)
	}
}

// contrasts holds the contrast of a text to its ground, by WCAG 2.2's relative
// luminance.
func (p *phone) contrasts(selector string, least float64) {
	p.Helper()
	got := evaluated[float64](p, `(() => {
		const e = document.querySelector(`+quotedJS(selector)+`);
		if (!e) return 0;
		const rgb = s => s.match(/[\d.]+/g).slice(0, 3).map(Number);
		const lum = c => { const [r, g, b] = c.map(v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b };
		const a = lum(rgb(getComputedStyle(e).color)), b = lum(rgb(getComputedStyle(e.closest('.sheet')).backgroundColor));
		return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05) })()`)
	if !(got >= least) {
		p.Errorf("the contrast of %s is %.2f, want at least %v", selector, got, least)
	}
	if size := evaluated[float64](p, `parseFloat(getComputedStyle(document.querySelector(`+quotedJS(selector)+`)).fontSize)`); !(size >= 96) {
		p.Errorf("%s is %v px, want at least 96", selector, size)
	}
}
