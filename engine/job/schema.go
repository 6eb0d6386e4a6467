package job

import (
	_ "embed"
	"slices"
	"strings"
	"sync"

	"spadework/engine/safety"
)

//go:embed keys.txt
var keysText string

// ValueKind says what a value of a key is.
type ValueKind string

// The kinds of values. Lengths are bare in the job's unit or carry their own.
const (
	KindTable       ValueKind = "table"  // one table
	KindTables      ValueKind = "tables" // a list of tables
	KindText        ValueKind = "text"
	KindName        ValueKind = "name"  // a text or a number, as written
	KindNames       ValueKind = "names" // a list of them
	KindID          ValueKind = "id"    // a name that no other thing of its table has
	KindRef         ValueKind = "ref"   // the id of a thing of the table Of
	KindRefs        ValueKind = "refs"
	KindFile        ValueKind = "file"    // the name of a file beside the job
	KindHeaders     ValueKind = "headers" // a table from the names in Choices to headers of a file
	KindChoice      ValueKind = "choice"  // one of Choices
	KindFlag        ValueKind = "flag"    // true or false; left out it is the usual
	KindAnswer      ValueKind = "answer"  // true or false; left out it is not known
	KindCount       ValueKind = "count"   // a whole number from 0
	KindNumber      ValueKind = "number"  // without a unit
	KindLength      ValueKind = "length"
	KindDistance    ValueKind = "distance" // a length of 0 or more
	KindPositive    ValueKind = "positive" // a length over 0
	KindElevation   ValueKind = "elevation"
	KindStation     ValueKind = "station"
	KindStations    ValueKind = "stations"
	KindGrade       ValueKind = "grade"
	KindGrades      ValueKind = "grades" // [least, most]
	KindAccuracy    ValueKind = "accuracy"
	KindBatter      ValueKind = "batter"  // horizontal to vertical
	KindBatters     ValueKind = "batters" // a list, one a side; an item may be the table
	KindBearing     ValueKind = "bearing" // clockwise from north
	KindAngle       ValueKind = "angle"
	KindAngles      ValueKind = "angles" // [least, most]
	KindPoint       ValueKind = "point"  // [east, north]
	KindPoints      ValueKind = "points"
	KindSize        ValueKind = "size"   // [across, along], or one length of a square
	KindPair        ValueKind = "pair"   // [across, along], lengths over 0
	KindSpan        ValueKind = "span"   // [least, most], lengths of 0 or more
	KindPin         ValueKind = "pin"    // [along, across], lengths
	KindPixels      ValueKind = "pixels" // [right, down], numbers
	KindVolume      ValueKind = "volume" // bare, in the cube of the job's unit
	KindFlow        ValueKind = "flow"
	KindVoltage     ValueKind = "voltage"
	KindShare       ValueKind = "share"  // per cent
	KindChance      ValueKind = "chance" // over 0 and under 1
	KindCost        ValueKind = "cost"   // a number of 0 or more
	KindDate        ValueKind = "date"
	KindTime        ValueKind = "time"
	KindClock       ValueKind = "clock"  // time of day, 09:30
	KindClocks      ValueKind = "clocks" // a list of them
	kindOfRuleSet   ValueKind = "set"    // of keys.txt: a choice among the sets of rules
	kindsOfAllAreas           = "footing pad pit box"
	kindsOfAllRuns            = "strip trench field"
)

// KeyForm is one way to say the value of a key.
type KeyForm struct {
	Kind    ValueKind
	Choices []string // of KindChoice, in order; names of KindHeaders
	Of      string   // table that a KindRef or KindRefs names
}

// Key is a key that a job file may say. The same path always has the same key.
type Key struct {
	Path  string // "excavation.bottom.below"
	Name  string // "below"
	Must  bool   // it must be there where its table is
	Forms []KeyForm
	Only  []string // kinds of excavations that have it; empty: all
	Keys  []Key    // of the table among Forms
}

// KeySection is a group of tables that belong on one form.
type KeySection struct {
	Name   string
	Tables []Key
}

// Schema is every key that a job file may say. A test holds it against the
// decoder. It is shared: callers do not change it.
var Schema = sync.OnceValue(func() []KeySection { return readSchema(keysText) })

