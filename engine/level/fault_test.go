package level

import (
	"errors"
	"math"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

var nan = math.NaN()

// levelBook is a run from "BM" at 10 m, closed on end unless that is nil.
func levelBook(end *Mark, lines ...Line) func() error {
	return func() error {
		_, err := Reduce(Run{Start: Mark{"BM", 10}, Close: end, Lines: lines})
		return err
	}
}

// net is an adjustment from "BM" at 10 m.
func net(differences ...Difference) func() error {
	return func() error {
		_, err := Network{Fixed: []Mark{{"BM", 10}}, Differences: differences}.Adjust()
		return err
	}
}

func limit(r Rule) func() error {
	return func() error {
		_, err := r.Limit(0, 0)
		return err
	}
}

// faults are bad inputs with the exact text of their fault.
var faults = []struct {
	do   func() error
	want string
}{
	{levelBook(nil), "the level book has no lines"},
	{levelBook(nil, Line{Point: "BM"}), `lines[1]: "BM" has neither backsight, intermediate sight nor foresight`},
	{levelBook(nil, Line{Back: Rod(1)}), "lines[1]: a line without a point's name"},
	{levelBook(nil, Line{Point: "BM", Back: Rod(1), Intermediate: Rod(2)}), `lines[1]: "BM" has an intermediate sight and another sight on one line`},
	{levelBook(nil, Line{Point: "BM", Back: Rod(unit.Reading(nan))}), `lines[1]: the reading — on "BM" is not a number`},
	{levelBook(nil, Line{Point: "BM", Back: Rod(1)}, Line{Point: "P", Fore: Rod(unit.Reading(math.Inf(1)))}), `lines[2]: the reading — on "P" is not a number`},
	{levelBook(nil, Line{Point: "BM", Back: RodAt(1, -3)}), `lines[1]: the distance -3.000 m to "BM" must be 0 or more`},
	{levelBook(nil, Line{Point: "BM", Back: RodAt(1, unit.Length(nan))}), `lines[1]: the distance — to "BM" must be 0 or more`},
	{levelBook(nil, Line{Point: "P", Fore: Rod(1)}), `lines[1]: a foresight on "P" without a backsight before it`},
	{levelBook(nil, Line{Point: "P", Intermediate: Rod(1)}), `lines[1]: an intermediate sight on "P" without a backsight before it`},
	{levelBook(nil, Line{Point: "BM", Back: Rod(1)}, Line{Point: "P", Fore: Rod(1)}, Line{Point: "Q", Fore: Rod(1)}),
		`lines[3]: a foresight on "Q" without a backsight before it`},
	{levelBook(nil, Line{Point: "BM", Back: Rod(1)}, Line{Point: "TP", Back: Rod(1)}),
		`lines[2]: the set-up from "BM" has no foresight, and the next line is a backsight on "TP"`},
	{levelBook(nil, Line{Point: "P", Back: Rod(1)}), `lines[1]: the first backsight is on "P", but the run starts at "BM"`},
	{levelBook(nil, Line{Point: "BM", Back: Rod(1)}, Line{Point: "TP", Fore: Rod(1)}, Line{Point: "Q", Back: Rod(1)}),
		`lines[3]: a backsight on "Q", but the last foresight was on "TP"`},
	{levelBook(&Mark{"BM2", 11}, Line{Point: "BM", Back: Rod(1)}), "the run has no foresight, so it does not reach its closing point"},
	{levelBook(&Mark{"BM2", 11}, Line{Point: "BM", Back: Rod(1)}, Line{Point: "P", Fore: Rod(1)}),
		`the last foresight is on "P", but the run should close on "BM2"`},
	{levelBook(&Mark{"BM2", unit.Elevation(nan)}, Line{Point: "BM", Back: Rod(1)}), `the elevation — of "BM2" is not a number`},
	{levelBook(nil, Line{Point: "P", Fore: Rod(1), Place: phrase.Place{File: "notes.csv", Line: 7}}),
		`notes.csv:7: a foresight on "P" without a backsight before it`},
	{func() error { _, err := (&Reduction{}).Adjust(BySetup); return err },
		"the run does not end on a point of known elevation, so it has no misclosure"},
	{func() error { _, err := Rule{Size: 0.01}.Judge(&Reduction{}); return err },
		"the run does not end on a point of known elevation, so it has no misclosure"},
	{func() error { _, err := (&Reduction{Closes: true, Setups: 1}).Adjust(ByDistance); return err },
		"the sight lengths of the run are not all noted"},
	{func() error { _, err := ParseRule("12 mm √k"); return err }, `"12 mm √k" is not a misclosure rule`},
	{limit(Rule{Size: 0.012, Basis: RootKilometres}), "the rule 12 mm √K needs the length of the run"},
	{limit(Rule{Size: 0.012, Basis: RootMiles}), "the rule 12 mm √M needs the length of the run"},
	{limit(Rule{Size: 0.003, Basis: RootSetups}), "the rule 3 mm √n needs the number of set-ups"},
	{limit(Rule{Size: 0.002, Basis: PerSetup}), "the rule 2 mm per set-up needs the number of set-ups"},
	{func() error { _, err := Network{}.Adjust(); return err }, "the network has no point of known elevation"},
	{func() error { _, err := Network{Fixed: []Mark{{"A", 1}, {"A", 2}}}.Adjust(); return err }, `the elevation of "A" is given twice`},
	{func() error { _, err := Network{Fixed: []Mark{{"A", unit.Elevation(nan)}}}.Adjust(); return err }, `the elevation — of "A" is not a number`},
	{func() error { _, err := Network{Alpha: 2}.Adjust(); return err }, "the chance of a false flag 2 must lie between 0 and 1"},
	{net(), "every point of the network has a given elevation"},
	{net(Difference{From: "BM", To: "P", Rise: 1, Weight: 1}, Difference{From: "Q", To: "R", Rise: 1, Weight: 1}),
		"Q and R are not connected to any point of known elevation"},
	{net(Difference{From: "BM", To: "P", Rise: 1, Weight: 0}), "P is not connected to any point of known elevation"},
	{net(Difference{From: "BM", To: "BM", Rise: 1, Weight: 1}), `differences[1]: a difference from "BM" to itself`},
	{net(Difference{From: "BM", Rise: 1, Weight: 1}), "differences[1]: a line without a point's name"},
	{net(Difference{From: "BM", To: "P", Rise: unit.Length(nan), Weight: 1}), `differences[1]: the rise — from "BM" to "P" is not a number`},
	{net(Difference{From: "BM", To: "P", Rise: 1, Weight: -2}), `differences[1]: the weight -2 of the difference from "BM" to "P" must be 0 or more`},
	{net(Difference{From: "BM", To: "P", Rise: 1, Weight: nan}), `differences[1]: the weight — of the difference from "BM" to "P" must be 0 or more`},
	{net(Difference{From: "BM", To: "P", Rise: 1, Weight: 1, Setups: -1}), `differences[1]: the number of set-ups -1 from "BM" to "P" must be 0 or more`},
	{net(Difference{From: "BM", To: "P", Rise: 1, Weight: 1, Length: -1}), `differences[1]: the distance -1.000 m to "BM–P" must be 0 or more`},
	{func() error { _, err := mikhail().LoopThrough("A", "B"); return err }, "a loop through A and B has too few points"},
	{func() error { _, err := mikhail().LoopThrough("A", "B", "Z"); return err }, `no difference joins "B" and "Z"`},
	{func() error { _, err := Network{}.Loops(); return err }, "the network has no point of known elevation"},
	{func() error { _, err := Network{}.LoopThrough(); return err }, "the network has no point of known elevation"},
	{func() error { _, err := PegTest{}.Check(); return err }, "the two-peg test lacks a reading or a distance"},
	{func() error {
		s := PegSetup{RodAt(1, 20), RodAt(1, 20)}
		_, err := PegTest{First: s, Second: s}.Check()
		return err
	}, "peg A is 0.000 m farther than peg B from the first set-up and 0.000 m from the second: too alike to show a tilt"},
	{func() error { _, err := FourWay{}.Check(); return err }, "the four-direction check lacks a reading or its distance"},
	{func() error { _, err := FourWay{FarDistance: 30, NearDistance: 30}.Check(); return err },
		"the near ring of the four-direction check lacks a reading or stands as far off as the far one"},
	{func() error { _, err := ThreeStations{Between: 40, A: unit.Length(nan)}.Check(); return err },
		"the three-station check lacks a difference or a distance"},
	{func() error {
		known := unit.Length(nan)
		_, err := ThreeStations{Between: 40, Known: &known}.Check()
		return err
	}, "the three-station check lacks a difference or a distance"},
}

// TestFaults: each bad input has its exact text, a remedy, and both in Spanish.
func TestFaults(t *testing.T) {
	for _, c := range faults {
		err := c.do()
		var fault *phrase.Fault
		if !errors.As(err, &fault) {
			t.Errorf("got %v, want fault %q", err, c.want)
			continue
		}
		if got := fault.Error(); got != c.want {
			t.Errorf("fault %q, want %q", got, c.want)
		}
		for _, m := range []phrase.Message{fault.What, fault.Remedy} {
			english, spanish := m.Render(phrase.English, unit.Style{}), m.Render(phrase.Spanish, unit.Style{})
			if english == string(m.Key) || spanish == english || strings.ContainsAny(english+spanish, "{}") {
				t.Errorf("%s: English %q, Spanish %q; want two texts", m.Key, english, spanish)
			}
		}
	}
}
