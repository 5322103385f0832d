package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"glidepath/app"
	"glidepath/decision"
	"glidepath/fault"
	"glidepath/scenario"

	"github.com/spf13/cobra"
)

type demoOptions struct {
	keep  string
	out   string
	force bool
}

func newDemo(s *session) *cobra.Command {
	var o demoOptions
	c := &cobra.Command{
		Use:   "demo",
		Short: "Show an invented roster, with one athlete's review and report",
		Long: `Show what Glidepath does on an invented roster of twelve athletes: who needs the
coach today, one athlete's review, and that athlete's report as an HTML file in
the current directory. It asks nothing and needs no network. Everybody in it is
invented.`,
		Example: `  glidepath demo
  glidepath demo --keep demo.db           # keep the data, to try the other commands
  glidepath demo --out look.html`,
		Args: exactly(0, "%s takes no arguments."),
		RunE: func(cmd *cobra.Command, _ []string) error { return s.runDemo(cmd.Context(), o) },
	}
	c.Flags().StringVar(&o.keep, "keep", "", "keep the data in this new `file`")
	c.Flags().StringVar(&o.out, "out", "", "write the report to this `file`")
	c.Flags().BoolVar(&o.force, "force", false, "overwrite the report's file")
	return c
}

// demoResult is the demo as JSON.
type demoResult struct {
	Invented bool            `json:"invented"`
	AsOf     string          `json:"as_of"`
	Roster   []app.RosterRow `json:"roster"`
	Review   *reviewResult   `json:"review,omitempty"`
	Report   string          `json:"report"`
	Data     string          `json:"data,omitempty"`
}

func (s *session) runDemo(ctx context.Context, o demoOptions) (err error) {
	path := o.keep
	if path == "" {
		dir, err := os.MkdirTemp("", "glidepath-demo")
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
		path = filepath.Join(dir, "demo.db")
	} else if _, err := os.Stat(path); err == nil {
		return fault.New(fault.Conflict, "%s is there already.", path).
			WithHint("Name a new file, or use the one there is with --data %s.", path)
	}
	s.data = path
	a, err := s.openOrMake(ctx)
	if err != nil {
		return err
	}
	invented := scenario.Demo()
	if err := fill(ctx, a, invented, s.source("demo")); err != nil {
		return err
	}
	rows, err := a.Roster(ctx, invented.AsOf, nil)
	if err != nil {
		return err
	}
	opt, err := s.options()
	if err != nil {
		return err
	}
	d, err := a.Review(ctx, pick(rows), invented.AsOf, opt)
	if err != nil {
		return err
	}
	out := demoResult{Invented: true, AsOf: invented.AsOf.String(), Roster: rows, Review: reviewOf(d), Report: o.out, Data: o.keep}
	if out.Report == "" {
		out.Report = reportName(d)
	}
	if err := s.writeReport(d, out.Report, o.force, true); err != nil {
		return err
	}
	if err := s.close(); err != nil { // before the temporary file goes
		return err
	}
	if s.json {
		return s.emit(out)
	}
	return s.showDemo(d, out)
}

// fill stores the invented roster.
func fill(ctx context.Context, a *app.App, r scenario.Roster, from app.Source) error {
	for i := range r.Seasons {
		one := &r.Seasons[i]
		err := a.Restore(ctx, &app.Archive{
			Athlete: one.Athlete, Days: one.Days, Measurements: one.Measurements,
			Sets: one.Sets, Sessions: one.Sessions, Prescriptions: one.Prescriptions, Programmes: one.Programmes,
		}, from)
		if err != nil {
			return fmt.Errorf("the invented athlete %s: %w", one.Athlete.ID, err)
		}
	}
	return nil
}

// pick chooses the athlete to show: the first for whom a change is proposed.
func pick(rows []app.RosterRow) string {
	for i := range rows {
		if rows[i].Action == decision.Change {
			return rows[i].ID
		}
	}
	return rows[0].ID
}

func (s *session) showDemo(d *app.Dossier, out demoResult) error {
	p := s.page()
	p.para("This is a demonstration. Every athlete, coach, show and number in it is invented.")
	p.gap()
	s.showRoster(p, d.AsOf, out.Roster)
	p.gap()
	p.raw("")
	p.heading("One of them: the review of %s", d.Athlete.Name)
	p.gap()
	s.showReview(p, d)
	p.heading("The report of %s is in %s; open it in a browser.", d.Athlete.Name, out.Report)
	if out.Data == "" {
		p.line("To go on with these athletes, keep them in a file:")
		p.gap()
		p.raw("  glidepath demo --keep demo.db")
		out.Data = "demo.db"
	} else {
		p.line("The invented athletes are kept in %s. Try next:", out.Data)
		p.gap()
	}
	flags := fmt.Sprintf(" --data %s --as-of %s", out.Data, out.AsOf)
	for _, next := range []string{"appraise anselm", "read lucia", "map priya", "review aroha", "decide accept aroha --who Wren"} {
		p.raw("  glidepath " + next + flags)
	}
	return p.flush()
}
