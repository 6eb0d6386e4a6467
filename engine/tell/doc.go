// Package tell says in words what plan and log hold, one way for paper, command
// line and page: what a point is called, how a shot lies, what a set-up rests on,
// a finding with its clause and remedy.
package tell
