package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// part is something that the program holds and others wrote.
type part struct {
	name, version, what string
	folder              string
}

// title is the line that LICENCES tells a part by.
func (p part) title() string { return strings.TrimSpace(p.name+" "+p.version) + " (" + p.what + ")" }

// licences is the text of LICENCES: each part with every file of terms in its
// folder. A part without one is an error.
func licences() ([]byte, error) {
	parts, err := parts()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.WriteString("What Spadework's programs hold that others wrote, with the terms they gave it under.\n" +
		"Made by \"go run ./tools/release licences\"; a test holds it against what is linked.\n")
	for _, p := range parts {
		files, err := terms(p.folder)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.title(), err)
		}
		fmt.Fprintf(&b, "\n%s\n%s\n", strings.Repeat("=", 80), p.title())
		for _, f := range files {
			text, err := os.ReadFile(filepath.Join(p.folder, f))
			if err != nil {
				return nil, err
			}
			fmt.Fprintf(&b, "%s\n%s:\n\n%s\n", strings.Repeat("-", 80), f, strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")))
		}
	}
	return b.Bytes(), nil
}

// parts are Go itself, the modules linked on any system, and the packages bundled
// into the page.
func parts() ([]part, error) {
	root, err := exec.Command("go", "env", "GOROOT", "GOVERSION").Output()
	if err != nil {
		return nil, err
	}
	words := strings.Fields(string(root))
	out := []part{{"Go standard library and its loader of WebAssembly", words[1], "Go", words[0]}}
	modules, err := linked()
	if err != nil {
		return nil, err
	}
	packages, err := bundled()
	if err != nil {
		return nil, err
	}
	return append(append(out, modules...), packages...), nil
}

// linked are the modules of which a package is in the program, for any system,
// or in the page's engine.
func linked() ([]part, error) {
	found := map[string]part{}
	for _, target := range append(slices.Clone(targets), "js/wasm") {
		system, processor, _ := strings.Cut(target, "/")
		from := "."
		if system == "js" {
			from = "./wasm/engine"
		}
		list := exec.Command("go", "list", "-deps", "-json=Module", from)
		list.Env = append(os.Environ(), "GOOS="+system, "GOARCH="+processor, "CGO_ENABLED=0", "GOFLAGS=")
		list.Stderr = os.Stderr
		text, err := list.Output()
		if err != nil {
			return nil, fmt.Errorf("go list for %s: %w", target, err)
		}
		for d := json.NewDecoder(bytes.NewReader(text)); ; {
			var p struct {
				Module *struct {
					Path, Version, Dir string
					Main               bool
				}
			}
			if err := d.Decode(&p); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				return nil, err
			}
			if m := p.Module; m != nil && !m.Main {
				found[m.Path] = part{m.Path, m.Version, "Go module", m.Dir}
			}
		}
	}
	return sorted(found), nil
}

// bundled are the packages of the page's lock that are not for development alone.
func bundled() ([]part, error) {
	data, err := os.ReadFile(filepath.Join("web", "package-lock.json"))
	if err != nil {
		return nil, err
	}
	var lock struct {
		Packages map[string]struct {
			Version string
			Dev     bool
		}
	}
	if err := json.Unmarshal(data, &lock); err != nil {
		return nil, err
	}
	found := map[string]part{}
	for path, p := range lock.Packages {
		if name, inside := strings.CutPrefix(path, "node_modules/"); inside && !p.Dev {
			found[name] = part{name, p.Version, "package of the page", filepath.Join("web", filepath.FromSlash(path))}
		}
	}
	return sorted(found), nil
}

func sorted(found map[string]part) []part {
	var out []part
	for _, p := range found {
		out = append(out, p)
	}
	slices.SortFunc(out, func(a, b part) int { return strings.Compare(a.name, b.name) })
	return out
}

// terms are the files of a folder that give its licence or ask for notice.
func terms(folder string) ([]string, error) {
	list, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range list {
		name := strings.ToUpper(e.Name())
		for _, head := range []string{"LICENSE", "LICENCE", "COPYING", "NOTICE", "PATENTS", "AUTHORS", "COPYRIGHT", "SQLITE-LICENSE"} {
			if strings.HasPrefix(name, head) && !e.IsDir() && !strings.HasSuffix(name, ".GO") {
				out = append(out, e.Name())
				break
			}
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no licence in %s", folder)
	}
	return out, nil
}
