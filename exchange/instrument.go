package exchange

import (
	"strings"

	"spadework/engine/job"
	"spadework/engine/level"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Columns of an instrument's own checks.
var (
	turnColumns = []string{"turn", "far", "near", "far_distance", "near_distance", "words"}
	pegColumns  = []string{"setup", "id", "reading", "distance", "words"}
)

// IsPegTest says that a table holds readings on two pegs, not turns of a head.
func IsPegTest(rows *job.Rows) bool {
	c, f := job.FindColumns(rows, pegColumns, job.Mapping{})
	_, ok := c["distance"]
	return f == nil && ok
}

// turns are the directions of the head in the order of level.FourWay.
var turns = []string{"0", "90", "180", "270"}

// ReadFourWay reads a four-direction check: a row for each of 0, 90, 180 and
// 270°, the reading on a far rod and, where one was read, on a near one. The
// distances stand on the first row.
func ReadFourWay(rows *job.Rows, bare unit.Scale) (level.FourWay, *phrase.Fault) {
	c, f := levelColumns(rows, turnColumns, "turn", "far", "far_distance")
	if f != nil {
		return level.FourWay{}, f
	}
	r := noteReader{rows: rows, c: c, units: unit.Reader{Bare: bare, Comma: rows.DecimalComma}}
	var out level.FourWay
	if len(rows.Rows) != len(turns) {
		r.fail(rows.Header[0], "exchange.four_turns")
	}
	for i, row := range rows.Rows {
		if r.fault != nil {
			return level.FourWay{}, r.fault
		}
		if cell := c.Cell(row, "turn"); strings.Trim(cell.Text, "° ") != turns[i] {
			r.fail(cell, "exchange.four_turns")
		}
		far, given := r.figure(row, "far")
		near, _ := r.figure(row, "near")
		if !given {
			r.fail(row[0], "exchange.four_turns")
		}
		out.Far[i], out.Near[i] = unit.Reading(far), unit.Reading(near)
		if i == 0 {
			out.FarDistance, _ = r.figure(row, "far_distance")
			out.NearDistance, _ = r.figure(row, "near_distance")
		}
	}
	return out, r.fault
}

// ReadPegTest reads a two-peg test: from each of two set-ups the rod on peg A,
// then on peg B, with the distances.
func ReadPegTest(rows *job.Rows, bare unit.Scale) (level.PegTest, *phrase.Fault) {
	c, f := levelColumns(rows, pegColumns, "setup", "id", "reading", "distance")
	if f != nil {
		return level.PegTest{}, f
	}
	r := noteReader{rows: rows, c: c, units: unit.Reader{Bare: bare, Comma: rows.DecimalComma}}
	var out level.PegTest
	sights := []*level.Sight{&out.First.A, &out.First.B, &out.Second.A, &out.Second.B}
	if len(rows.Rows) != len(sights) {
		r.fail(rows.Header[0], "exchange.four_pegs")
		return level.PegTest{}, r.fault
	}
	for i, row := range rows.Rows {
		*sights[i] = r.sight(row, "reading", "distance")
		first := rows.Rows[i%2] // of the first set-up, the same peg
		if c.Cell(row, "id").Text != c.Cell(first, "id").Text || c.Cell(row, "setup").Text != c.Cell(rows.Rows[i-i%2], "setup").Text {
			r.fail(row[0], "exchange.four_pegs")
		}
	}
	return out, r.fault
}
