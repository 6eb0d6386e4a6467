// Package examples holds invented jobs that show what the program does.
package examples

import "embed"

// Files are the examples, a folder each with its job.toml.
//
//go:embed */job.toml */*.csv
var Files embed.FS
