package cab

import (
	"reflect"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/unit"
)

// foreignSetup is a set-up of another phone, read on a benchmark that this
// revision of the job does not have.
func foreignSetup(t *testing.T, job string) string {
	t.Helper()
	payload := &record.SetupMade{
		Tag: "Z9", Laser: "L1", At: &[2]unit.Length{10 * unit.Metre, 10 * unit.Metre},
		Sights: []record.BacksightReading{{Benchmark: "BM9", Elevation: 30, Rod: 1.5}},
	}
	r, _, f := record.Head{}.Next(record.Draft{
		Job: job, Device: "other", Person: "Rosa", Time: record.Stamp{Millis: clock, Offset: -240}, Payload: payload,
	}, clock, [10]byte{1})
	if f != nil {
		t.Fatal(f)
	}
	return string(r.Append(nil))
}

// What fails changes nothing: neither a record that cannot be read nor a plan
// that cannot be made leaves a part behind.
func TestAddTakesBothOrNone(t *testing.T) {
	c, f := Open(opening(t, "alder-quay"), nil)
	if f != nil {
		t.Fatal(f)
	}
	before := c.Home()
	interval := c.drawn.Interval
	for name, add := range map[string]func() *phrase.Fault{
		"a broken line after a good one": func() *phrase.Fault {
			return c.Add([]string{foreignSetup(t, "alder-quay"), "{}"}, nil)
		},
		"a plan that fails": func() *phrase.Fault {
			c.drawn.Interval = 1e-9 // more rows than a plan may have
			defer func() { c.drawn.Interval = interval }()
			return c.Add([]string{foreignSetup(t, "alder-quay")}, nil)
		},
	} {
		if f := add(); f == nil {
			t.Fatalf("%s is taken", name)
		}
		if after := c.Home(); !reflect.DeepEqual(after, before) {
			t.Errorf("after %s Home = %+v, want as before %+v", name, after, before)
		}
		if len(c.records) != before.Basis.Records || len(c.held) != len(c.records) {
			t.Errorf("after %s %d records and %d hashes are held, want %d", name, len(c.records), len(c.held), before.Basis.Records)
		}
	}
}

// A set-up that this revision of the job cannot work out takes nothing from the
// others: it has no numbers, and says why.
func TestLostSetupIsTold(t *testing.T) {
	o := opening(t, "alder-quay")
	whole, f := Open(o, nil)
	if f != nil {
		t.Fatal(f)
	}
	o.Records = append(o.Records, foreignSetup(t, o.ID))
	c, f := Open(o, nil)
	if f != nil {
		t.Fatalf("a job with a set-up that is lost is not opened: %v", f)
	}
	h := c.Home()
	last := h.Tags[len(h.Tags)-1]
	if last.Tag != "Z9" || last.State != "lost" || !strings.Contains(last.Text, "BM9") {
		t.Errorf("the set-up on BM9 is told as %+v, want lost for BM9", last)
	}
	if got, want := len(c.plan.Numbers), len(whole.plan.Numbers); got != want || h.Basis.Records != len(o.Records) {
		t.Errorf("%d numbers of %d records, want %d of %d", got, h.Basis.Records, want, len(o.Records))
	}
}
