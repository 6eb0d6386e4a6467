package cab

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"spadework/exchange"
)

// given are the answers of the calls, which the page's types are written from.
var given = []any{Home{}, Stand{}, Drafted{}, SetUp{}, Planned{}, Watch{}, Proving{}, Places{}, Reach{}, Checked{}, Left{}, Quantities{}, Found{}, Close{}, Map{}, Told{}, Progress{}, exchange.Bundle{}}

// The page's types of what the engine gives are written from these structs
// (-update writes them anew), so that a field that is not there does not compile
// there: a planned number has no face to print.
func TestTypesOfThePage(t *testing.T) {
	w := &typeWriter{seen: map[reflect.Type]bool{}}
	for _, v := range given {
		w.need(reflect.TypeOf(v))
	}
	text := "// What the engine gives; package cab writes this file (go test ./cab -update).\n" + w.out.String()
	path := filepath.Join("..", "web", "src", "answers.ts")
	if *update {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != text {
		t.Errorf("%s is not what the structs come to; -update writes it anew", path)
	}
}

// typeWriter writes a struct as an interface after those that it needs.
type typeWriter struct {
	seen map[reflect.Type]bool
	out  strings.Builder
}

func (w *typeWriter) need(t reflect.Type) {
	if w.seen[t] {
		return
	}
	w.seen[t] = true
	var extends, fields []string
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			w.need(f.Type)
			extends = append(extends, f.Type.Name())
			continue
		}
		name, option, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "" {
			panic(fmt.Sprintf("%s.%s has no name in JSON", t.Name(), f.Name))
		}
		if option == "omitempty" {
			name += "?"
		}
		fields = append(fields, name+": "+w.typeOf(f.Type))
	}
	head := "export interface " + t.Name()
	if len(extends) > 0 {
		head += " extends " + strings.Join(extends, ", ")
	}
	w.out.WriteString(head + " {\n  " + strings.Join(fields, "; ") + ";\n}\n")
}

func (w *typeWriter) typeOf(t reflect.Type) string {
	switch t.Kind() {
	case reflect.String:
		return "string"
	case reflect.Bool:
		return "boolean"
	case reflect.Int, reflect.Int64, reflect.Float64:
		return "number"
	case reflect.Slice:
		return w.typeOf(t.Elem()) + "[]"
	case reflect.Map:
		return "Record<string, " + w.typeOf(t.Elem()) + ">"
	case reflect.Pointer:
		return w.typeOf(t.Elem()) + " | null"
	case reflect.Struct:
		w.need(t)
		return t.Name()
	}
	panic("no type of the page for " + t.String())
}
