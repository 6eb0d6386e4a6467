// Package safety judges a plan by rules that are data: id, clause, limit,
// source and how well it is known. It returns findings and changes nothing; what
// is not known is taken at its worst and is a finding of its own.
//
// Fill Facts and call Findings. This is advice for planning: local codes, the
// owner of a service and a competent person on site decide.
package safety
