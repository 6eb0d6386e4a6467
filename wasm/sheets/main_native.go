//go:build !js

package main

import (
	"fmt"
	"io"
	"os"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "sheets:", err)
		os.Exit(2)
	}
}

func run() error {
	data, err := io.ReadAll(os.Stdin)
	if err != nil {
		return err
	}
	pdf, err := answer(data)
	if err != nil {
		return err
	}
	_, err = os.Stdout.Write(pdf)
	return err
}
