// Package trust says how far a number can be trusted: how well the beam of a
// set-up is known at any point, what adds to that until the bottom is dug, the
// chance that it ends in tolerance, the height to aim at, and what a shot proves
// afterwards.
//
// Start with NewSite and Read, or with Predict for a set-up not yet read; Belief
// is what is known of one set-up, Belief.At with a Way the Outlook of a number.
// Budget takes the outlook apart by cause. Conformity judges shots by
// JCGM 106:2012.
//
// The true beam stands over the nominal one by
//
//	δ(p) = h + τ·(p − q) + κ·|p − q| + ρ·|p − q|²/2R
//
// with q the laser, h its height, τ two tilts, κ the cone of the laser and ρ the
// departure of the refraction coefficient. Everything is linear and Gaussian:
// rectangular bounds enter by their standard deviation, half-width/√3 (JCGM
// 100:2008, 4.3.7), which is a model; docs/trust.md tells what happens where it
// is wrong. Signs: + is too high, still to dig.
package trust
