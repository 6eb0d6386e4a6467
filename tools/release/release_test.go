package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestMain runs the tests in the root of the module, as the tool runs.
func TestMain(m *testing.M) {
	if err := os.Chdir(filepath.Join("..", "..")); err != nil {
		panic(err)
	}
	os.Exit(m.Run())
}

// TestLicencesNameWhatIsLinked: every module of the programs and every package of
// the page, in the version used; nothing that is no longer there.
func TestLicencesNameWhatIsLinked(t *testing.T) {
	text, err := os.ReadFile(licencesFile)
	if err != nil {
		t.Fatal(err)
	}
	all, err := parts()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 30 {
		t.Errorf("%d parts, want those of Go, the modules and the page", len(all))
	}
	want := map[string]bool{}
	rule := strings.Repeat("=", 80) + "\n"
	for _, p := range all {
		want[p.title()] = true
		if !bytes.Contains(text, []byte(rule+p.title()+"\n")) {
			t.Errorf("%s is not in %s: run make licences", p.title(), licencesFile)
		}
	}
	for i, section := range strings.Split(string(text), rule) {
		title, body, _ := strings.Cut(section, "\n")
		if i > 0 && !want[title] {
			t.Errorf("%s tells %q, which is not linked: run make licences", licencesFile, title)
		}
		// The shortest terms known here, those of ISC, are over 600 letters.
		if i > 0 && len(body) < 600 {
			t.Errorf("%s: the terms of %q have %d letters", licencesFile, title, len(body))
		}
	}
}

// TestLicencesAreWhatIsMade holds the whole text where the page's packages are
// installed.
func TestLicencesAreWhatIsMade(t *testing.T) {
	if _, err := os.Stat(filepath.Join("web", "node_modules", "preact")); err != nil {
		t.Skip("NOTICE: the page's packages are not installed (npm ci in web): the text of LICENCES is not made anew")
	}
	text, err := os.ReadFile(licencesFile)
	if err != nil {
		t.Fatal(err)
	}
	made, err := licences()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(text, made) {
		t.Errorf("%s is not what is made: run make licences", licencesFile)
	}
}

func TestAFolderWithoutTermsIsRefused(t *testing.T) {
	if _, err := terms(t.TempDir()); err == nil {
		t.Error("terms of an empty folder = none, want an error")
	}
}

func TestSums(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "abc"), []byte("abc"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := sums(dir, []string{"abc"}); err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join(dir, "SHA256SUMS"))
	// FIPS 180-2 appendix B.1.
	const want = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  abc\n"
	if err != nil || string(got) != want {
		t.Errorf("SHA256SUMS = %q %v, want %q", got, err, want)
	}
}

func TestWrongReleasesAreRefused(t *testing.T) {
	for _, args := range [][]string{nil, {"licence"}, {"build", "-only", "plan9/386", "-o", t.TempDir()}, {"build", "-o", "engine"}} {
		if err := run(args); err == nil {
			t.Errorf("run(%q) = none, want an error", args)
		}
	}
}
