// Command tools makes what the page is served from: "wasm" builds the modules and
// packs them, "bundle" bundles the scripts and styles, which needs what "npm ci"
// installs. It runs in its own folder, web/tools.
package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"

	"github.com/andybalholm/brotli"
	"github.com/evanw/esbuild/pkg/api"
)

const dist = "../dist"

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "tools:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) == 1 && args[0] == "wasm" {
		return modules()
	}
	if len(args) == 1 && args[0] == "bundle" {
		return bundle()
	}
	return fmt.Errorf("%q is neither wasm nor bundle", args)
}

// small are packages that do not decide how long a plan takes: without inlining
// their code is a tenth smaller packed, and no slower. Kernels are left alone.
var small = []string{
	"spadework/engine/plan", "spadework/engine/record", "spadework/engine/job", "spadework/engine/safety", "spadework/engine/draw",
	"spadework/engine/phrase", "spadework/engine/machine", "spadework/engine/pipe", "spadework/engine/dig", "spadework/engine/watch",
	"spadework/engine/rehearse", "spadework/engine/level", "spadework/engine/gradeline", "spadework/engine/stands", "spadework/engine/tell",
	"spadework/engine/unit", "spadework/engine/beam", "spadework/engine/trust", "spadework/engine/guard", "spadework/cab", "spadework/exchange", "spadework/sheet",
	"github.com/pelletier/go-toml/v2/unstable", "encoding/json", "encoding/xml", "encoding/csv", "regexp", "regexp/syntax", "time", "fmt",
	"spadework/engine/cover", "spadework/engine/route", "maps", "unicode", "unicode/utf8", "sync", "internal/sync",
	"internal/poll", "internal/bisect", "internal/godebug", "internal/fmtsort", "internal/reflectlite", "internal/filepathlite", "path", "embed",
	"encoding/hex", "encoding/base64", "syscall/js", "github.com/pelletier/go-toml/v2/internal/parserbridge",
	"reflect", "os", "strconv", "internal/strconv", "syscall", "bufio", "io", "io/fs", "bytes", "strings",
}

// module is a program of the page with what it may be packed, in bytes: the
// engine 2 MB, so that it comes over a poor signal in a quarter of a minute;
// the sheets, which come when nothing else does, with their fonts 2.5 MB.
type module struct {
	name, source, tags string
	ceiling            int
}

var modulesOfPage = []module{
	{"engine.wasm", "./wasm/engine", "page", 2_000_000},
	{"foreman.wasm", "./wasm/engine", "page,foreman", 5 << 19}, // only those load it who plan
	{"sheets.wasm", "./wasm/sheets", "", 2_500_000},
}

// modules builds them and takes Go's own loader beside them.
func modules() error {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return err
	}
	loader, err := os.ReadFile(filepath.Join(string(bytes.TrimSpace(root)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dist, "wasm_exec.js"), loader, 0o644); err != nil {
		return err
	}
	for _, m := range modulesOfPage {
		if err := m.build(); err != nil {
			return err
		}
	}
	return nil
}

// build compiles a module and packs it.
func (m module) build() error {
	out, err := filepath.Abs(filepath.Join(dist, m.name))
	if err != nil {
		return err
	}
	args := []string{"build", "-tags", m.tags, "-trimpath", "-buildvcs=false", "-ldflags", "-s -w", "-o", out}
	for _, p := range small {
		args = append(args, "-gcflags="+p+"=-l")
	}
	build := exec.Command("go", append(args, m.source)...)
	build.Dir = filepath.Join("..", "..")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	if text, err := build.CombinedOutput(); err != nil {
		return fmt.Errorf("building %s: %w\n%s", m.name, err, text)
	}
	return m.pack(out)
}

// pack writes the file beside itself as brotli (RFC 7932), as small as it gets.
func (m module) pack(path string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	var packed bytes.Buffer
	w := brotli.NewWriterOptions(&packed, brotli.WriterOptions{Quality: 11, LGWin: 24})
	if _, err := w.Write(data); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	fmt.Printf("%s: %d bytes, %d packed\n", filepath.Base(path), len(data), packed.Len())
	if packed.Len() > m.ceiling {
		return fmt.Errorf("%s: %d bytes packed, over its ceiling of %d", m.name, packed.Len(), m.ceiling)
	}
	return os.WriteFile(path+".br", packed.Bytes(), 0o644)
}

// bundle bundles the page, its worker and its service worker.
func bundle() error {
	result := api.Build(api.BuildOptions{
		EntryPoints: []string{"../src/app.ts", "../src/worker.ts", "../src/sheetworker.ts", "../src/offline.ts", "../src/app.css"},
		Outdir:      dist, Bundle: true, Write: true, MinifyWhitespace: true, MinifySyntax: true, MinifyIdentifiers: true,
		Format: api.FormatIIFE, Target: api.ES2022, Charset: api.CharsetUTF8, LegalComments: api.LegalCommentsInline, LogLevel: api.LogLevelWarning,
	})
	if n := len(result.Errors); n > 0 {
		return fmt.Errorf("%d errors in the scripts", n)
	}
	return errors.Join(reader(), keyTexts())
}

// reader bundles what reads a page of a PDF, which is loaded when one is chosen.
func reader() error {
	result := api.Build(api.BuildOptions{
		EntryPointsAdvanced: []api.EntryPoint{
			{InputPath: "../src/foreman/pdf.ts", OutputPath: "pdf"},
			{InputPath: "../node_modules/pdfjs-dist/build/pdf.worker.min.mjs", OutputPath: "pdf.worker"},
		},
		Outdir: dist, Bundle: true, Write: true, MinifyWhitespace: true, MinifySyntax: true, MinifyIdentifiers: true,
		Format: api.FormatESModule, Target: api.ES2022, Charset: api.CharsetUTF8, LegalComments: api.LegalCommentsInline, LogLevel: api.LogLevelError,
	})
	if n := len(result.Errors); n > 0 {
		return fmt.Errorf("%d errors in the reader of PDFs", n)
	}
	return nil
}

// keyTexts puts the texts of the job file's keys beside the page, which loads
// them with the first form.
func keyTexts() error {
	for _, lang := range []string{"en", "es"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "engine", "job", "keys_"+lang+".txt"))
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dist, "keys."+lang+".txt"), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
