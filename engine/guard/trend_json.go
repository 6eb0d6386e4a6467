package guard

import (
	"encoding/json"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// trendJSON is a trend as data, with what a control chart is drawn from: SI, null
// where unknown.
type trendJSON struct {
	Machine  string      `json:"machine"`
	Operator string      `json:"operator"`
	Sensors  bool        `json:"sensors"`
	Level    levelJSON   `json:"level"`
	Stands   []standJSON `json:"stands"`
	Budget   float64     `json:"budget"`
	Limits   []float64   `json:"limits"` // of the moving average
	Shots    []shotJSON  `json:"shots"`
	Say      []said      `json:"say"`
}

type levelJSON struct {
	Count  int      `json:"count"`
	Bias   *float64 `json:"bias"`
	Within *float64 `json:"within"`
	Spread *float64 `json:"spread"`
}

type standJSON struct {
	Number int       `json:"number"`
	Level  levelJSON `json:"level"`
}

type shotJSON struct {
	Record     string   `json:"record"`
	Excavation string   `json:"excavation"`
	Part       string   `json:"part"`
	Point      string   `json:"point"`
	Station    *float64 `json:"station"`
	Stand      int      `json:"stand"`
	Off        float64  `json:"off"`
	Average    float64  `json:"average"`
	Signals    bool     `json:"signals"`
}

func (l Level) data() levelJSON {
	return levelJSON{l.Count, figure(l.Bias), figure(l.Within), figure(l.Spread)}
}

// MarshalJSON is the trend as data.
func (t Trend) MarshalJSON() ([]byte, error) {
	out := trendJSON{Machine: t.Machine, Operator: t.Operator, Sensors: t.Sensors, Level: t.Level.data(), Stands: []standJSON{}, Budget: float64(t.Budget),
		Shots: []shotJSON{}, Say: []said{}}
	for _, s := range t.Stands {
		out.Stands = append(out.Stands, standJSON{s.Number, s.Level.data()})
	}
	for _, l := range t.Limits() {
		out.Limits = append(out.Limits, float64(l))
	}
	for _, s := range t.Shots {
		one := shotJSON{s.Record.String(), s.Excavation, s.Part, s.Point, nil, s.Stand, float64(s.Off), float64(s.Ewma), s.Signals}
		if s.Station != nil {
			one.Station = figure(*s.Station)
		}
		out.Shots = append(out.Shots, one)
	}
	for _, m := range t.Text() {
		out.Say = append(out.Say, said{string(m.Key), m.Render(phrase.English, unit.Style{})})
	}
	return json.Marshal(out)
}
