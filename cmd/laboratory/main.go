// Command laboratory lets virtual athletes live whole seasons under Glidepath
// and under other policies, and counts what Glidepath promises. It is for those
// who change the engine; coaches have no use for it.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"

	"github.com/spf13/cobra"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run is the whole program. Exit status: 0 done, whether or not everything
// holds; 1 an error; with --strict, 2 where something does not hold.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	root := &cobra.Command{
		Use:   "laboratory",
		Short: "Whole seasons of virtual athletes in closed loop",
		Long: `Virtual athletes, from a truth that is not the engine's, live whole seasons under
Glidepath and under other policies; what Glidepath promises is counted.`,
		SilenceUsage: true, SilenceErrors: true,
	}
	root.AddCommand(newRun(), newDocument())
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	switch {
	case err == nil:
		return 0
	case errors.Is(err, errFails):
		return 2
	}
	_, _ = fmt.Fprintln(stderr, "laboratory:", err)
	return 1
}
