//go:build !foreman

package main

import "spadework/cab"

// newEngine answers for the page in the cab.
func newEngine() *cab.Engine { return &cab.Engine{} }
