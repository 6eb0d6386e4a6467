package job

import (
	"errors"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// length reads a length; a bare number is in the job's unit.
func (t *table) length(key string) unit.Length {
	s, ok := t.scalar(key, "job.kind_length")
	if !ok {
		return 0
	}
	v, err := t.units().Length(s)
	t.parseFault(key, err)
	return v
}

// positive reads a length over zero. An absent key gives zero.
func (t *table) positive(key string) unit.Length {
	v := t.length(key)
	if t.has(key) && v <= 0 && t.r.fault == nil {
		t.fail(key, phrase.New("job.not_positive", phrase.With("key", key), phrase.With("value", t.n.get(key).describe())),
			phrase.New("job.not_positive.remedy", phrase.With("key", key)))
	}
	return v
}

// notNegative reads a length of zero or more.
func (t *table) notNegative(key string) unit.Length {
	v := t.length(key)
	if v < 0 && t.r.fault == nil {
		t.fail(key, phrase.New("job.negative", phrase.With("key", key), phrase.With("value", t.n.get(key).describe())),
			phrase.New("job.negative.remedy", phrase.With("key", key)))
	}
	return v
}

// elevation reads an elevation, snapped to 1 µm.
func (t *table) elevation(key string) unit.Elevation {
	s, ok := t.scalar(key, "job.kind_length")
	if !ok {
		return 0
	}
	v, err := t.units().Coordinate(s)
	t.parseFault(key, err)
	return unit.Elevation(unit.FromMicrometres(v))
}

// grade reads a grade, 0 if absent.
func (t *table) grade(key string) unit.Grade {
	s, ok := t.scalar(key, "job.kind_slope")
	if !ok {
		return 0
	}
	v, err := t.units().Slope(s)
	t.parseFault(key, err)
	if err != nil {
		return 0
	}
	return v.Grade()
}

// accuracy reads the stated accuracy of a laser as a grade.
func (t *table) accuracy(key string) unit.Grade {
	s, ok := t.scalar(key, "job.kind_slope")
	if !ok {
		return 0
	}
	v, err := t.units().Accuracy(s)
	t.parseFault(key, err)
	return v
}

// batter reads the slope of a side, horizontal to vertical.
func (t *table) batter(key string) unit.Batter {
	s, ok := t.scalar(key, "job.kind_batter")
	if !ok {
		return unit.Batter{}
	}
	v, err := t.units().Batter(s)
	t.parseFault(key, err)
	return v
}

// bearing reads a direction clockwise from north.
func (t *table) bearing(key string) unit.Angle {
	s, ok := t.scalar(key, "job.kind_bearing")
	if !ok {
		return 0
	}
	v, err := t.units().Bearing(s)
	t.parseFault(key, err)
	return v
}

// station reads a station of a line.
func (t *table) station(key string) unit.Station {
	s, ok := t.scalar(key, "job.kind_length")
	if !ok {
		return 0
	}
	v, err := t.units().Station(s)
	t.parseFault(key, err)
	return v
}

// parseFault places an error of a unit parser.
func (t *table) parseFault(key string, err error) {
	if err == nil {
		return
	}
	t.r.parseFault(t.place(key), t.sub(key), err)
}

func (r *reader) parseFault(at phrase.Place, path string, err error) {
	var pe *unit.ParseError
	if errors.As(err, &pe) {
		what, remedy := phrase.FromParse(pe)
		r.failAt(at, path, phrase.NewFault(what, remedy))
		return
	}
	r.failAt(at, path, phrase.NewFault(
		phrase.New("job.unreadable", phrase.With("detail", err.Error())), phrase.Message{}))
}
