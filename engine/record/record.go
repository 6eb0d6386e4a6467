package record

import (
	"encoding/hex"
	"slices"

	"spadework/engine/phrase"
)

// Format is the version of the envelope.
const Format = 1

// maxCauses bounds the causes of one record: what its payload names and the
// heads of the other devices of a crew.
const maxCauses = 64

// Hash is the SHA-256 of a record's canonical form.
type Hash [32]byte

// String is 64 hexadecimal digits in lower case.
func (h Hash) String() string { return hex.EncodeToString(h[:]) }

// IsZero says that there is no hash.
func (h Hash) IsZero() bool { return h == Hash{} }

// ParseHash reads 64 hexadecimal digits in lower case and nothing else.
func ParseHash(s string) (Hash, bool) { return readHash(s) }

// readHash reads String's form and nothing else.
func readHash(s string) (h Hash, ok bool) {
	if len(s) != 2*len(h) {
		return Hash{}, false
	}
	_, err := hex.Decode(h[:], []byte(s))
	return h, err == nil && h.String() == s
}

// Record is one entry of the log of a job.
type Record struct {
	ID       ID
	Job      string // id of the job
	Device   string
	Seq      int64 // of the device in this job, from 1
	Person   string
	Clock    Clock
	Time     Stamp  // what the device showed; never used for meaning
	Revision string // of the job that the device held, "" none
	Causes   []ID   // what the record rests on or had seen, in order
	Previous Hash   // of the device's record before, zero where Seq is 1
	Payload  Payload
}

// Kind is the kind of the payload.
func (r Record) Kind() Kind { return r.Payload.Kind() }

// Append appends the canonical form of the record, which Decode reads: JSON as
// RFC 8785 has it, every key present. The record must be valid; Check says so.
func (r Record) Append(dst []byte) []byte {
	var f fields
	r.walk(&f)
	return f.out.value().append(dst)
}

// Hash is the SHA-256 of the canonical form.
func (r Record) Hash() Hash { return sumOf(r.Append(nil)) }

// Check says what keeps a record from being one, nil if nothing does.
func (r Record) Check() *phrase.Fault {
	var f fields
	r.walk(&f)
	if f.fault == nil {
		if n := len(r.Append(nil)); n > MaxRecord {
			return fault("record.too_long", phrase.With("size", n), phrase.With("limit", MaxRecord))
		}
	}
	return f.fault
}

// Decode reads one record. It takes the canonical form alone: an unknown or
// missing key, a blank, a number written otherwise, keys out of order are each
// one fault with its column or key.
func Decode(data []byte) (Record, *phrase.Fault) {
	v, f := parse(data)
	if f != nil {
		return Record{}, f
	}
	if v.kind != objectValue {
		return Record{}, fault("record.want_object", phrase.With("key", ""))
	}
	var r Record
	in := fields{in: &v}
	r.walk(&in)
	in.end(r.walk)
	if in.fault != nil {
		return Record{}, in.fault
	}
	return r, nil
}

// walk walks the envelope.
func (r *Record) walk(f *fields) {
	version := int64(Format)
	f.whole("format", &version, 1)
	if version != Format {
		f.fail("format", "record.format", phrase.With("value", int(version)), phrase.With("format", Format))
	}
	f.id("id", &r.ID)
	f.name("job", &r.Job)
	f.name("device", &r.Device)
	f.whole("seq", &r.Seq, 1)
	f.name("person", &r.Person)
	f.inner("clock", r.Clock.walk)
	f.stamp("time", &r.Time)
	f.maybe("revision", &r.Revision)
	f.ids("causes", &r.Causes)
	r.walkPrevious(f)
	r.walkPayload(f)
	r.checkCauses(f)
}

func (c *Clock) walk(f *fields) {
	f.whole("wall", &c.Wall, 0)
	f.whole("count", &c.Count, 0)
}

func (r *Record) walkPrevious(f *fields) {
	text := ""
	if !r.Previous.IsZero() {
		text = r.Previous.String()
	}
	f.maybe("previous", &text)
	if f.in != nil && text != "" {
		h, ok := readHash(text)
		if !ok {
			f.fail("previous", "record.hash", quoted(text))
		}
		r.Previous = h
	}
	if (r.Seq == 1) != r.Previous.IsZero() {
		f.fail("previous", "record.previous")
	}
}

func (r *Record) walkPayload(f *fields) {
	kind := ""
	if r.Payload != nil {
		kind = string(r.Payload.Kind())
	}
	f.choice("kind", &kind, kindWords)
	if f.fault != nil {
		return
	}
	if f.in != nil {
		r.Payload = newPayload(Kind(kind))
	}
	f.inner("payload", r.Payload.walk)
}

// checkCauses holds that what the payload names is among the causes and that a
// record is no cause of its own.
func (r *Record) checkCauses(f *fields) {
	if f.fault != nil {
		return
	}
	for _, id := range r.Payload.Names() {
		if _, ok := slices.BinarySearchFunc(r.Causes, id, ID.Compare); !ok {
			f.fail("causes", "record.no_cause", phrase.With("value", id.String()))
		}
	}
	if slices.Contains(r.Causes, r.ID) {
		f.fail("causes", "record.own_cause")
	}
}
