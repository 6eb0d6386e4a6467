package safety

import (
	"strings"

	"spadework/engine/phrase"
)

// Gather merges, for printing, the findings that the same thing is not known of
// several digs, set-ups or lines: the first of them stays and names the others.
// Everything else stays as it is; nothing is dropped but what is named.
func Gather(findings []phrase.Finding) []phrase.Finding {
	var out []phrase.Finding
	first := map[string]int{} // rule and severity to the index in out
	var likewise [][]string
	for _, f := range findings {
		key := string(f.Severity) + " " + f.Rule
		i, seen := first[key]
		if seen && strings.HasPrefix(f.Rule, "missing_") {
			likewise[i] = append(likewise[i], placeName(f.Where))
			continue
		}
		first[key] = len(out)
		out, likewise = append(out, f), append(likewise, nil)
	}
	for i, names := range likewise {
		if len(names) > 0 {
			out[i].What = phrase.New("safety.likewise", phrase.With("what", out[i].What), phrase.With("names", names))
		}
	}
	return out
}

// placeName is the names of a place, the excavation first.
func placeName(w phrase.Where) string {
	var parts []string
	for _, s := range []string{w.Excavation, w.Part, w.Stand, w.Heap, w.Setup} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, "/")
}
