package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"glidepath/lab"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"
)

// errFails: --strict was given and a must-hold does not hold.
var errFails = errors.New("not everything holds")

type runOptions struct {
	athletes, workers          int
	seed                       uint64
	measuring, policies, truth string
	noIntake, noIntervals      bool
	json, strict               bool
	out                        string
}

func newRun() *cobra.Command {
	var o runOptions
	c := &cobra.Command{
		Use:   "run",
		Short: "Let a cohort live its seasons, and say what holds",
		Example: `  laboratory run --athletes 500 --seed 100
  laboratory run --measuring calipers --truth lean-half --policies product,informed
  laboratory run --athletes 2000 --out plots --json > seasons.json`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return o.run(c) },
	}
	f := c.Flags()
	f.IntVar(&o.athletes, "athletes", 500, "how many athletes")
	f.Uint64Var(&o.seed, "seed", 100, "of the cohort")
	f.StringVar(&o.measuring, "measuring", "scan", "how body fat is measured: "+strings.Join(keys(measurings), ", "))
	f.StringVar(&o.policies, "policies", "all", "all, or some of "+strings.Join(keys(policies), ", ")+", with commas between")
	f.StringVar(&o.truth, "truth", "as-is", "the truth: "+strings.Join(keys(truths), ", "))
	f.BoolVar(&o.noIntake, "no-intake", false, "intake is never logged")
	f.BoolVar(&o.noIntervals, "no-intervals", false, "leave the check of the intervals out, which is half the time")
	f.IntVar(&o.workers, "workers", runtime.GOMAXPROCS(0), "cores to use")
	f.BoolVar(&o.json, "json", false, "print everything as JSON instead of tables")
	f.BoolVar(&o.strict, "strict", false, "exit with 2 where something does not hold")
	f.StringVar(&o.out, "out", "", "write plots to this directory")
	return c
}

func (o *runOptions) run(c *cobra.Command) error {
	cohort, names, err := o.cohort()
	if err != nil {
		return err
	}
	start := time.Now()
	trial, err := try(c.Context(), cohort, names, c.ErrOrStderr(), "seasons")
	if err != nil {
		return err
	}
	c.PrintErrf("%d athletes, %d policies, %.0f s\n", o.athletes, len(names), time.Since(start).Seconds())
	report := trial.Report()
	if o.out != "" {
		if err := writeFigures(trial, o.out, ""); err != nil {
			return err
		}
	}
	if o.json {
		e := json.NewEncoder(c.OutOrStdout())
		e.SetIndent("", " ")
		if err := e.Encode(struct {
			Report *lab.Report `json:"report"`
			Trial  *lab.Trial  `json:"trial"`
		}{report, trial}); err != nil {
			return err
		}
	} else {
		if _, err := fmt.Fprintln(c.OutOrStdout(), tables(report)); err != nil {
			return err
		}
	}
	if o.strict && !report.Holds() {
		return errFails
	}
	return nil
}

// try runs a trial with its progress told.
func try(ctx context.Context, cohort *lab.Cohort, names []lab.PolicyName, stderr io.Writer, what string) (*lab.Trial, error) {
	bar := progressbar.NewOptions(cohort.Athletes*(len(names)+1), progressbar.OptionSetWriter(stderr),
		progressbar.OptionSetDescription(what), progressbar.OptionSetWidth(24), progressbar.OptionShowCount(),
		progressbar.OptionThrottle(500*time.Millisecond), progressbar.OptionClearOnFinish())
	t, err := cohort.Try(ctx, names, func(done, _ int) { _ = bar.Set(done) })
	_ = bar.Finish()
	return t, err
}

func writeFigures(t *lab.Trial, dir, prefix string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	figures, err := t.Figures()
	if err != nil {
		return err
	}
	for _, f := range figures {
		if err := os.WriteFile(filepath.Join(dir, prefix+f.Name+".svg"), f.SVG, 0o644); err != nil {
			return err
		}
	}
	return nil
}
