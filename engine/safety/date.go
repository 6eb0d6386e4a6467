package safety

import "strings"

// day is a date as days; only differences and order mean something.
type day int

// readDate reads an ISO 8601 date, 2026-05-04, that the calendar has.
func readDate(s string) (day, bool) {
	if len(s) != 10 || s[4] != '-' || s[7] != '-' {
		return 0, false
	}
	y, okY := digits(s[:4])
	m, okM := digits(s[5:7])
	d, okD := digits(s[8:])
	if !okY || !okM || !okD || m < 1 || m > 12 || d < 1 || d > monthDays(y, m) {
		return 0, false
	}
	out := d
	for k := 1; k < m; k++ {
		out += monthDays(y, k)
	}
	return day(y*365 + (y+3)/4 - (y+99)/100 + (y+399)/400 + out), true
}

// monthDays is the length of a month of the Gregorian calendar.
func monthDays(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

// digits reads decimal digits and nothing else.
func digits(s string) (n int, ok bool) {
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, s != ""
}

// stamp is a time of day on a date, in seconds; with an offset it is universal
// time and two stamps compare, without one it is local.
type stamp struct {
	seconds int
	offset  bool
}

// readStamp reads 2026-05-04T07:10, with or without seconds and an offset of
// Z, +hh:mm or -hh:mm.
func readStamp(s string) (stamp, bool) {
	date, clock, _ := strings.Cut(s, "T")
	d, ok := readDate(date)
	if !ok {
		return stamp{}, false
	}
	clock, shift, offset, ok := cutOffset(clock)
	if !ok {
		return stamp{}, false
	}
	parts := strings.Split(clock, ":")
	if len(parts) == 2 {
		parts = append(parts, "00")
	}
	if len(parts) != 3 {
		return stamp{}, false
	}
	total := 0
	for i, most := range []int{23, 59, 59} {
		n, ok := digits(parts[i])
		if !ok || len(parts[i]) != 2 || n > most {
			return stamp{}, false
		}
		total = total*60 + n
	}
	return stamp{int(d)*86400 + total - shift, offset}, true
}

// cutOffset takes the offset from the end of a time, in seconds east.
func cutOffset(clock string) (rest string, shift int, offset, ok bool) {
	if rest, ok := strings.CutSuffix(clock, "Z"); ok {
		return rest, 0, true, true
	}
	i := strings.IndexAny(clock, "+-")
	if i < 0 {
		return clock, 0, false, true
	}
	h, m, _ := strings.Cut(clock[i+1:], ":")
	hours, okH := digits(h)
	minutes, okM := digits(m)
	if !okH || !okM || len(h) != 2 || len(m) != 2 || hours > 14 || minutes > 59 {
		return "", 0, false, false
	}
	shift = (hours*60 + minutes) * 60
	if clock[i] == '-' {
		shift = -shift
	}
	return clock[:i], shift, true, true
}

// after says that s is known to be later than o.
func (s stamp) after(o stamp) bool { return s.offset == o.offset && s.seconds > o.seconds }
