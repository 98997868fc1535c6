//go:build !(js && wasm)

// Command fairlead is the whole program. Built for the browser it is the app
// itself; built natively it serves the app and works on notes from the command
// line.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(Run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
