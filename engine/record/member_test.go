package record

import "testing"

// TestMembersAreThoseWritten: Members asks for what Append writes.
func TestMembersAreThoseWritten(t *testing.T) {
	for _, r := range oneOfEach(t) {
		var f fields
		r.Payload.walk(&f)
		list := Members(r.Kind())
		if len(list) != len(f.out.keys) {
			t.Errorf("Members(%s) = %v, want %v", r.Kind(), list, f.out.keys)
			continue
		}
		for _, m := range list {
			found := false
			for _, k := range f.out.keys {
				found = found || k == m.Key
			}
			if !found {
				t.Errorf("Members(%s) has %s, which is not written", r.Kind(), m.Key)
			}
		}
	}
}
