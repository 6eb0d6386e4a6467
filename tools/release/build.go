package main

import (
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// targets are the systems that a release is built for.
var targets = []string{"darwin/amd64", "darwin/arm64", "linux/amd64", "linux/arm64", "windows/amd64", "windows/arm64"}

// release is one release to build.
type release struct {
	folder, version, commit string
	targets                 []string
	again                   bool
}

// build writes a program for each system, LICENCES and SHA256SUMS, and nothing
// by halves into a folder that holds something else.
func (r release) build() error {
	if _, err := os.Stat(filepath.Join("web", "dist", "engine.wasm.br")); err != nil {
		return fmt.Errorf("the page's engine is not made (go generate ./web): %w", err)
	}
	toolchain, err := pinnedToolchain()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(r.folder, 0o755); err != nil {
		return err
	}
	if there, err := filepath.Glob(filepath.Join(r.folder, "*")); err != nil || len(there) > 0 {
		return fmt.Errorf("%s is not empty", r.folder)
	}
	text, err := os.ReadFile(licencesFile)
	if err != nil {
		return err
	}
	names := []string{licencesFile}
	if err := os.WriteFile(filepath.Join(r.folder, licencesFile), text, 0o644); err != nil {
		return err
	}
	for _, target := range r.targets {
		name, err := r.program(target, toolchain)
		if err != nil {
			return err
		}
		names = append(names, name)
	}
	return sums(r.folder, names)
}

// program builds for one system. Nothing of the machine it is built on goes in:
// no paths, no C, no note of the checkout; the toolchain is the one of go.mod.
func (r release) program(target, toolchain string) (string, error) {
	system, processor, ok := strings.Cut(target, "/")
	if !ok || !slices.Contains(targets, target) {
		return "", fmt.Errorf("%q is none of %s", target, strings.Join(targets, ", "))
	}
	name := "spadework-" + system + "-" + processor
	if system == "windows" {
		name += ".exe"
	}
	out, err := filepath.Abs(filepath.Join(r.folder, name))
	if err != nil {
		return "", err
	}
	args := []string{"build", "-trimpath", "-buildvcs=false",
		"-ldflags", "-s -w -buildid= -X spadework/cli.version=" + r.version + " -X spadework/cli.commit=" + r.commit, "-o", out}
	if r.again {
		args = append(args, "-a")
	}
	build := exec.Command("go", append(args, ".")...)
	build.Env = append(os.Environ(), "GOOS="+system, "GOARCH="+processor, "CGO_ENABLED=0", "GOFLAGS=", "GOTOOLCHAIN="+toolchain,
		"GOAMD64=v1", "GOARM64=v8.0", "GOEXPERIMENT=")
	if text, err := build.CombinedOutput(); err != nil {
		return "", fmt.Errorf("building for %s: %w\n%s", target, err, text)
	}
	fmt.Println(name)
	return name, nil
}

// pinnedToolchain is the toolchain line of go.mod.
func pinnedToolchain() (string, error) {
	data, err := os.ReadFile("go.mod")
	if err != nil {
		return "", err
	}
	for line := range strings.Lines(string(data)) {
		if name, found := strings.CutPrefix(line, "toolchain "); found {
			return strings.TrimSpace(name), nil
		}
	}
	return "", fmt.Errorf("go.mod pins no toolchain")
}

// sums writes SHA256SUMS as sha256sum reads it.
func sums(folder string, names []string) error {
	slices.Sort(names)
	var b strings.Builder
	for _, name := range names {
		data, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(data), name)
	}
	return os.WriteFile(filepath.Join(folder, "SHA256SUMS"), []byte(b.String()), 0o644)
}
