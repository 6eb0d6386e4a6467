package cli

import (
	"context"
	"errors"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"spadework/web"
)

// phone is a page in Chromium at a phone's size, on a server of its own.
type phone struct {
	*testing.T
	ctx     context.Context
	url     string
	line    *line  // to the server
	shots   string // folder of pictures
	browsed bool

	mu      sync.Mutex
	foreign []string
}

// line carries connections to a server and can be cut, as a phone loses its signal.
type line struct {
	listener net.Listener
	to       string
	mu       sync.Mutex
	isCut    bool
	open     map[net.Conn]bool
}

func newLine(t *testing.T, url string) *line {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	l := &line{listener: listener, to: strings.TrimSuffix(strings.TrimPrefix(url, "http://"), "/"), open: map[net.Conn]bool{}}
	t.Cleanup(func() { l.cut(true); listener.Close() })
	go func() {
		for {
			c, err := listener.Accept()
			if err != nil {
				return
			}
			go l.carry(c)
		}
	}()
	return l
}

func (l *line) url() string { return "http://" + l.listener.Addr().String() + "/" }

func (l *line) carry(c net.Conn) {
	defer c.Close()
	s, err := net.Dial("tcp", l.to)
	if err != nil {
		return
	}
	defer s.Close()
	l.mu.Lock()
	if l.isCut {
		l.mu.Unlock()
		return
	}
	l.open[c], l.open[s] = true, true
	l.mu.Unlock()
	done := make(chan struct{}, 2)
	go func() { io.Copy(s, c); done <- struct{}{} }() //nolint:errcheck // a cut line
	go func() { io.Copy(c, s); done <- struct{}{} }() //nolint:errcheck // a cut line
	<-done
	l.mu.Lock()
	defer l.mu.Unlock()
	delete(l.open, c)
	delete(l.open, s)
}

// cut ends every connection and refuses new ones, or lets them through again.
func (l *line) cut(on bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.isCut = on
	for c := range l.open {
		c.Close()
	}
}

// chromium is the browser's path; without one the journeys are told as skipped.
func chromium(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("NOTICE: no Chromium here; the page's journeys are not tested")
	return ""
}

// openPhone starts a demo and opens its page.
func openPhone(t *testing.T) *phone {
	t.Helper()
	return openPage(t, "demo", "--addr", "127.0.0.1:0")
}

// openPage starts a command that serves and opens its page.
func openPage(t *testing.T, args ...string) *phone {
	t.Helper()
	if !web.HasEngine() {
		t.Skip(`NOTICE: the engine's module is not here; "go generate ./web" makes it`)
	}
	path := chromium(t)
	ctx, stop := context.WithCancel(context.Background())
	var out, faults words
	status := make(chan int, 1)
	go func() {
		status <- Run(ctx, args, Streams{Out: &out, Err: &faults})
	}()
	t.Cleanup(func() {
		if got := stopped(t, stop, status); got != statusOK {
			t.Errorf("%s ends with %d and %q", args[0], got, faults.String())
		}
	})
	p := &phone{T: t, line: newLine(t, urlIn(t, &out)), shots: os.Getenv("SPADEWORK_SHOTS")}
	p.url = p.line.url()
	p.browse(path)
	return p
}

// browse opens the page in a browser of its own at a phone's size.
func (p *phone) browse(path string) {
	p.Helper()
	t := p.T
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.UserDataDir(profileFolder(t)), chromedp.Flag("lang", "en"), chromedp.Flag("disable-dev-shm-usage", true))
	allocated, end := chromedp.NewExecAllocator(context.Background(), options...)
	tab, closeTab := chromedp.NewContext(allocated)
	t.Cleanup(func() { closeTab(); end() })
	p.ctx = tab
	p.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile))
	if err := chromedp.Listen(tab, func(e any) {
		if q, ok := e.(*network.EventRequestWillBeSent); ok {
			p.asked(q.Request.URL)
		}
	}); err != nil {
		t.Fatal(err)
	}
	p.do(chromedp.Navigate(p.url))
}

// profileFolder is a folder for a browser's own files. The browser's children write
// there for a moment after it stopped, which would fail the removal of a t.TempDir.
func profileFolder(t *testing.T) string {
	t.Helper()
	folder, err := os.MkdirTemp("", "spadework-browser-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		for range 50 {
			if os.RemoveAll(folder) == nil {
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
		t.Logf("the browser's folder %s stays", folder)
	})
	return folder
}

