package tell

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// Piece is what is dug of one dig from a stand, in words.
type Piece struct {
	Excavation string
	Text       string
	Hand       bool
	Setup      string
	Stages     []plan.Stage
}

// touching is how near two stretches are to be told as one.
const touching = unit.Station(10 * unit.Millimetre)

// Pieces tells the work of a stand, a dig at a time in the order that each is
// begun; stretches of one run that touch are one.
func Pieces(v View, work []plan.Work) []Piece {
	type key struct {
		excavation, setup string
		hand              bool
	}
	var order []key
	parts := map[key][]plan.Work{}
	for _, w := range work {
		k := key{w.Excavation, w.Setup, w.Hand}
		if _, seen := parts[k]; !seen {
			order = append(order, k)
		}
		parts[k] = append(parts[k], w)
	}
	out := make([]Piece, 0, len(order))
	for _, k := range order {
		list := parts[k]
		out = append(out, Piece{Excavation: k.excavation, Text: pieceText(v, list), Hand: k.hand, Setup: k.setup, Stages: list[0].Stages})
	}
	return out
}

// pieceText names the work on one dig.
func pieceText(v View, work []plan.Work) string {
	text := v.Text("tell.piece_part", phrase.With("id", work[0].Excavation))
	if work[0].Whole() {
		text = work[0].Excavation
	}
	if stretches := stretchesOf(v, work); len(stretches) > 0 {
		text = v.Text("tell.piece_run", phrase.With("id", work[0].Excavation), phrase.With("stretches", strings.Join(stretches, "; ")))
	}
	if work[0].Hand {
		return v.Text("tell.piece_hand", phrase.With("piece", text))
	}
	return text
}

// stretchesOf are the stretches of a run, part by part.
func stretchesOf(v View, work []plan.Work) []string {
	runs := slices.DeleteFunc(slices.Clone(work), func(w plan.Work) bool { return !w.Run })
	slices.SortStableFunc(runs, func(a, b plan.Work) int { return cmp.Or(cmp.Compare(a.Part, b.Part), cmp.Compare(a.From, b.From)) })
	var out []string
	for i := 0; i < len(runs); {
		w := runs[i]
		for i++; i < len(runs) && runs[i].Part == w.Part && runs[i].From <= w.To+touching; i++ {
			w.To = max(w.To, runs[i].To)
		}
		text := v.Style.Station(v.paced(w.From)) + " – " + v.Style.Station(v.paced(w.To))
		if w.Part != "" && w.Part != "1" {
			text = PartText(v, w.Part) + ": " + text
		}
		out = append(out, text)
	}
	return out
}

// paced is a station as exact as a machine is placed by: to a foot or a tenth of
// a metre.
func (v View) paced(s unit.Station) unit.Station {
	step := float64(v.step())
	return unit.Station(math.Round(float64(s)/step) * step)
}

func (v View) step() unit.Length {
	if v.Style.System == unit.Imperial {
		return unit.Foot
	}
	return unit.Metre / 10
}

// Paces is a distance as exact as people pace it.
func Paces(v View, l unit.Length) string {
	if v.Style.System == unit.Imperial {
		return v.Style.Fixed(float64(l/unit.Foot), 0) + " ft"
	}
	return v.Style.Fixed(float64(l/unit.Metre), 1) + " m"
}

// Facing is the nearest of the sixteen points of the compass.
func Facing(v View, bearing unit.Angle) string {
	k := int(math.Round(float64(bearing)/(math.Pi/8))) % 16
	return v.Text(phrase.Key("tell.compass_" + strconv.Itoa((k+16)%16)))
}

// StagesText is the stages of a piece, each with what it leaves on; "" for one
// that goes to the bottom at once.
func StagesText(v View, stages []plan.Stage) string {
	if len(stages) < 2 {
		return ""
	}
	var out []string
	for _, s := range stages {
		key := phrase.Key("tell.stage_" + string(s.Name))
		if s.Left > 0 {
			out = append(out, v.Text("tell.stage_left", phrase.With("stage", v.Text(key)), phrase.With("left", s.Left)))
			continue
		}
		out = append(out, v.Text(key))
	}
	return v.Text("tell.stages", phrase.With("list", out))
}
