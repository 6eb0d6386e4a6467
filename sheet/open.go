package sheet

import (
	"slices"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/plan"
)

// openAt tells, before any number of theirs, the severe findings that nobody
// released and that are about one of the digs, the set-up ("" for none) or the
// whole site.
func (s *Sheet) openAt(p *plan.Plan, setup string, digs ...string) {
	s.findings(p, "sheet.stops", func(f phrase.Finding) bool {
		elsewhere := f.Where.Setup != "" && f.Where.Setup != setup ||
			f.Where.Excavation != "" && !slices.Contains(digs, f.Where.Excavation) && !names(f, digs)
		return f.Severity == phrase.Stop && !elsewhere
	})
}

// names says that a finding that stands for several names one of the digs.
func names(f phrase.Finding, digs []string) bool {
	for _, a := range f.What.Args {
		list, ok := a.Value.([]string)
		if ok && slices.ContainsFunc(list, func(place string) bool {
			id, _, _ := strings.Cut(place, "/") // a dig and the part of it
			return slices.Contains(digs, id)
		}) {
			return true
		}
	}
	return false
}

// Lead puts before a sheet what openAt tells.
func (s *Sheet) Lead(p *plan.Plan, setup string, digs ...string) {
	first := &Sheet{View: s.View}
	first.openAt(p, setup, digs...)
	s.Blocks = append(first.Blocks, s.Blocks...)
}
