package phrase

import "embed"

// The page has no command line, store or server: their texts stay out of its
// modules, which are fetched over a poor signal.
//
//go:embed text/*/[^cs]*.txt text/*/ca*.txt text/*/s[ahi]*.txt
var texts embed.FS
