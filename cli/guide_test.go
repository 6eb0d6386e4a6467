package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"spadework/engine/record"
	"spadework/sheet"
)

// guidePictures is where the guides' pictures lie, beside what their screens say.
var guidePictures = filepath.Join("..", "docs", "guide", "pictures")

// TestGuidePicturesOfThePage walks the guides' screens and holds what they say
// against the text kept beside each picture; "go test ./cli -run Guide -update"
// makes pictures and texts anew.
func TestGuidePicturesOfThePage(t *testing.T) {
	p := openPage(t, "--today", "2026-05-06", "demo", "--addr", "127.0.0.1:0")
	p.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(1), chromedp.EmulateMobile))
	p.isCalled("Ines")
	p.sees("Digs")
	p.guide("en-home")
	p.opens("/setup")
	p.sees("Set up")
	for field, text := range map[string]string{"tag": "S1", "east": "90", "north": "30", "reading": "6'-2\""} {
		p.fills(field, text)
	}
	p.taps("Work it out")
	p.sees("HI", "Serves")
	p.guide("en-set-up")
	p.taps("The laser stands, keep S1")
	p.sees("S1 has its numbers")
	for _, look := range []struct{ language, done, trouble, cancel, switches string }{{"en", "Done", "Trouble", "Cancel", ""}, {"es", "", "Problema", "Cancelar", "Español"}} {
		if look.switches != "" {
			p.opens("/me")
			p.taps(look.switches)
			p.opens("/")
			p.sees("Excavaciones")
			p.guide(look.language + "-home")
		}
		p.opens("/dig/P2/S1")
		p.sees(look.trouble)
		if look.done != "" {
			p.guide(look.language + "-stop")
			p.taps(look.done)
			p.sees("answered today")
		}
		p.guide(look.language + "-dig")
		p.taps(look.trouble)
		p.guide(look.language + "-trouble")
		p.taps(look.cancel)
		p.opens("/close/S1")
		p.sees("S1")
		p.guide(look.language + "-close")
	}
}

// moments are what of a screen changes from run to run: times of day, days, how long ago
// something was, and the line that tells whether the server is in touch.
var moments = regexp.MustCompile(`(?m)\d{1,2}:\d{2}(:\d{2})?|\d+ (s|min|h)\b|\d{4}-\d{2}-\d{2}|^\d{2}-\d{2}\b|^(in touch|en contacto|no signal|sin señal).*$`)

// guide compares the screen with the text kept, or keeps its text and picture.
func (p *phone) guide(name string) {
	p.Helper()
	for range 100 {
		if said := p.text(); !strings.Contains(said, "waiting") && !strings.Contains(said, "espera") {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	text := strings.TrimSpace(moments.ReplaceAllString(p.text(), "…")) + "\n"
	file := filepath.Join(guidePictures, name)
	if !*update {
		kept, err := os.ReadFile(file + ".txt")
		if err != nil || string(kept) != text {
			p.Errorf("the guides' picture %s is stale (%v): the screen says\n%s\nand was kept as\n%s\nmake it anew: go test ./cli -run Guide -update", name, err, text, kept)
		}
		return
	}
	data, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.Fatal(err)
	}
	for end, content := range map[string][]byte{".txt": []byte(text), ".png": data} {
		if err := os.WriteFile(file+end, content, 0o644); err != nil {
			p.Fatal(err)
		}
	}
}

// TestGuidePicturesOfPaper draws the guides' pages of paper and holds them against
// the pictures, byte for byte.
func TestGuidePicturesOfPaper(t *testing.T) {
	b, lines, err := exampleDay()
	if err != nil {
		t.Fatal(err)
	}
	a := &app{today: "2026-05-06"}
	p, v, err := a.planBundle(b)
	if err != nil {
		t.Fatal(err)
	}
	var records []record.Record
	for _, line := range lines {
		r, f := record.Decode(line)
		if f != nil {
			t.Fatal(f)
		}
		records = append(records, r)
	}
	paper, _ := sheet.PaperNamed("letter")
	first := sheet.Proof(p, v, sheet.ProofInput{Records: records, Paper: paper}).Pages[0]
	png, err := sheet.PNG(first, 72)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(guidePictures, "proof.png")
	if *update {
		if err := os.WriteFile(file, png, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if kept, err := os.ReadFile(file); err != nil || !bytes.Equal(kept, png) {
		t.Errorf("%s is stale (%v): go test ./cli -run Guide -update", file, err)
	}
}

// TestGuidesShowTheirPictures: every picture that a guide names is there, with the
// text that it is held by, and each that is there is shown.
func TestGuidesShowTheirPictures(t *testing.T) {
	guides, _ := filepath.Glob(filepath.Join("..", "docs", "guide", "*.md"))
	spanish, _ := filepath.Glob(filepath.Join("..", "docs", "guide", "es", "*.md"))
	if len(guides) < 5 || len(spanish) == 0 {
		t.Fatalf("%d guides, %d in Spanish, want an index, one a role, and Spanish", len(guides), len(spanish))
	}
	var shown []string
	for _, g := range append(guides, spanish...) {
		text, err := os.ReadFile(g)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`pictures/([a-z-]+\.png)`).FindAllStringSubmatch(string(text), -1) {
			shown = append(shown, m[1])
			if _, err := os.Stat(filepath.Join(guidePictures, m[1])); err != nil {
				t.Errorf("%s shows %s: %v", g, m[1], err)
			}
		}
		for _, m := range regexp.MustCompile(`\]\(([^)#:]+)\)`).FindAllStringSubmatch(string(text), -1) {
			if _, err := os.Stat(filepath.Join(filepath.Dir(g), filepath.FromSlash(m[1]))); err != nil {
				t.Errorf("%s leads to %s: %v", g, m[1], err)
			}
		}
	}
	there, _ := filepath.Glob(filepath.Join(guidePictures, "*.png"))
	for _, file := range there {
		if !slices.Contains(shown, filepath.Base(file)) {
			t.Errorf("%s is shown nowhere", file)
		}
	}
	if len(there) < 9 {
		t.Errorf("%d pictures, want those of the guides", len(there))
	}
}
