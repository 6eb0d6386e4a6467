//go:build !js

package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// The page's module carries no sheets: no PDF, fonts, pictures or spreadsheets, no
// command line, server or store; nor what made it large before.
func TestModuleImportsNoSheets(t *testing.T) {
	list := exec.Command("go", "list", "-deps", ".")
	list.Env = append(list.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	out, err := list.Output()
	if err != nil {
		t.Skipf("NOTICE: go list does not run here: %v", err)
	}
	packages := strings.Fields(string(out))
	if !slices.Contains(packages, "spadework/cab") {
		t.Fatalf("the list of packages lacks spadework/cab: %q", packages)
	}
	// LZW of GeoTIFF, which a ground may be packed by, has to do with no picture.
	packages = slices.DeleteFunc(packages, func(p string) bool { return p == "golang.org/x/image/tiff/lzw" })
	for _, p := range packages {
		for _, part := range []string{"spadework/sheet", "spadework/cli", "spadework/server", "spadework/store", "pdf", "font", "xlsx", "excel", "image", "net/http", "regexp", "crypto/sha256"} {
			if p == part || strings.HasPrefix(p, part+"/") || strings.Contains(p, "/"+part) {
				t.Errorf("the page's module imports %s", p)
			}
		}
	}
}
