package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// rooms lists the rooms of the house from the top. A room imports only rooms of
// lines above its own.
var rooms = [][]string{
	{"engine/unit", "engine/real"},
	{"engine/phrase"},
	{"engine/geom"},
	{"engine/estimate"},
	{"engine/level", "engine/ground"},
	{"engine/pipe", "engine/gradeline"},
	{"engine/machine", "engine/beam"},
	{"engine/dig"},
	{"engine/reception"},
	{"engine/trust", "engine/safety"},
	{"engine/cover", "engine/route"},
	{"engine/siting", "engine/stands"},
	{"engine/watch"},
	{"engine/job"},
	{"engine/plan"},
	{"engine/record"},
	{"engine/guard"},
	{"engine/rehearse"},
	{"engine/draw"},
	{"engine/tell"},
	{"exchange"},
	{"sheet"},
	{"cab"},
	{"store/cluster"},
	{"store"},
	{"server", "web", "wasm", "wasm/sheets", "wasm/engine", "examples"},
	{"cli"},
	{""},
}

// level is the line of a room, -1 for none.
func level(room string) int {
	return slices.IndexFunc(rooms, func(line []string) bool { return slices.Contains(line, room) })
}

// sourceFile is a parsed file of the module.
type sourceFile struct {
	path string // slash-separated from the module's root
	room string
	test bool
	ast  *ast.File
	set  *token.FileSet
}

// walkSources parses every Go file of the module but benches and tools, which
// are programs of their own.
func walkSources(t *testing.T) []sourceFile {
	t.Helper()
	var out []sourceFile
	set := token.NewFileSet()
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && path != "." && (strings.HasPrefix(name, ".") || name == "testdata" || name == "node_modules" || name == "bench" || name == "tools") {
			return filepath.SkipDir
		}
		if filepath.Ext(name) != ".go" {
			return nil
		}
		f, err := parser.ParseFile(set, path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		room := filepath.ToSlash(filepath.Dir(path))
		if room == "." {
			room = ""
		}
		out = append(out, sourceFile{filepath.ToSlash(path), room, strings.HasSuffix(name, "_test.go"), f, set})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(out) < 20 {
		t.Fatalf("found %d Go files, want the whole module", len(out))
	}
	return out
}

func TestImportsRunUpTheHouse(t *testing.T) {
	for _, f := range walkSources(t) {
		from := level(f.room)
		if from < 0 {
			t.Errorf("%s: the room %q is not on the plan of the house", f.path, f.room)
			continue
		}
		if f.test {
			continue // tests may reach for any referee
		}
		for _, spec := range f.ast.Imports {
			path, _ := strconv.Unquote(spec.Path.Value)
			room, ours := strings.CutPrefix(path, "spadework/")
			if !ours {
				continue
			}
			if to := level(room); to < 0 || to >= from {
				t.Errorf("%s imports %s, which is not above it", f.path, room)
			}
		}
	}
}

// impure are packages that reach files, network, clock, chance or processes.
var impure = []string{"os", "os/exec", "os/signal", "net", "net/http", "time", "math/rand", "math/rand/v2",
	"crypto/rand", "syscall", "log", "log/slog", "database/sql", "runtime", "plugin", "unsafe", "path/filepath", "bufio"}

// unportable are functions whose last digits differ between machines.
var unportable = []string{"Exp", "Exp2", "Expm1", "Pow", "Pow10", "Erf", "Erfc", "Erfinv", "Erfcinv", "Gamma", "Lgamma",
	"Sinh", "Cosh", "Tanh", "Hypot", "Cbrt", "Log", "Log2", "Log10", "Log1p", "Asinh", "Acosh", "Atanh"}

// pure says that the room must be pure.
func pure(room string) bool {
	return strings.HasPrefix(room, "engine/") || room == "exchange" || room == "sheet"
}

func TestPureRoomsStayPure(t *testing.T) {
	for _, f := range walkSources(t) {
		if f.test || !pure(f.room) {
			continue
		}
		for _, spec := range f.ast.Imports {
			path, _ := strconv.Unquote(spec.Path.Value)
			if slices.Contains(impure, path) || strings.HasPrefix(path, "gonum.org/") {
				t.Errorf("%s imports %s", f.path, path)
			}
		}
		ast.Inspect(f.ast, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if x, ok := sel.X.(*ast.Ident); ok && x.Name == "math" && x.Obj == nil && slices.Contains(unportable, sel.Sel.Name) {
				t.Errorf("%s: math.%s differs between machines; engine/real has it", f.set.Position(sel.Pos()), sel.Sel.Name)
			}
			return true
		})
	}
}

// packageVars lists the names of a room's package variables.
func packageVars(files []sourceFile, room string) map[string]bool {
	out := map[string]bool{}
	for _, f := range files {
		if f.room != room || f.test {
			continue
		}
		for _, d := range f.ast.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.VAR {
				continue
			}
			for _, s := range g.Specs {
				for _, name := range s.(*ast.ValueSpec).Names {
					out[name.Name] = true
				}
			}
		}
	}
	return out
}

// root is the identifier that an assigned expression changes.
func root(e ast.Expr) *ast.Ident {
	for {
		switch x := e.(type) {
		case *ast.Ident:
			return x
		case *ast.SelectorExpr:
			e = x.X
		case *ast.IndexExpr:
			e = x.X
		case *ast.StarExpr:
			e = x.X
		case *ast.ParenExpr:
			e = x.X
		default:
			return nil
		}
	}
}

func TestNoRoomChangesItsGlobals(t *testing.T) {
	files := walkSources(t)
	vars := map[string]map[string]bool{}
	for _, f := range files {
		if f.test || !pure(f.room) {
			continue
		}
		if vars[f.room] == nil {
			vars[f.room] = packageVars(files, f.room)
		}
		changed := func(e ast.Expr) {
			id := root(e)
			if id == nil || id.Name == "_" || !vars[f.room][id.Name] {
				return
			}
			if id.Obj == nil || id.Obj == f.ast.Scope.Lookup(id.Name) {
				t.Errorf("%s: %s is a package variable and is changed", f.set.Position(id.Pos()), id.Name)
			}
		}
		ast.Inspect(f.ast, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.AssignStmt:
				if n.Tok != token.DEFINE {
					for _, e := range n.Lhs {
						changed(e)
					}
				}
			case *ast.IncDecStmt:
				changed(n.X)
			}
			return true
		})
	}
}

// maxFileLines and maxFuncLines are the sizes the house keeps to; tests and
// tables of data may be longer.
const (
	maxFileLines = 500
	maxFuncLines = 80
)

func TestFilesAndFunctionsStaySmall(t *testing.T) {
	var sizes []int
	for _, f := range walkSources(t) {
		if f.test {
			continue
		}
		if n := f.set.File(f.ast.Pos()).LineCount(); n > maxFileLines {
			t.Errorf("%s has %d lines, want at most %d", f.path, n, maxFileLines)
		}
		for _, d := range f.ast.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Body == nil {
				continue
			}
			n := f.set.Position(fn.End()).Line - f.set.Position(fn.Pos()).Line + 1
			sizes = append(sizes, n)
			if n > maxFuncLines {
				t.Errorf("%s: %s has %d lines, want at most %d", f.path, fn.Name.Name, n, maxFuncLines)
			}
			if n := fn.Type.Params.NumFields(); n > 5 {
				t.Errorf("%s: %s has %d parameters, want at most 5", f.path, fn.Name.Name, n)
			}
		}
	}
	slices.Sort(sizes)
	if median := sizes[len(sizes)/2]; median > 12 {
		t.Errorf("the median function has %d lines, want at most 12", median)
	}
}
