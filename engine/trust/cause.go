package trust

// Cause names what makes a bottom depart from its design.
type Cause string

// The causes, in the order a budget lists equals.
const (
	Benchmark    Cause = "benchmark"     // height of the point the rod stood on
	Backsight    Cause = "backsight"     // reading there
	GivenHeight  Cause = "given_height"  // a height of the beam that was told, not read
	LaserTilt    Cause = "laser_tilt"    // plane of the laser
	LaserCone    Cause = "laser_cone"    // its rise in every direction
	DialStep     Cause = "dial_step"     // rounding of the dial
	DialAccuracy Cause = "dial_accuracy" // error of the dialled grade
	Aiming       Cause = "aiming"        // direction of the mark
	Refraction   Cause = "refraction"    // air other than the mean one
	WarmUp       Cause = "warm_up"       // drift after the backsight
	Wind         Cause = "wind"          // shake at the moment of the reading
	DeadBand     Cause = "dead_band"     // height over which the receiver shows On
	Reading      Cause = "reading"       // rod without a receiver
	Rounding     Cause = "rounding"      // of the number shown
	Plumb        Cause = "plumb"         // rod or stick that leans
	StickOffset  Cause = "stick_offset"  // receiver aside of the teeth under a slope
	Depth        Cause = "depth"         // machine's own depth measuring
	Touched      Cause = "touched"       // point the teeth touched
	Trimming     Cause = "trimming"      // what hands leave
	Cutting      Cause = "cutting"       // what the bucket leaves
)

// cause is a part of the noise of an evidence. Scalar evidence uses cov[0][0].
type cause struct {
	name Cause
	of   string // benchmark's id, "" for none
	cov  square
}
