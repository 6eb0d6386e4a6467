// Package record holds what was measured on site and what it says of the digs.
//
// Judge turns shots under a set-up into heights and deviations from the plan.
package record
