package safety

import "spadework/engine/phrase"

// Findings judges the facts by the rules: digs, footings, services, overhead
// lines, heaps, stands, crossings and lasers in the order given, then the site.
// What is not known is a finding of its own and is taken at its worst.
func Findings(b Book, f Facts) []phrase.Finding { return nil }
