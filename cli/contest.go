package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/sheet"
)

type contestOptions struct {
	id, name, on, division string
	bodyFat, tolerance     float64
	weight, limit          string
	heightLess, allowance  float64
}

func newContest(s *session) *cobra.Command {
	return subcommands("contest", "Add and list an athlete's shows", "Add an athlete's shows, or list them.",
		newContestAdd(s), newContestList(s))
}

func newContestAdd(s *session) *cobra.Command {
	var o contestOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "add ATHLETE",
		Short: "Add a show with the condition wanted there",
		Long: `Add a show, or change the one with the same ID. The target is body fat on the stage,
with or without a stage weight. A target below 4 % for men or 10 % for women is
refused. A class limit is given outright, or as a federation's table gives it:
height in cm less a number, plus an allowance in kg.`,
		Example: `  glidepath contest add priya --name "Lantern Coast Autumn Stage" --on 2026-10-10 --body-fat 12
  glidepath contest add anselm --name "Lantern Coast Winter Cup" --on 2027-02-13 --body-fat 6 \
      --division "classic physique" --height-less 100 --allowance 4
  glidepath contest add marcus --name "Lantern Coast Winter Cup" --on 2027-02-13 --body-fat 6 --stage-weight "205 lb"`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runContestAdd(cmd.Context(), args[0], o, cmd) },
	})
	f := c.Flags()
	f.StringVar(&o.id, "id", "", "short `ID` of the show (default its date)")
	f.StringVar(&o.name, "name", "", "`name` of the show")
	f.StringVar(&o.on, "on", "", "`date` of the show")
	f.StringVar(&o.division, "division", "", "`name` of the division")
	f.Float64Var(&o.bodyFat, "body-fat", 0, "target on the stage, per `cent`")
	f.Float64Var(&o.tolerance, "tolerance", 0, "`points` either way that still count (default 1)")
	f.StringVar(&o.weight, "stage-weight", "", "target `weight` with its unit")
	f.StringVar(&o.limit, "class-limit", "", "most that the class may weigh, a `weight` with its unit")
	f.Float64Var(&o.heightLess, "height-less", 0, "the limit is height in cm less this `number` ...")
	f.Float64Var(&o.allowance, "allowance", 0, "... plus this many `kg`")
	return c
}

func (s *session) runContestAdd(ctx context.Context, name string, o contestOptions, cmd *cobra.Command) error {
	if o.name == "" || o.on == "" || o.bodyFat == 0 {
		return usage("A show needs --name, --on and --body-fat.")
	}
	show, err := o.show(cmd)
	if err != nil {
		return err
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	if err := at.AddShow(ctx, at.athlete.ID, show, at.on); err != nil {
		return err
	}
	if s.json {
		return s.emit(show)
	}
	p := s.page()
	p.line("%s is down for %s on %s, %s away.", at.athlete.Name, show.Name, longDate(show.Date), weeks(float64(show.Date.DaysSince(at.on))/7))
	p.line("Next: glidepath appraise %s", at.athlete.ID)
	return p.flush()
}

func (o *contestOptions) show(cmd *cobra.Command) (athlete.Show, error) {
	show := athlete.Show{ID: o.id, Name: o.name, Division: o.division, TargetBodyFatPct: o.bodyFat, TargetTolerance: o.tolerance}
	var err error
	if show.Date, err = dateFlag("on", o.on); err != nil {
		return show, err
	}
	if o.id == "" {
		show.ID = show.Date.String()
	}
	if show.TargetStageWeight, err = weightFlag(o.weight); err != nil {
		return show, err
	}
	limit, err := weightFlag(o.limit)
	if err != nil {
		return show, err
	}
	switch {
	case limit != nil:
		show.ClassLimit = &athlete.ClassLimit{WeightKg: limit}
	case cmd.Flags().Changed("height-less"):
		show.ClassLimit = &athlete.ClassLimit{HeightLess: &o.heightLess, AllowanceKg: o.allowance}
	}
	return show, nil
}

// weightFlag reads a weight with its unit; "" is none.
func weightFlag(text string) (*float64, error) {
	if text == "" {
		return nil, nil
	}
	kg, err := sheet.ReadQuantity(sheet.Days, sheet.FieldWeight, text, "")
	return &kg, err
}

func newContestList(s *session) *cobra.Command {
	return s.athleteArg(&cobra.Command{
		Use: "list ATHLETE", Short: "List an athlete's shows",
		Example: "  glidepath contest list priya\n  glidepath contest list marcus --json",
		RunE: func(cmd *cobra.Command, args []string) error {
			at, err := s.withAthlete(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			if s.json {
				return s.emit(append([]athlete.Show{}, at.athlete.Shows...))
			}
			p := s.page()
			if len(at.athlete.Shows) == 0 {
				p.line("%s has no show yet.", at.athlete.Name)
			} else {
				p.line("The shows of %s.", at.athlete.Name)
			}
			showContests(p, at.athlete)
			return p.flush()
		},
	})
}

func showContests(p *page, a *athlete.Athlete) {
	if len(a.Shows) == 0 {
		return
	}
	n := chart.Notation{Units: a.Units}
	rows := make([][]string, 0, len(a.Shows))
	for i := range a.Shows {
		sh := &a.Shows[i]
		limit := ""
		if kg, ok := sh.ClassLimit.LimitKg(a.HeightCm); ok {
			limit = n.Weight(kg)
		}
		rows = append(rows, []string{date(sh.Date), named(sh), fmt.Sprintf("%s ± %s", chart.Number(sh.TargetBodyFatPct, 1), chart.Number(sh.Tolerance(), 1)), limit, sh.ID})
	}
	p.heading("Shows")
	p.gap()
	p.table([]column{{head: "Date"}, {head: "Name", flex: true}, {head: "Target %"}, {head: "Class limit"}, {head: "ID", left: true}}, rows)
}

// named is a show with its division.
func named(sh *athlete.Show) string {
	if sh.Division == "" {
		return sh.Name
	}
	return sh.Name + ", " + sh.Division
}
