package main

import (
	"strings"

	"spadework/engine/job"
)

// sectionNames head the sections of the schema.
var sectionNames = map[string]string{
	"job": "The job", "levels": "Levels and points", "ground": "Ground", "digs": "Digs", "equipment": "Equipment",
	"site": "Site and neighbours", "safety": "Safety", "trust": "Trust", "earth": "Earth",
}

// reference is docs/job-keys.md: every table with its keys, in the order of the
// schema.
func reference(sections []job.KeySection) []byte {
	var b strings.Builder
	b.WriteString("# Keys of the job file\n\n" +
		"Made by `go generate ./tools/docs` from the keys that the decoder reads; what they mean is told in [job-file.md](job-file.md).\n" +
		"Editors that take a JSON Schema read [job.schema.json](job.schema.json).\n\n" +
		"**!** must be there. A bare figure is in the job's unit; `\"16 in\"`, `\"2'-4 1/2\\\"\"`, `\"410 mm\"` carry their own.\n")
	for _, s := range sections {
		title := sectionNames[s.Name]
		if title == "" {
			title = strings.ToUpper(s.Name[:1]) + s.Name[1:]
		}
		b.WriteString("\n## " + title + "\n")
		for _, k := range s.Tables {
			head := "[" + k.Name + "]"
			if _, many := k.Form(job.KindTables); many {
				head = "[[" + k.Name + "]]"
			}
			if k.Must {
				head += " !"
			}
			b.WriteString("\n### `" + head + "`\n\n| key | value | in |\n|---|---|---|\n")
			rows(&b, k.Keys, "")
		}
	}
	return []byte(b.String())
}

// rows writes the keys of a table, those of tables inside it behind their own.
func rows(b *strings.Builder, keys []job.Key, path string) {
	for _, k := range keys {
		name := path + k.Name
		must := ""
		if k.Must {
			must = " !"
		}
		var forms []string
		for _, f := range k.Forms {
			forms = append(forms, told(f))
		}
		b.WriteString("| `" + name + "`" + must + " | " + strings.Join(forms, ", or ") + " | " + strings.Join(k.Only, ", ") + " |\n")
		rows(b, k.Keys, name+".")
	}
}

// told is a form in words.
func told(f job.KeyForm) string {
	switch f.Kind {
	case job.KindTable:
		return "table"
	case job.KindTables:
		return "list of tables"
	case job.KindHeaders:
		return "table of headers: " + quoted(f.Choices)
	case job.KindChoice:
		return quoted(f.Choices)
	case job.KindRef, job.KindRefs:
		return values[f.Kind].words + " `" + f.Of + "`"
	}
	return values[f.Kind].words
}

func quoted(words []string) string {
	parts := make([]string, len(words))
	for i, w := range words {
		parts[i] = "`" + w + "`"
	}
	return strings.Join(parts, " ")
}
