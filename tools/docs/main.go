// Command docs makes what the documents tell of the job file from the keys that
// the decoder knows: docs/job-keys.md to read and docs/job.schema.json for
// editors. It runs in the root of the module.
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"spadework/engine/job"
)

//go:generate go -C ../.. run ./tools/docs

func main() {
	if err := write("."); err != nil {
		fmt.Fprintln(os.Stderr, "docs:", err)
		os.Exit(1)
	}
}

// made are the documents by name.
func made() map[string][]byte {
	return map[string][]byte{
		filepath.Join("docs", "job-keys.md"):     reference(sections()),
		filepath.Join("docs", "job.schema.json"): jsonSchema(sections()),
	}
}

// sections are those of the schema. What a dig must have, the rows of a schedule
// may give: the table of the schedule itself need not.
func sections() []job.KeySection {
	out := slices.Clone(job.Schema())
	for i, s := range out {
		out[i].Tables = slices.Clone(s.Tables)
		for j, t := range s.Tables {
			if t.Name != "schedule" {
				continue
			}
			t.Keys = slices.Clone(t.Keys)
			for k, key := range t.Keys {
				if _, digs := job.SchemaKey("excavation." + key.Name); digs {
					t.Keys[k].Must = false
				}
			}
			out[i].Tables[j] = t
		}
	}
	return out
}

func write(root string) error {
	for name, data := range made() {
		if err := os.WriteFile(filepath.Join(root, name), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
