// Package machine is the excavator as digging needs it: where its teeth reach,
// what ground it covers, and what ends the life of a depth that it measures.
//
// Call Linkage.Envelope for a machine whose pins and cylinders are known, or
// Sheet.Envelope for one of which only the figures of its sheet are known; both
// answer, at each depth, between which horizontal distances from the swing
// centre a level floor can be cut. Linkage.Forward and Linkage.Inverse turn
// joint angles into the place of the teeth and back. Base tells the ground that
// tracks, blade and outriggers cover, and Swing which way the arm can turn.
// Voids says what ends a tie.
//
// Notation: x horizontal from the boom foot pin towards the teeth, y up;
// a the boom's angle from horizontal, b the stick's relative to the boom, g the
// bucket's relative to the stick, all counter-clockwise with the machine facing
// +x, so that a stick folded down has b < 0. L1, L2, L3 are boom, stick, and
// bucket pin to teeth. Depths are positive below the ground the machine stands
// on. Angles are exact to what float64 gives; nothing here has wear, play or
// soft ground in it.
package machine
