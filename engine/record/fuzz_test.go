package record

import (
	"bytes"
	"testing"
)

// FuzzDecode: whatever comes, Decode gives a record whose canonical form is
// what came, or one fault; it never panics.
func FuzzDecode(f *testing.F) {
	for _, r := range oneOfEach(f) {
		f.Add(r.Append(nil))
	}
	for _, s := range []string{"", "{}", "[[[[[[[[[[", `{"a":1e400}`, `{"a":` + "\x00", `{"a":"\ud800"}`, `{"format":1}`, `{"b":1,"a":2}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, fault := Decode(data)
		if fault != nil {
			if fault.What.IsZero() || fault.Remedy.IsZero() {
				t.Fatalf("Decode(%q): a fault without its words", data)
			}
			return
		}
		if got := r.Append(nil); !bytes.Equal(got, data) {
			t.Fatalf("Decode(%q) has the canonical form %q", data, got)
		}
		if f := r.Check(); f != nil {
			t.Fatalf("Decode(%q) gives a record that Check refuses: %v", data, f)
		}
	})
}
