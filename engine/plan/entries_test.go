package plan_test

import (
	"fmt"
	"slices"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/safety"
)

// TestTheLogsEntriesCount: what a competent person entered in the log releases as
// what the job tells does, word for word; the plan it was asked of stays as it was,
// and without the entry it is open again.
func TestTheLogsEntriesCount(t *testing.T) {
	release := safety.Entry{Who: "A. Digger", At: "2026-05-04T07:20", Rule: "protection_depth", Saw: "trench box set to the bottom",
		Where: phrase.Where{Excavation: "T1"}}
	open := func(list []phrase.Finding) bool {
		return slices.ContainsFunc(list, func(f phrase.Finding) bool { return f.Rule == "protection_depth" && f.Severity == phrase.Stop })
	}
	plain := planOf(t, fill(deep(5)))
	before := fmt.Sprint(plain.Findings)
	logged := plain.WithEntries([]safety.Entry{release})
	told := planOf(t, fill(deep(5), with("entry", keptWords["entry"]+"\n[[entry]]\nwho = \"A. Digger\"\nat = \"2026-05-04T07:20\"\nrule = \"protection_depth\"\nexcavation = \"T1\"\nsaw = \"trench box set to the bottom\"")))
	if !open(plain.Findings) || open(logged.Findings) {
		t.Errorf("open before %v, with the log's entry %v; want true, false", open(plain.Findings), open(logged.Findings))
	}
	if fmt.Sprint(logged.Findings) != fmt.Sprint(told.Findings) {
		t.Errorf("released by the log:\n%v\nby the job:\n%v", logged.Findings, told.Findings)
	}
	if ok, why := logged.InHole("T1"); !ok {
		t.Errorf("shots from inside are not offered after the release: %v", why)
	}
	if fmt.Sprint(plain.Findings) != before {
		t.Error("the plan asked was changed")
	}
	if again := logged.WithEntries(nil); fmt.Sprint(again.Findings) != before {
		t.Errorf("without the entry:\n%v\nwant\n%v", again.Findings, before)
	}
	other := release
	other.Who = "B. Other"
	if !open(plain.WithEntries([]safety.Entry{other}).Findings) {
		t.Error("another person's entry releases")
	}
}