// asked notes requests to other hosts.
func (p *phone) asked(url string) {
	if !strings.HasPrefix(url, p.url) && !strings.HasPrefix(url, "blob:") && !strings.HasPrefix(url, "data:") {
		p.mu.Lock()
		defer p.mu.Unlock()
		p.foreign = append(p.foreign, url)
	}
}

func (p *phone) do(actions ...chromedp.Action[chromedp.Void]) {
	p.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, time.Minute)
	defer cancel()
	if p.browsed {
		if err := chromedp.Do(ctx, actions...); err != nil {
			p.picture("failed")
			p.Fatalf("%v; the page says %q", err, p.text())
		}
		return
	}
	p.browsed = true // the first call starts the browser, which lives as long as its context
	if err := chromedp.Do(p.ctx, actions...); err != nil {
		p.Fatal(err)
	}
}

// evaluated runs a script and gives its value.
func evaluated[T any](p *phone, script string) T {
	p.Helper()
	out, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](script))
	if err != nil {
		p.Fatal(err)
	}
	return out
}

// text is what the page says.
func (p *phone) text() string {
	out, err := chromedp.Run(p.ctx, chromedp.Evaluate[string](`document.body?.innerText ?? ""`))
	if err != nil {
		return err.Error()
	}
	return strings.ReplaceAll(out, "\u00a0", " ")
}

// sees waits until the page says something.
func (p *phone) sees(parts ...string) {
	p.Helper()
	for _, part := range parts {
		found := false
		for range 600 {
			if strings.Contains(p.text(), part) {
				found = true
				break
			}
			time.Sleep(50 * time.Millisecond)
		}
		if !found {
			p.picture("failed")
			p.Fatalf("the page does not say %q but %q", part, p.text())
		}
	}
}

// lacks holds that the page does not say something.
func (p *phone) lacks(part string) {
	p.Helper()
	if got := p.text(); strings.Contains(got, part) {
		p.picture("failed")
		p.Errorf("the page says %q: %q", part, got)
	}
}

// taps taps what bears a text: a button, a link or a summary.
func (p *phone) taps(texts ...string) {
	p.Helper()
	for _, text := range texts {
		ok := false
		script := `(() => { const want = ` + quotedJS(text) + `;
			const all = [...document.querySelectorAll('button, a, summary')].filter(e => e.offsetParent !== null);
			const e = all.find(e => e.innerText.trim() === want || e.getAttribute('aria-label') === want) ?? all.find(e => e.innerText.trim().startsWith(want));
			if (!e) return false; e.scrollIntoView({block: 'center'}); e.click(); return true })()`
		for range 200 {
			if ok = evaluated[bool](p, script); ok {
				break
			}
			time.Sleep(50 * time.Millisecond)
		}
		if !ok {
			p.picture("failed")
			p.Fatalf("nothing to tap says %q; the page says %q", text, p.text())
		}
		time.Sleep(100 * time.Millisecond)
	}
}

func quotedJS(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

// keys types a reading on the page's own keys.
func (p *phone) keys(reading string) {
	p.Helper()
	for _, k := range reading {
		if k == ' ' {
			p.taps("space")
			continue
		}
		p.taps(string(k))
	}
}

// picture keeps a screenshot where SPADEWORK_SHOTS names a folder.
func (p *phone) picture(name string) {
	if p.shots == "" {
		return
	}
	data, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.Logf("no picture of %s: %v", name, err)
		return
	}
	file := filepath.Join(p.shots, strings.ReplaceAll(p.Name(), "/", "-")+"-"+name+".png")
	if err := errors.Join(os.MkdirAll(p.shots, 0o755), os.WriteFile(file, data, 0o644)); err != nil {
		p.Error(err)
	}
}

// isCalled answers who digs, as a new user does.
func (p *phone) isCalled(name string) {
	p.Helper()
	p.sees("name") // the question stands before the first record
	p.fills("name", name)
	p.taps("Keep it")
}

// fills writes into a field as a person does.
func (p *phone) fills(field, text string) {
	p.Helper()
	script := `(() => { const e = document.querySelector('[name=` + field + `]'); if (!e) return false; e.value = ` + quotedJS(text) + `;
		e.dispatchEvent(new Event('input', {bubbles: true})); return true })()`
	if !evaluated[bool](p, script) {
		p.picture("failed")
		p.Fatalf("no field %q; the page says %q", field, p.text())
	}
}

// opens goes to a screen by its address.
func (p *phone) opens(hash string) {
	p.Helper()
	evaluated[string](p, `location.hash = `+quotedJS(hash))
	time.Sleep(200 * time.Millisecond)
}

