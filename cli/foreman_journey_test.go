package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"image"
	"image/color"
	"image/png"
	"net/http"
	"os"
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
		e.scrollIntoView({block: 'center'}); e.focus(); e.value = ` + jsText(text) + `; e.dispatchEvent(new Event('input', {bubbles: true})); e.dispatchEvent(new Event('change', {bubbles: true})); return true })()`
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
		})
	}
}

// beside opens the page of the same server in a further browser: another person.
func (p *phone) beside(name string) *phone {
	p.Helper()
	other := &phone{T: p.T, line: p.line, url: p.url, shots: p.shots}
	other.browse(profileFolder(p.T))
	other.sized(1280, 800, false)
	other.isCalled(name)
	return other
}

// onServer is the newest revision of the server's first job and who saved it.
func (p *phone) onServer() (revision int, person string) {
	p.Helper()
	var jobs struct {
		Jobs []struct {
			ID string
		}
	}
	p.get("api/jobs", &jobs)
	var body struct {
		Revision int
		Person   string
	}
	p.get("api/jobs/"+jobs.Jobs[0].ID, &body)
	return body.Revision, body.Person
}

func (p *phone) get(path string, into any) {
	p.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	q, err := http.NewRequestWithContext(ctx, http.MethodGet, p.url+path, http.NoBody)
	if err != nil {
		p.Fatal(err)
	}
	answer, err := http.DefaultClient.Do(q)
	if err != nil {
		p.Fatal(err)
	}
	defer answer.Body.Close()
	if err := json.NewDecoder(answer.Body).Decode(into); err != nil {
		p.Fatal(err)
	}
}

// picks chooses files in a field told by its name.
func (p *phone) picks(field, file string) {
	p.Helper()
	path, err := filepath.Abs(file)
	if err != nil {
		p.Fatal(err)
	}
	p.do(chromedp.SetUploadFiles(chromedp.CSS("input[name="+field+"]"), []string{path}))
}

// drawing is a picture of an invented drawing: two pads and the crossings of its
// axes at (100, 500) and (700, 100) pixels.
func drawing(t *testing.T) string {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 800, 600))
	for y := range 600 {
		for x := range 800 {
			c := color.RGBA{255, 255, 255, 255}
			if x == 100 || x == 700 || y == 500 || y == 100 || (x > 280 && x < 340 && y > 260 && y < 320) || (x > 460 && x < 520 && y > 260 && y < 320) {
				c = color.RGBA{40, 40, 40, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	var out bytes.Buffer
	file := filepath.Join(t.TempDir(), "K-7.png")
	if err := png.Encode(&out, m); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// From an empty server: a drawing is laid under the map, digs are tapped on it, a
// schedule is pasted, laser, rod and machine are entered, and the laser is set up.
func TestForemanMakesAJobFromADrawing(t *testing.T) {
	for _, s := range screens {
		t.Run(s.name, func(t *testing.T) {
			p := openPage(t, "serve", "--addr", "127.0.0.1:0", "--db", filepath.Join(t.TempDir(), "jobs.db"))
			p.sized(s.width, s.height, s.mobile)
			p.sees("Begin a job here")
			p.enters("jobname", "Tern Wharf shed")
			p.enters("person", "Ines")
			p.taps("Begin")
			p.sees("Still missing")
			p.laysADrawing(drawing(t))
			p.entersEquipment()
			p.opens("/plan")
			p.sees("Draw a dig on the map")
			p.enters("drawkind", "pad")
			p.sees("Tap two opposite corners")
			p.enters("drawbottom", "96.50")
			p.tapsAt(".site canvas", 0.40, 0.45)
			p.tapsAt(".site canvas", 0.46, 0.53)
			p.sees("P1 is drawn")
			p.picture("tapped")
			p.opens("/plan/schedule")
			p.enters("pasted", "Marca;E;N;B;L;Fondo\nF1;20;15;4'-6\";4'-6\";96,25\nF2;35;15;4'-6\";1,40 m;96,25\n")
			p.sees("Keep these 2 digs", "Bottom, elevation", "decimal comma")
			p.picture("pasted")
			p.taps("Keep these 2 digs")
			p.sees("2 digs are in the draft")
			p.opens("/plan")
			p.sees("F1", "F2", "P1")
			p.taps("Undo")
			p.lacks("F2")
			p.taps("Redo")
			p.sees("F2")
			p.picture("map")
			p.opens("/plan/sheets/plan")
			p.sees("F2")
			p.picture("levels")
			p.taps("Save")
			p.sees("Saved as revision 2")
			p.opens("/setup")
			p.enters("east", "25")
			p.enters("north", "30")
			p.enters("reading", "5'-2\"")
			p.taps("Work it out")
			p.sees("HI 105.17")
			p.taps("The laser stands, keep")
			p.sees("has its numbers")
			p.opens("/dig/F1")
			p.sees("8'-11\"") // 100.00 + 5'-2" − 96.25 = 8.917 ft (by hand)
		})
	}
}

// laysADrawing chooses a picture and tells where two of its points lie.
func (p *phone) laysADrawing(file string) {
	p.Helper()
	p.opens("/plan/drawing")
	p.sees("A drawing under the map")
	p.picks("drawing", file)
	p.sees("Tap the first known point")
	p.tapsAt(".sheetpage img", 0.125, 5.0/6)
	p.tapsAt(".sheetpage img", 0.875, 1.0/6)
	p.sees("Say where both lie")
	for field, text := range map[string]string{"right0": "100", "down0": "500", "east0": "0", "north0": "0", "right1": "700", "down1": "100", "east1": "60", "north1": "40"} {
		p.enters(field, text)
	}
	p.picture("drawing")
	p.taps("Lay it under the map")
	p.sees("lies under the map")
}

// entersEquipment gives a benchmark, a laser, a rod and a machine by the forms.
func (p *phone) entersEquipment() {
	p.Helper()
	p.opens("/plan/form/levels")
	p.taps("Add: Benchmark")
	p.sees("BM1")
	p.enters("benchmark.0.elevation", "100.00")
	p.taps("What else can be said")
	p.enters("benchmark.0.at.0", "0")
	p.enters("benchmark.0.at.1", "0")
	p.sees("Undo")
	p.opens("/plan/form/equipment")
	p.taps("Add: Laser")
	p.sees("Accuracy, as on its sheet")
	p.enters("laser.0.accuracy", "10\"")
	p.enters("laser.0.range", "800")
	p.taps("Add: Rod")
	p.sees("Face")
	p.enters("rod.0.face", "inches")
	p.enters("rod.0.longest", "16")
	p.taps("Add: Machine")
	p.sees("M1")
	p.picture("equipment")
}

// A page of a PDF lies under the map as well; what reads it comes from this host.
func TestForemanLaysAPageOfAPDF(t *testing.T) {
	p := openPhone(t)
	p.sized(1280, 800, false)
	p.isCalled("Ines")
	file := filepath.Join(t.TempDir(), "sheets.pdf")
	var out, faults bytes.Buffer
	if status := Run(context.Background(), []string{"sheets", filepath.Join("..", "examples", "alder-quay"), "-o", file}, Streams{Out: &out, Err: &faults}); status != statusOK {
		t.Fatalf("sheets ends with %d, %q, %q", status, out.String(), faults.String())
	}
	p.opens("/plan/drawing")
	p.sees("A drawing under the map")
	p.picks("drawing", file)
	p.sees("Page, of", "Tap the first known point")
	p.picture("page")
	if n := evaluated[float64](p, `document.querySelector('.sheetpage img').naturalWidth`); !(n > 1000) {
		t.Errorf("the page is %v pixels wide", n)
	}
	if len(p.foreign) > 0 {
		t.Errorf("the page asks foreign hosts: %v", p.foreign)
	}
}

// The drawing changes while a crew digs: the foreman changes a row of the schedule,
// and the phone in the cab is told and has the new number.
func TestTheDrawingChangesWhileACrewDigs(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.setsUp()
	p.opens("/dig/P2/S1")
	p.sees("Points of the pattern")
	before := evaluated[string](p, `document.querySelector('.number.large').innerText`)
	foreman := p.beside("Omar")
	foreman.opens("/plan/schedule")
	foreman.taps("Change footings.csv")
	foreman.sees("Keep these 24 digs")
	text := evaluated[string](foreman, `document.querySelector('[name=pasted]').value`)
	changed := strings.Replace(text, "P2,\"B/FTG 3'-10 1/2\"\" below FFL-A\",64,60,\"4'-6\"\"\",\"4'-6\"\"\",\"3'-10 1/2\"\"\"", "P2,\"B/FTG 4'-10 1/2\"\" below FFL-A\",64,60,\"4'-6\"\"\",\"4'-6\"\"\",\"4'-10 1/2\"\"\"", 1)
	if changed == text {
		t.Fatalf("the row of P2 is not as expected: %q", text[:300])
	}
	evaluated[bool](foreman, `(() => { const e = document.querySelector('[name=pasted]'); e.value = `+jsText(changed)+`; e.dispatchEvent(new Event('input', {bubbles: true})); return true })()`)
	foreman.sees("Keep these 24 digs")
	foreman.taps("Keep these 24 digs")
	foreman.sees("24 digs are in the draft")
	foreman.picture("changed")
	foreman.taps("Save")
	foreman.sees("Saved as revision 2")
	p.sees("revision 2")
	p.picture("told")
	p.opens("/dig/P2/S1")
	p.sees("bottom 99.46") // 104.50 − 4'-10 1/2" − 2" = 99.458 (by hand)
	if after := evaluated[string](p, `document.querySelector('.number.large').innerText`); after == before {
		t.Errorf("the number is still %q", after)
	}
	p.picture("new-number")
}

// jsText is a text as a script writes it.
func jsText(s string) string {
	data, err := json.Marshal(s)
	if err != nil {
		panic(err)
	}
	return string(data)
}

// End of shift: shots stand in the table and the charts, an over-dig has its
// remedy, hold points are passed, extra work has its photo, the job is handed over
// and signed, and the proof comes as a PDF.
func TestForemanEndsTheShift(t *testing.T) {
	for _, s := range screens {
		t.Run(s.name, func(t *testing.T) {
			p := openPhone(t)
			p.sized(s.width, s.height, s.mobile)
			p.isCalled("Ines")
			p.setsUp()
			p.opens("/dig/P2/S1")
			p.taps("Shot", "Low", "1\"")
			p.sees("over-dug")
			p.opens("/checks")
			p.sees("What it is worth", "P2", "Shots in their order", "To order, for the holes as dug")
			p.picture("built")
			p.opens("/checks/over")
			p.sees("Record an over-dig", "P2")
			p.enters("remedy", "filled with 2000 psi, engineer asked")
			p.enters("done", "yes")
			p.taps("Keep it")
			p.sees("The over-dig is in the record", "engineer asked")
			p.picture("over")
			p.opens("/checks/holds")
			p.taps("Looked at P2 bearing soil")
			p.enters("by", "a testing engineer")
			p.enters("agency", "county")
			p.taps("passed")
			p.sees("a testing engineer")
			p.picture("holds")
			p.opens("/checks/extra")
			p.enters("for", "rock")
			p.enters("hours", "2.5")
			p.enters("before", "10")
			p.enters("after", "14")
			p.enters("words", "ledge at the north side")
			p.picks("picture", drawing(t))
			p.taps("Keep it")
			p.sees("The ticket is in the record", "ledge at the north side")
			p.sees("2.5 hours")
			p.picture("ticket")
			p.opens("/checks/left")
			p.sees("Hand over")
			p.enters("to", "Omar")
			p.enters("words", "P2 open, fenced")
			evaluated[bool](p, `(document.querySelector('form.boxed').requestSubmit(), true)`)
			p.sees("Handed over", "P2 open, fenced")
			p.picture("left")
			p.opens("/checks/sign")
			evaluated[bool](p, `(document.querySelector('form.boxed').requestSubmit(), true)`)
			p.sees("Signed off", "The bottoms were shot as recorded")
			p.picture("signed")
			p.taps("Undo")
			p.sees("Undo")
			got := evaluatedLater(p, `fetch([...document.querySelectorAll('a[download]')].at(-1).href).then(async r => r.status + ' ' + r.headers.get('Content-Type') + ' ' + new TextDecoder().decode((await r.arrayBuffer()).slice(0, 5)))`)
			if got != "200 application/pdf %PDF-" {
				t.Errorf("the proof comes as %q", got)
			}
			p.opens("/dig/P2/S1")
			p.sees("No number now") // after a shift no tag has numbers
		})
	}
}

// evaluatedLater runs a script that answers later.
func evaluatedLater(p *phone, script string) string {
	p.Helper()
	out, err := chromedp.Run(p.ctx, chromedp.Evaluate[string](script, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatal(err)
	}
	return out
}

// Two foremen change one job: the second is told who was first, nothing is
// overwritten, and both versions are there to choose from.
func TestTwoForemenSaveOneJob(t *testing.T) {
	p := openPhone(t)
	p.sized(1280, 800, false)
	p.isCalled("Ines")
	other := p.beside("Omar")
	for _, one := range []struct {
		page    *phone
		revised string
	}{{p, "D"}, {other, "E"}} {
		one.page.line = p.line
		one.page.opens("/plan/form/job")
		one.page.sees("Revision of the drawing")
		one.page.enters("job.0.revision", one.revised)
		one.page.sees("Draft on revision 1")
	}
	p.taps("Save")
	p.sees("Saved as revision 2")
	other.sees("Revision 2 is on the server")
	other.taps("Save")
	other.sees("Somebody saved before you", "revision 2 by Ines", "Nothing was overwritten", "Revision of the drawing")
	other.picture("lost")
	if revision, person := p.onServer(); revision != 2 || person != "Ines" {
		t.Errorf("the server has revision %d by %s, want 2 by Ines", revision, person)
	}
	other.taps("Go on with revision 2")
	other.sees("Draw a dig on the map")
	other.opens("/plan/form/job")
	other.sees("Revision of the drawing")
	other.holds("job.0.revision", "D")
	other.taps("Undo")
	other.holds("job.0.revision", "E")
	other.taps("Save")
	other.sees("Saved as revision 3")
	if revision, person := p.onServer(); revision != 3 || person != "Omar" {
		t.Errorf("the server has revision %d by %s, want 3 by Omar", revision, person)
	}
}

// holds waits until a field has a value.
func (p *phone) holds(field, want string) {
	p.Helper()
	got := ""
	for range 100 {
		if got = evaluated[string](p, `document.querySelector('[name=`+quotedJS(field)+`]')?.value ?? ""`); got == want {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	p.picture("failed")
	p.Errorf("%s holds %q, want %q", field, got, want)
}

// No screen of the foreman's breaks a rule of WCAG 2.2 AA that axe-core can find,
// in either language, at either size, dark or light.
func TestForemansScreensAreAccessible(t *testing.T) {
	axe, err := os.ReadFile(filepath.Join("..", "web", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		t.Skip(`NOTICE: axe-core is not here; "npm ci" in web brings it`)
	}
	p := openPhone(t)
	p.isCalled("Ines")
	p.setsUp()
	p.opens("/dig/P2/S1")
	p.taps("Shot", "Low", "1\"")
	p.opens("/plan")
	p.sees("Draw a dig")
	for _, look := range []struct {
		name          string
		taps          []string
		width, height int64
		mobile        bool
	}{{"en", nil, 390, 844, true}, {"es", []string{"Español"}, 390, 844, true}, {"dark", []string{"Cabina oscura"}, 1280, 800, false}} {
		p.sized(look.width, look.height, look.mobile)
		p.opens("/me")
		p.taps(look.taps...)
		for _, hash := range []string{"/plan", "/plan/schedule", "/plan/drawing", "/plan/files", "/plan/race", "/plan/sheets/plan", "/plan/sheets/amounts", "/plan/sheets/why",
			"/plan/form/job", "/plan/form/levels", "/plan/form/ground", "/plan/form/digs", "/plan/form/equipment", "/plan/form/setups", "/plan/form/neighbours",
			"/plan/form/site", "/plan/form/trust", "/plan/form/earth", "/checks", "/checks/over", "/checks/holds", "/checks/extra", "/checks/left", "/checks/sign"} {
			p.opens(hash)
			time.Sleep(700 * time.Millisecond)
			evaluated[bool](p, `(document.querySelectorAll('main details').forEach(e => { e.open = true }), true)`)
			time.Sleep(200 * time.Millisecond)
			p.picture(look.name + strings.ReplaceAll(hash, "/", "-"))
			p.violates(string(axe), look.name+" "+hash)
		}
	}
}
