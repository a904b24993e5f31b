// Command fitfill answers whether a part or a fluid belongs in an engine, from
// suppliers' own sheets.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"fitfill/cmd/internal/cli"
	_ "fitfill/cmd/internal/heap" // before the packages that fill it
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := cli.Run(ctx, os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr})
	stop()
	os.Exit(code)
}
