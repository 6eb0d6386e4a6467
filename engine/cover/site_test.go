package cover

import (
	"testing"

	"spadework/bench/cover/site"
)

// fresh makes an instance of one of the kinds in site.Kinds.
func fresh(kind int, seed uint64) Problem {
	p := site.Kinds[kind].Fresh(seed)
	return Problem{Elements: p.Elements, Sets: p.Sets}
}

// readProblem reads a file of testdata/covers.
func readProblem(t testing.TB, name string) Problem {
	t.Helper()
	p, err := site.Read("../../testdata/covers/" + name + ".txt")
	if err != nil {
		t.Fatal(err)
	}
	return Problem{Elements: p.Elements, Sets: p.Sets}
}
