package record

import (
	"encoding/hex"

	"spadework/engine/phrase"
)

// ID names a record: a UUID of version 7 (RFC 9562, 5.7), so that ids sort by
// the time their device told and no two devices make the same.
type ID [16]byte

// maxMillis is the last time that 48 bits hold, in the year 10889.
const maxMillis = 1<<48 - 1

// NewID is the id of a time, milliseconds since 1970 UTC, and random bytes. A
// time out of the 48 bits is taken at their end.
func NewID(millis int64, random [10]byte) ID {
	millis = min(max(millis, 0), maxMillis)
	var id ID
	for i := range 6 {
		id[i] = byte(millis >> (40 - 8*i))
	}
	copy(id[6:], random[:])
	id[6] = id[6]&0x0f | 0x70 // version 7
	id[8] = id[8]&0x3f | 0x80 // variant of RFC 9562
	return id
}

// NextID is an id that sorts after the device's last one, although its clock
// stood still or went back: then the last one's random part is raised, by its
// first random byte and one (RFC 9562, 6.2, method 2).
func NextID(last ID, millis int64, random [10]byte) ID {
	id := NewID(millis, random)
	if id.Compare(last) > 0 {
		return id
	}
	return last.raised(uint(random[0]) + 1)
}

// raised adds to the random part; a carry goes on into the time.
func (id ID) raised(by uint) ID {
	for i := len(id) - 1; i >= 0 && by > 0; i-- {
		free := byte(0xff)
		switch i {
		case 8:
			free = 0x3f
		case 6:
			free = 0x0f
		}
		sum := uint(id[i]&free) + by
		id[i] = id[i]&^free | byte(sum)&free
		by = sum / (uint(free) + 1)
	}
	return id
}

// Millis is the time in the id.
func (id ID) Millis() int64 {
	var out int64
	for _, b := range id[:6] {
		out = out<<8 | int64(b)
	}
	return out
}

// IsZero says that there is no id.
func (id ID) IsZero() bool { return id == ID{} }

// Compare orders ids by their bytes, so by time first.
func (id ID) Compare(o ID) int {
	for i := range id {
		if id[i] != o[i] {
			return int(id[i]) - int(o[i])
		}
	}
	return 0
}

// String is 8-4-4-4-12 hexadecimal digits in lower case.
func (id ID) String() string { return string(id.append(nil)) }

func (id ID) append(dst []byte) []byte {
	for i, b := range id {
		if i == 4 || i == 6 || i == 8 || i == 10 {
			dst = append(dst, '-')
		}
		dst = hex.AppendEncode(dst, []byte{b})
	}
	return dst
}

// ParseID reads String's form and nothing else.
func ParseID(s string) (ID, *phrase.Fault) {
	var id ID
	if ok := id.read(s); !ok {
		return ID{}, fault("record.id", phrase.With("key", "id"), phrase.With("value", s))
	}
	return id, nil
}

func (id *ID) read(s string) bool {
	if len(s) != 36 || s[8] != '-' || s[13] != '-' || s[18] != '-' || s[23] != '-' {
		return false
	}
	digits := s[:8] + s[9:13] + s[14:18] + s[19:23] + s[24:]
	if _, err := hex.Decode(id[:], []byte(digits)); err != nil {
		return false
	}
	return id[6]>>4 == 7 && id[8]>>6 == 2 && id.String() == s
}
