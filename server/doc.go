// Package server serves the program over HTTP. For now that is one page for one
// person on this machine: Demo shows a plan.
package server
