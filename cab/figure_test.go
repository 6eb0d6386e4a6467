package cab

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/draw"
	"spadework/engine/record"
)

// No view, at any hour of a day, gives a planned number as one to dig to: a live
// figure's tag has numbers in the log, its set-up is live in the plan, and its
// text is what the plan's live row reads. A set-up that is tried has its tag in
// the job only once it is kept, so its strip is held against its own plan.
func TestPlannedIsNeverLive(t *testing.T) {
	lives, plans := 0, 0
	for _, name := range []string{"alder-quay", "fennel-yard", "sorrel-bank"} {
		session(t, opening(t, name), func(e *Engine, call string, answer []byte) {
			if call == "setup" || call == "plan" {
				return
			}
			var v any
			if err := json.Unmarshal(answer, &v); err != nil {
				t.Fatal(err)
			}
			walk(v, func(key string, v map[string]any) {
				switch key {
				case "live":
					lives++
					liveIsLive(t, e.cab, call, v)
				case "planned":
					plans++
					if !strings.Contains(v["sum"].(string), "____") || len(v) != 2 {
						t.Errorf("%s: planned = %v, want a sum with its blank and nothing else", call, v)
					}
				}
			})
		})
	}
	if lives == 0 || plans == 0 {
		t.Errorf("%d live figures and %d planned were seen", lives, plans)
	}
}

// walk visits the objects of a JSON value with the key they stand under.
func walk(v any, visit func(key string, v map[string]any)) {
	switch v := v.(type) {
	case map[string]any:
		for key, inner := range v {
			if o, ok := inner.(map[string]any); ok {
				visit(key, o)
			}
			walk(inner, visit)
		}
	case []any:
		for _, inner := range v {
			walk(inner, visit)
		}
	}
}

func liveIsLive(t *testing.T, c *Cab, call string, v map[string]any) {
	t.Helper()
	tag, text := v["tag"].(string), v["face"].(map[string]any)["text"].(string)
	logged, _ := c.tag(tag)
	set, _ := c.plan.Setup(tag)
	if logged.State != record.TagLive || set.State != beam.Live {
		t.Errorf("%s gives %s as live under %s, which is %q in the log and %q in the plan", call, text, tag, logged.State, set.State)
	}
	for _, n := range c.plan.Numbers {
		if f, ok := draw.WorkFigureOf(c.plan, n).(draw.LiveRod); ok && n.Setup == tag && draw.Voice(c.view).Reading(f) == text {
			return
		}
	}
	t.Errorf("%s gives %s as live under %s, which no live row reads", call, text, tag)
}

// A Live is made in one place, of a draw.LiveRod, which only a live row under a
// live set-up gives.
func TestOnlyALiveRodMakesALive(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	var makers []string
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		for _, d := range file.Decls {
			ast.Inspect(d, func(n ast.Node) bool {
				if lit, ok := n.(*ast.CompositeLit); ok && isNamed(lit.Type, "Live") {
					makers = append(makers, d.(*ast.FuncDecl).Name.Name)
				}
				return true
			})
		}
	}
	if !slices.Equal(makers, []string{"liveOf"}) {
		t.Errorf("a Live is made in %q, want in liveOf alone", makers)
	}
}

func isNamed(e ast.Expr, name string) bool {
	id, ok := e.(*ast.Ident)
	return ok && id.Name == name
}

// The figure in pieces is the figure.
func TestPieces(t *testing.T) {
	for _, c := range []struct {
		text string
		want Face
	}{
		{`7'-1 1/2"`, Face{`7'-1 1/2"`, `7'-1`, "1", "2", `"`}},
		{"7'-1\u00a01/2\"", Face{"7'-1\u00a01/2\"", `7'-1`, "1", "2", `"`}},
		{`5/8"`, Face{`5/8"`, "", "5", "8", `"`}},
		{`2.315`, Face{`2.315`, `2.315`, "", "", ""}},
		{`m/s`, Face{`m/s`, `m/s`, "", "", ""}},
	} {
		if got := pieces(c.text); got != c.want {
			t.Errorf("pieces(%q) = %+v, want %+v", c.text, got, c.want)
		}
	}
}
