// Package examples holds invented jobs that show what the program does.
package examples

import "embed"

// Files are the examples, a folder each with its job.toml and, where days
// were dug, the log of them.
//
//go:embed */job.toml */*.csv */*.jsonl
var Files embed.FS
