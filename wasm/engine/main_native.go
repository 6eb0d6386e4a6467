//go:build !js

package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
)

// longest is the longest request: a bundle with its escapes and its records.
const longest = 64 << 20

func main() {
	if err := run(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "engine:", err)
		os.Exit(2)
	}
}

func run(in io.Reader, out io.Writer) error {
	e := newEngine()
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, longest)
	for lines.Scan() {
		if _, err := out.Write(append(e.Call(lines.Bytes(), nil), '\n')); err != nil {
			return err
		}
	}
	return lines.Err()
}
