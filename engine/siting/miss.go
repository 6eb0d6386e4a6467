package siting

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// Failure sorts why a place does not serve a cell, the nearest miss first.
type Failure uint8

// The failures.
const (
	NotTrusted  Failure = iota // out of tolerance too likely; By is the standard error
	NoBenchmark                // too few benchmarks received at any height
	TripodLow                  // the tripod would have to raise the beam By higher
	TripodHigh                 // or hold it By lower
	NotReceived                // Reception says why
	NoPlace                    // there is no place at all that suits
)

// Miss is how the place that comes nearest to serving a cell fails.
type Miss struct {
	Cell      int
	Why       Failure
	By        unit.Length
	Place     geom.Point
	Reception reception.Reason
	index     int
}

func nearer(a, b Miss) bool {
	if a.Why != b.Why {
		return a.Why < b.Why
	}
	if x, y := rank(a.Reception.Kind), rank(b.Reception.Kind); x != y {
		return x < y
	}
	if x, y := a.size(), b.size(); x != y {
		return x < y
	}
	return a.index < b.index
}

func (m Miss) size() unit.Length {
	if m.Why == NotReceived {
		return m.Reception.By
	}
	return m.By
}

// rank orders kinds of reasons from what a small change mends to what none
// does.
func rank(k reception.Kind) int {
	switch k {
	case reception.HiddenByObstacle, reception.HiddenByGround:
		return 0
	case reception.Apart, reception.BeamTooLow, reception.BeamTooHigh:
		return 1
	case reception.TooFar:
		return 2
	}
	return 3
}

// missOf is why no height of the tripod's serves a cell.
func missOf(pl Place, windows []reception.Window, heights []span) Miss {
	m := Miss{Why: NotReceived, Place: pl.At}
	if len(heights) > 0 {
		m.Why, m.By = TripodLow, unit.Length(math.Inf(1))
		for _, h := range heights {
			if by := unit.Length(h.low) - unit.Length(pl.High); by > 0 && by < m.By {
				m.Why, m.By = TripodLow, by
			}
			if by := unit.Length(pl.Low) - unit.Length(h.high); by > 0 && by < m.By {
				m.Why, m.By = TripodHigh, by
			}
		}
		return m
	}
	for i, w := range windows {
		if !w.Open() {
			m.Reception = w.Why
			m.Reception.Point = i
			return m
		}
	}
	m.Reception = apart(windows)
	return m
}

// apart names the two targets that no one height serves.
func apart(windows []reception.Window) reception.Reason {
	low, high := 0, 0
	for i, w := range windows {
		if w.Low > windows[low].Low {
			low = i
		}
		if w.High < windows[high].High {
			high = i
		}
	}
	if len(windows) == 0 {
		return reception.Reason{Kind: reception.NoRoom}
	}
	by := unit.Length(windows[low].Low) - unit.Length(windows[high].High)
	return reception.Reason{Kind: reception.Apart, By: by, Point: low, Other: high}
}
