// Command glidepath is for coaches who bring physique athletes to a contest
// date. All of it is in package cli; here it is only wired to the system.
package main

import (
	"context"
	"os"
	"os/signal"

	"glidepath/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := cli.Run(ctx, os.Args[1:], os.Environ(), os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
