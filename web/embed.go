// Package web holds the page: scripts and styles as bundled, and the engine's
// module where it was made. Handler serves them.
package web

import "embed"

//go:generate go -C tools run . wasm

// dist is what is served. The engine's module is not kept with the source:
// "go generate ./web" makes it.
//
//go:embed dist
var dist embed.FS