// SchemaKey finds a key by its path.
func SchemaKey(path string) (Key, bool) {
	parts := strings.Split(path, ".")
	for _, s := range Schema() {
		if k, ok := findKey(s.Tables, parts); ok {
			return k, true
		}
	}
	return Key{}, false
}

func findKey(keys []Key, parts []string) (Key, bool) {
	i := slices.IndexFunc(keys, func(k Key) bool { return k.Name == parts[0] })
	if i < 0 {
		return Key{}, false
	}
	if len(parts) == 1 {
		return keys[i], true
	}
	return findKey(keys[i].Keys, parts[1:])
}

// Form is the form of a kind among those of the key.
func (k Key) Form(kind ValueKind) (KeyForm, bool) {
	for _, f := range k.Forms {
		if f.Kind == kind {
			return f, true
		}
	}
	return KeyForm{}, false
}

// schemaLine is a line of keys.txt.
type schemaLine struct {
	depth int
	words []string
}

func readSchema(text string) []KeySection {
	var out []KeySection
	var block []schemaLine
	flush := func() {
		if len(out) > 0 {
			out[len(out)-1].Tables = readKeys(block, 0, "")
		}
		block = nil
	}
	for line := range strings.Lines(text) {
		bare := strings.TrimSpace(line)
		if name, section := strings.CutPrefix(bare, "== "); section {
			flush()
			out = append(out, KeySection{Name: name})
			continue
		}
		if bare == "" || bare[0] == '#' {
			continue
		}
		indent := len(line) - len(strings.TrimLeft(line, " "))
		block = append(block, schemaLine{indent / 2, strings.Fields(bare)})
	}
	flush()
	takeOver(out)
	return out
}

// readKeys reads the lines of one depth with what stands under each.
func readKeys(lines []schemaLine, depth int, path string) []Key {
	var out []Key
	for i := 0; i < len(lines); {
		end := i + 1
		for end < len(lines) && lines[end].depth > depth {
			end++
		}
		out = append(out, readKey(lines[i], lines[i+1:end], path))
		i = end
	}
	return out
}

func readKey(line schemaLine, under []schemaLine, path string) Key {
	if line.words[0] == "=" { // taken over once all is read
		return Key{Name: "=", Path: line.words[1]}
	}
	name, must := strings.CutSuffix(line.words[0], "!")
	k := Key{Path: name, Name: name, Must: must}
	if path != "" {
		k.Path = path + "." + name
	}
	f := KeyForm{}
	for _, word := range append(line.words[1:len(line.words):len(line.words)], "|") {
		only, limited := strings.CutPrefix(word, "@")
		switch {
		case word == "|":
			k.Forms = append(k.Forms, f)
			f = KeyForm{}
		case limited:
			k.Only = onlyKinds(only)
		case f.Kind == "":
			f.Kind = ValueKind(word)
		case f.Kind == KindRef || f.Kind == KindRefs:
			f.Of = word
		default:
			f.Choices = append(f.Choices, word)
		}
		if f.Kind == kindOfRuleSet {
			f = KeyForm{Kind: KindChoice, Choices: safety.Sets()}
		}
	}
	k.Keys = readKeys(under, line.depth+1, k.Path)
	return k
}

func onlyKinds(word string) []string {
	switch word {
	case "area":
		return strings.Fields(kindsOfAllAreas)
	case "run":
		return strings.Fields(kindsOfAllRuns)
	}
	return []string{word}
}

// takeOver puts the keys of another table where "=" stands.
func takeOver(sections []KeySection) {
	tables := map[string][]Key{}
	for _, s := range sections {
		for _, k := range s.Tables {
			tables[k.Name] = k.Keys
		}
	}
	var fill func(keys []Key, path string) []Key
	fill = func(keys []Key, path string) []Key {
		var out []Key
		for _, k := range keys {
			if k.Name == "=" {
				for _, other := range fill(tables[k.Path], path) {
					if !slices.ContainsFunc(out, func(own Key) bool { return own.Name == other.Name }) {
						out = append(out, other)
					}
				}
				continue
			}
			k.Path = path + "." + k.Name
			k.Keys = fill(k.Keys, k.Path)
			out = append(out, k)
		}
		return out
	}
	for _, s := range sections {
		for i, k := range s.Tables {
			s.Tables[i].Keys = fill(k.Keys, k.Path)
		}
	}
}
