// Command spadework takes an excavation crew from the drawing to the numbers
// on the rod.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"spadework/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(cli.Run(ctx, os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}))
}