// A new user sets a laser up, digs a footing high, then on grade; the laser
// stops, and only a close gives the number back.
func TestPhoneDigsAFooting(t *testing.T) {
	p := openPhone(t)
	p.sees("Alder Quay boat store", "Who is digging?")
	p.picture("home")
	p.isCalled("Ines")
	p.taps("Set up")
	p.sees("I have set the laser somewhere")
	p.fills("tag", "S1")
	p.fills("east", "90")
	p.fills("north", "30")
	p.fills("reading", "6'-2\"")
	p.picture("set-up")
	p.taps("Work it out")
	p.sees("HI", "Serves")
	p.picture("set-up-worked-out")
	p.taps("The laser stands, keep S1")
	p.sees("S1 has its numbers")
	p.opens("/dig/P2/S1")
	p.sees("Points of the pattern", "rod")
	p.picture("dig")
	p.taps("Shot", "High")
	p.picture("amount")
	p.taps("1\"")
	p.sees("1\" to dig", "OUT: to dig")
	p.picture("high")
	p.taps("Shot", "On")
	p.sees("on grade")
	p.taps("Trouble")
	p.picture("trouble")
	p.taps("Laser stopped")
	p.sees("NO NUMBER before a close", "No number now")
	p.picture("stopped")
	p.taps("Close S1")
	p.sees("the rod should read")
	expected := evaluated[string](p, `[...document.querySelectorAll('main .grid button')][0].innerText`)
	_, reading, _ := strings.Cut(expected, "read ")
	evaluated[bool](p, `(document.querySelectorAll('main .grid button')[0].click(), true)`)
	p.keys(strings.ReplaceAll(strings.TrimSpace(reading), "\u00a0", " "))
	p.picture("close")
	p.taps("OK")
	p.sees("S1 has its numbers again")
	p.opens("/dig/P2/S1")
	p.lacks("No number now")
	p.picture("closed")
	if len(p.foreign) > 0 {
		t.Errorf("the page asks foreign hosts: %v", p.foreign)
	}
}

// Without a network the page is opened anew, a shot is kept and waits, and is
// sent when the network is back.
func TestPhoneWorksWithoutANetwork(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.taps("Me")
	p.sees("ready to work offline")
	p.opens("/dig/P1")
	p.sees("Points of the pattern")
	p.line.cut(true)
	p.do(chromedp.Reload())
	p.sees("no signal")
	p.picture("reloaded-offline")
	p.opens("/")
	p.sees("Digs", "Beams")
	p.opens("/dig/W1")
	p.taps("Trouble", "Water")
	p.sees("1 waiting")
	p.picture("waiting")
	p.do(chromedp.Reload())
	p.sees("1 waiting")
	p.line.cut(false)
	evaluated[bool](p, `(dispatchEvent(new Event('online')), true)`)
	p.sees("in touch")
	for range 100 {
		if !strings.Contains(p.text(), "waiting") {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Errorf("the record still waits: %q", p.text())
}

// The page speaks Spanish at once.
func TestPhoneSpeaksSpanish(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.taps("Me", "Español")
	p.sees("Idioma")
	p.taps("Trabajo")
	p.sees("Excavaciones", "Zapata")
	p.picture("home")
	p.opens("/dig/P1")
	p.sees("Puntos por revisar")
	p.picture("dig")
	p.taps("Problema", "Agua")
	p.opens("/")
	p.sees("Últimos registros", "Ines\tagua")
}

// An empty server leads to a first job: the files of one are chosen together. A
// wrong one is told with its place, and nothing is saved.
func TestFirstJobFromAnEmptyServer(t *testing.T) {
	p := openPage(t, "serve", "--addr", "127.0.0.1:0", "--db", filepath.Join(t.TempDir(), "jobs.db"))
	p.sees("There is no job on this server yet.")
	p.picture("empty")
	wrong := filepath.Join(t.TempDir(), "job.toml")
	if err := os.WriteFile(wrong, []byte("[job]\nname = 3\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	p.chooses(wrong)
	p.sees("job.toml:1:2")
	p.sees("There is no job on this server yet.")
	folder := filepath.Join("..", "examples", "fennel-yard")
	p.chooses(filepath.Join(folder, "job.toml"), filepath.Join(folder, "terreno.csv"), filepath.Join(folder, "bordes.csv"))
	p.sees("Beams", "Digs")
	p.picture("opened")
}

// chooses picks files in the page's field for them.
func (p *phone) chooses(files ...string) {
	p.Helper()
	for i, f := range files {
		path, err := filepath.Abs(f)
		if err != nil {
			p.Fatal(err)
		}
		files[i] = path
	}
	p.do(chromedp.SetUploadFiles(chromedp.CSS("input[type=file]"), files))
}
