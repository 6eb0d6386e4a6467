package exchange

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"spadework/engine/job"
	"spadework/engine/phrase"
)

// Limits of a bundle.
const (
	MaxBundle      = 16 << 20 // bytes of all its texts
	maxBundleFiles = 200
	maxFileName    = 100 // bytes
)

// BundleFormat is the format of a bundle.
const BundleFormat = 1

// Bundle is a job file and the files beside it as one document.
type Bundle struct {
	Format int               `json:"format"` // 1
	Main   string            `json:"main"`   // name of the job file
	Files  map[string]string `json:"files"`  // text by name; names without a folder
}

// DecodeBundle reads a bundle strictly.
func DecodeBundle(data []byte) (Bundle, *phrase.Fault) {
	var b Bundle
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&b); err != nil {
		return Bundle{}, bundleFault("exchange.bundle_json", phrase.With("detail", err.Error()))
	}
	if d.More() {
		return Bundle{}, bundleFault("exchange.bundle_json", phrase.With("detail", "more than one value"))
	}
	return b, b.Check()
}

// Check says what keeps a bundle from being kept.
func (b Bundle) Check() *phrase.Fault {
	if b.Format != BundleFormat {
		return bundleFault("exchange.bundle_format", phrase.With("value", b.Format))
	}
	if _, there := b.Files[b.Main]; !there {
		return bundleFault("exchange.bundle_main", phrase.With("name", b.Main))
	}
	if len(b.Files) > maxBundleFiles {
		return bundleFault("exchange.bundle_files", phrase.With("count", len(b.Files)), phrase.With("limit", maxBundleFiles))
	}
	size := 0
	for _, name := range b.Names() {
		if !isFileName(name) {
			return bundleFault("exchange.bundle_name", phrase.With("name", name))
		}
		if !utf8.ValidString(b.Files[name]) {
			return bundleFault("exchange.bundle_text", phrase.With("name", name))
		}
		size += len(b.Files[name])
	}
	if size > MaxBundle {
		return bundleFault("exchange.bundle_size", phrase.With("size", size), phrase.With("limit", MaxBundle))
	}
	return nil
}

// isFileName says that a name stays in its folder on every system.
func isFileName(name string) bool {
	if name == "" || len(name) > maxFileName || strings.HasPrefix(name, ".") || !utf8.ValidString(name) {
		return false
	}
	return !strings.ContainsFunc(name, func(r rune) bool { return r < ' ' || r == 0x7f || strings.ContainsRune(`/\:*?"<>|`, r) })
}

func bundleFault(key phrase.Key, args ...phrase.Arg) *phrase.Fault {
	return phrase.NewFault(phrase.New(key, args...), phrase.New("exchange.bundle.remedy"))
}

// Names are the names of the files in their order.
func (b Bundle) Names() []string { return slices.Sorted(maps.Keys(b.Files)) }

// Encode is the bundle as a document: keys in order, one text for one bundle.
func (b Bundle) Encode() []byte {
	data, err := json.Marshal(b)
	if err != nil {
		panic("exchange: a bundle of strings does not fail to encode: " + err.Error())
	}
	return data
}

// Open gives a file of the bundle.
func (b Bundle) Open(name string) ([]byte, error) {
	text, there := b.Files[name]
	if !there {
		return nil, fs.ErrNotExist
	}
	return []byte(text), nil
}

// Job reads the job of the bundle. Its grids are texts: no reader of other kinds
// goes with the page.
func (b Bundle) Job() (*job.Job, job.Voice, error) {
	doc, fault := job.Parse(b.Main, []byte(b.Files[b.Main]))
	if fault != nil {
		return nil, job.Voice{}, fault
	}
	j, err := readDocument(doc, b.Open, readTextGrid)
	return j, doc.Voice(), err
}

// BundleOf reads a job file and every file it names.
func BundleOf(main string, open Open) (Bundle, error) {
	data, err := open(main)
	if err != nil {
		return Bundle{}, err
	}
	b := Bundle{Format: BundleFormat, Main: main, Files: map[string]string{main: string(data)}}
	doc, fault := job.Parse(main, data)
	if fault != nil {
		return Bundle{}, fault
	}
	for _, ref := range doc.Files() {
		data, err := open(ref.Name)
		if err != nil {
			return Bundle{}, missing(ref, err)
		}
		b.Files[ref.Name] = string(data)
	}
	if f := b.Check(); f != nil {
		return Bundle{}, f
	}
	return b, nil
}
