package watch

import (
	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Hours is a time since the set-up was made, or a span.
type Hours float64

// Kind is what a bump does to the beam.
type Kind uint8

// The kinds: a self-levelling laser comes back level at another height; it may
// come back turned, so that a dialled plane falls another way; a laser on manual
// slope stays tilted.
const (
	HeightJump Kind = iota
	TwistJump
	TiltJump
)

// Bump is a kind of bump and how often it happens: J ~ N(0, …) of these standard
// deviations, those that the kind does not have ignored.
type Bump struct {
	Kind   Kind
	Rate   float64 // an hour
	Height unit.Length
	Tilt   unit.Grade // an axis
	Twist  unit.Angle // about the plumb line
}

// Habits is what laser, ground and crew are known to do. Nothing here is zero by
// nature: a rate of 0 says that the thing cannot happen.
type Habits struct {
	Bumps []Bump

	SettleRate  float64     // settlings begun an hour
	SettleBy    unit.Length // an hour, a standard deviation
	SettleTilt  unit.Grade  // an hour and axis, likewise
	DriftHeight unit.Length // of a random walk, a standard deviation after an hour
	DriftTilt   unit.Grade  // likewise, an axis

	Sees unit.Chance // share of bumps that an alarm tells, which are stops then
	Arms Hours       // until it watches, after each start

	Misread   unit.Chance // of a reading
	MisreadBy unit.Length // a standard deviation
	Moved     float64     // points moved, an hour and point
	Wrong     unit.Chance // that a benchmark is not where the job has it
	MovedBy   unit.Length // a standard deviation of either
}

// Setup is the laser as set up.
type Setup struct {
	At       geom.Point
	Gradient geom.Vector // as dialled
	Tilt     unit.Grade  // standard deviation an axis of its plane
}

// Point is what a rod is read on: a benchmark of known height, or a beam mark or a
// bottom, whose height only its own earlier reading tells.
type Point struct {
	ID    string
	At    geom.Point
	Known bool
	Sigma unit.Length // of a known height
}

// Reading is a rod read on a point, or a check shot.
type Reading struct {
	At      Hours
	Point   string
	Off     unit.Length // rod as read less rod under the nominal beam
	Sigma   unit.Length // over 0
	Machine bool        // a check shot by the machine's own sensors: all share its bias
}

// Dig is a point of a bottom and when its beam was read: at its tie for sensors, at its last
// shot for a rod.
type Dig struct {
	ID       string
	At       geom.Point // where the beam was read for it
	Dug      Hours
	Band     beam.Band // what the beam's departure may take
	Concrete bool      // already poured
}

// Log is all of one set-up.
type Log struct {
	Setup       Setup
	Habits      Habits
	MachineBias unit.Length // standard deviation of the bias of check shots
	Points      []Point
	Readings    []Reading // in any order
	Digs        []Dig
	Stops       []Hours // laser stopped, alarmed, restarted, battery changed, left alone
	Starts      []Hours // laser set up or started: its alarm arms anew
	Over        bool    // the set-up has ended: nothing more is read under it
}
