package record

import (
	"fmt"
	"strconv"
)

// Stamp is what a device's clock showed, to the millisecond, with its offset
// from UTC. It is for people to read; no meaning rests on it.
type Stamp struct {
	Millis int64 // since 1970 UTC, years 0 to 9999
	Offset int   // minutes east of UTC, within a day
}

const (
	dayMillis = 86_400_000
	maxOffset = 24*60 - 1
	minStamp  = -719528 * dayMillis                  // year 0
	maxStamp  = 2932897*dayMillis - 1                // year 9999
	stampForm = "%04d-%02d-%02dT%02d:%02d:%02d.%03d" // RFC 3339
)

// valid says that the stamp has a written form, in UTC and where it was made.
func (s Stamp) valid() bool {
	local := s.local()
	return s.Offset >= -maxOffset && s.Offset <= maxOffset && s.Millis >= minStamp && s.Millis <= maxStamp &&
		local >= minStamp && local <= maxStamp
}

func (s Stamp) local() int64 { return s.Millis + int64(s.Offset)*60_000 }

// String is RFC 3339 with milliseconds and offset: 2026-05-04T07:10:00.000-04:00.
func (s Stamp) String() string {
	local := s.local()
	days := floorDiv(local, dayMillis)
	y, m, d := civil(days)
	ms := local - days*dayMillis
	out := fmt.Sprintf(stampForm, y, m, d, ms/3_600_000, ms/60_000%60, ms/1000%60, ms%1000)
	sign, off := '+', s.Offset
	if off < 0 {
		sign, off = '-', -off
	}
	return out + fmt.Sprintf("%c%02d:%02d", sign, off/60, off%60)
}

// Date is the day at the place: 2026-05-04.
func (s Stamp) Date() string { return s.String()[:10] }

// Minute is the time of day at the place: 07:10.
func (s Stamp) Minute() string { return s.String()[11:16] }

// ParseStamp reads String's form and nothing else.
func ParseStamp(text string) (Stamp, bool) {
	const form = "0000-00-00T00:00:00.000+00:00"
	if len(text) != len(form) {
		return Stamp{}, false
	}
	for i := range len(form) {
		digit := text[i] >= '0' && text[i] <= '9'
		if digit != (form[i] == '0') || !digit && text[i] != form[i] && (i != 23 || text[i] != '-') {
			return Stamp{}, false
		}
	}
	n := func(from, to int) int64 { v, _ := strconv.Atoi(text[from:to]); return int64(v) }
	out := Stamp{Offset: int(n(24, 26)*60 + n(27, 29))}
	if text[23] == '-' {
		out.Offset = -out.Offset
	}
	days := daysOf(n(0, 4), n(5, 7), n(8, 10))
	ms := ((n(11, 13)*60+n(14, 16))*60+n(17, 19))*1000 + n(20, 23)
	out.Millis = days*dayMillis + ms - int64(out.Offset)*60_000
	// A date or hour that the calendar does not have comes out as another, and
	// so does -00:00.
	return out, out.valid() && out.String() == text
}

// daysOf counts days from 1970-01-01 in the proleptic Gregorian calendar, with
// years that begin in March so that the leap day is their last.
func daysOf(y, m, d int64) int64 {
	if m <= 2 {
		y--
		m += 12
	}
	return 365*y + floorDiv(y, 4) - floorDiv(y, 100) + floorDiv(y, 400) + (153*(m-3)+2)/5 + d - 1 - 719468
}

// civil undoes daysOf.
func civil(days int64) (y, m, d int64) {
	days += 719468
	era := floorDiv(days, 146097)
	doe := days - era*146097
	yoe := (doe - doe/1460 + doe/36524 - doe/146096) / 365
	doy := doe - (365*yoe + yoe/4 - yoe/100)
	mp := (5*doy + 2) / 153
	y, m, d = yoe+era*400, mp+3, doy-(153*mp+2)/5+1
	if m > 12 {
		y, m = y+1, m-12
	}
	return y, m, d
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
