//go:build foreman

package main

import "spadework/cab"

// newEngine answers for the foreman's page too.
func newEngine() *cab.Engine { return cab.NewForeman() }
