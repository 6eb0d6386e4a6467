package level

import (
	"math"
	"strconv"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// place is where line i of a run was read; without that its index from 1.
func (r Run) place(i int) phrase.Place {
	if p := r.Lines[i].Place; p != (phrase.Place{}) {
		return p
	}
	return phrase.Place{Path: "lines[" + strconv.Itoa(i+1) + "]"}
}

// check finds what no book may have, line by line.
func (r Run) check() error {
	if len(r.Lines) == 0 {
		return phrase.NewFault(phrase.New("level.no_lines"), phrase.New("level.no_lines.remedy"))
	}
	if err := r.Start.check(); err != nil {
		return err
	}
	if r.Close != nil {
		if err := r.Close.check(); err != nil {
			return err
		}
	}
	for i, line := range r.Lines {
		if err := line.check(); err != nil {
			return err.At(r.place(i))
		}
	}
	return nil
}

// check is nil or a fault; the error it returns is never a nil *phrase.Fault.
func (m Mark) check() error {
	if isNumber(float64(m.Elevation)) {
		return nil
	}
	return phrase.NewFault(
		phrase.New("level.elevation_not_number", phrase.With("point", m.Point), phrase.With("value", float64(m.Elevation))),
		phrase.New("level.number.remedy"))
}

func (l Line) check() *phrase.Fault {
	switch {
	case l.Point == "":
		return phrase.NewFault(phrase.New("level.no_name"), phrase.New("level.no_name.remedy"))
	case !l.Back.Taken && !l.Intermediate.Taken && !l.Fore.Taken:
		return phrase.NewFault(phrase.New("level.no_sight", phrase.With("point", l.Point)), phrase.New("level.no_sight.remedy"))
	case l.Intermediate.Taken && (l.Back.Taken || l.Fore.Taken):
		return phrase.NewFault(phrase.New("level.mixed_line", phrase.With("point", l.Point)), phrase.New("level.mixed_line.remedy"))
	}
	for _, s := range []Sight{l.Back, l.Intermediate, l.Fore} {
		if err := s.check(l.Point); err != nil {
			return err
		}
	}
	return nil
}

// check finds a reading or distance that is none.
func (s Sight) check(point string) *phrase.Fault {
	if !isNumber(float64(s.Reading)) {
		return phrase.NewFault(
			phrase.New("level.reading_not_number", phrase.With("point", point), phrase.With("value", float64(s.Reading))),
			phrase.New("level.number.remedy"))
	}
	return checkDistance(point, s.Distance)
}

// checkDistance finds a distance that is not a number or under 0.
func checkDistance(point string, d unit.Length) *phrase.Fault {
	if isNumber(float64(d)) && d >= 0 {
		return nil
	}
	var value any = d
	if !isNumber(float64(d)) {
		value = float64(d) // no style prints NaN
	}
	return phrase.NewFault(
		phrase.New("level.bad_distance", phrase.With("point", point), phrase.With("value", value)),
		phrase.New("level.bad_distance.remedy"))
}

func isNumber(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
