package trust

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// figure is a value with the name it has in the job file.
type figure struct {
	name  string
	value float64
}

// checkFigures is the fault of the first figure that is not a number of zero or
// more.
func checkFigures(figures ...figure) *phrase.Fault {
	for _, f := range figures {
		if !(f.value >= 0) || math.IsInf(f.value, 1) {
			return phrase.NewFault(phrase.New("trust.figure", phrase.With("name", f.name), phrase.With("value", f.value)),
				phrase.New("trust.figure.remedy", phrase.With("name", f.name)))
		}
	}
	return nil
}

// finite is the fault of the first figure that is not a number.
func finite(figures ...figure) *phrase.Fault {
	for i := range figures {
		figures[i].value = math.Abs(figures[i].value)
	}
	return checkFigures(figures...)
}

// checkSite refuses figures out of range and ids given twice.
func checkSite(g Control, setups []Setup) *phrase.Fault {
	if f := checkFigures(figure{"refraction", g.Refraction}); f != nil {
		return f
	}
	seen := map[string]bool{}
	for _, p := range g.Points {
		if f := twice(seen, "point "+p.ID, p.ID); f != nil {
			return f
		}
		if f := finite(figure{"at", p.At.X}, figure{"at", p.At.Y}); f != nil {
			return f
		}
		if f := checkFigures(figure{"sigma", float64(p.Sigma)}); f != nil {
			return f
		}
	}
	for _, s := range setups {
		if f := twice(seen, "setup "+s.ID, s.ID); f != nil {
			return f
		}
		if f := s.check(); f != nil {
			return f
		}
	}
	return nil
}

func twice(seen map[string]bool, key, id string) *phrase.Fault {
	if seen[key] {
		f := phrase.NewFault(phrase.New("trust.id_twice", phrase.With("id", id)), phrase.New("trust.id_twice.remedy"))
		f.Code = phrase.Conflict
		return f
	}
	seen[key] = true
	return nil
}

func (s Setup) check() *phrase.Fault {
	if f := finite(figure{"at", s.At.X}, figure{"at", s.At.Y}, figure{"cone", float64(s.Prior.Cone)},
		figure{"dial", s.Dial.Gradient.X}, figure{"dial", s.Dial.Gradient.Y}, figure{"bearing", float64(s.Dial.Bearing)}); f != nil {
		return f
	}
	told := unit.Length(0)
	if s.Height != nil {
		told = s.Height.Sigma
	}
	return checkFigures(figure{"accuracy", float64(s.Prior.Tilt)}, figure{"cone", float64(s.Prior.ConeSigma)},
		figure{"step", float64(s.Dial.Step)}, figure{"grade_accuracy", float64(s.Dial.Accuracy)},
		figure{"aiming", float64(s.Dial.Aiming)}, figure{"hi_sigma", float64(told)},
		figure{"wind", float64(s.Wind)}, figure{"warm_up", float64(s.WarmUp)})
}

// check refuses a reading that is none.
func (r Sight) check() *phrase.Fault {
	if f := finite(figure{"rod", float64(r.Off)}); f != nil {
		return f
	}
	if math.IsInf(float64(r.Sigma), 1) {
		return nil
	}
	return checkFigures(figure{"sigma", float64(r.Sigma)})
}
