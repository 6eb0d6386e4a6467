package cli

import (
	"io"
	"os"
	"strconv"

	"golang.org/x/term"
)

// terminalWidth is the width of the terminal behind w, of COLUMNS where that is
// set, else a fixed one.
func terminalWidth(w io.Writer) int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n >= 20 {
		return n
	}
	f, ok := w.(*os.File)
	if !ok {
		return unknownWidth
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil || width < 20 {
		return unknownWidth
	}
	return width
}
