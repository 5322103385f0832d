package cli

import (
	"context"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
)

// limitWords says what each limit is, in the order of athlete.LimitFields.
var limitWords = map[string]string{
	"rate_far_pct_per_week":     "most loss far from lean, % of weight a week",
	"rate_lean_pct_per_week":    "most loss near stage leanness, % of weight a week",
	"far_body_fat_pct":          "body fat from which on far from lean holds, %",
	"lean_body_fat_pct":         "body fat down to which stage leanness begins, %",
	"fat_supply_kcal_per_kg":    "most energy that fat gives up, kcal per kg a day",
	"energy_availability_floor": "least energy available, kcal per kg fat-free mass a day",
	"protein_g_per_kg_ffm":      "least protein, g per kg fat-free mass",
	"fat_g_per_kg":              "least dietary fat, g per kg",
	"fibre_g_per_1000_kcal":     "least fibre, g per 1,000 kcal",
}

func newLimit(s *session) *cobra.Command {
	return subcommands("limit", "See and change an athlete's limits, openly",
		`See and change the limits that bound every plan. A change keeps who made it, when
and why. Some floors cannot be changed at all.`,
		newLimitList(s), newLimitChange(s), newLimitLeave(s))
}

func newLimitList(s *session) *cobra.Command {
	return s.athleteArg(&cobra.Command{
		Use: "list ATHLETE", Short: "List the limits and who changed which",
		Example: "  glidepath limit list priya\n  glidepath limit list dmitri --json",
		RunE: func(cmd *cobra.Command, args []string) error {
			at, err := s.withAthlete(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			return s.tellLimits(at.athlete, at.on)
		},
	})
}

func (s *session) tellLimits(a *athlete.Athlete, on civil.Date) error {
	if s.json {
		return s.emit(a.EffectiveLimits())
	}
	p := s.page()
	p.line("%s: the limits on %s.", a.Name, longDate(on))
	showLimits(p, a, on)
	return p.flush()
}

func showLimits(p *page, a *athlete.Athlete, on civil.Date) {
	l, usual := a.EffectiveLimits(), athlete.DefaultLimits(a.Sex)
	rows := make([][]string, 0, len(limitWords))
	for _, name := range athlete.LimitFields() {
		was := ""
		if v := *usual.Field(name); v != *l.Field(name) {
			was = "usually " + figure(v)
		}
		rows = append(rows, []string{limitWords[name], figure(*l.Field(name)), was, name})
	}
	p.heading("Limits")
	p.gap()
	p.table([]column{{head: "", flex: true}, {head: ""}, {head: "", left: true}, {head: "Name", left: true}}, rows)
	if la := l.LowAvailability; la != nil {
		end := la.From.AddDays(7*la.Weeks - 1)
		state := "in force"
		if on < la.From || on > end {
			state = "not in force"
		}
		p.para("Leave to go %s below the floor of energy availability from %s to %s (%s): %s, %s.",
			figure(athlete.LowAvailabilityStep), date(la.From), date(end), state, la.Why, la.Who)
	}
	changes := make([]string, len(l.Changes))
	for i, c := range l.Changes {
		changes[i] = c.Field + " from " + figure(c.Old) + " to " + figure(c.New) + " by " + c.Who + " on " + date(civil.FromTime(c.When)) + ": " + c.Why
	}
	section(p, "Changes", changes)
}

// figure writes a limit without needless decimals.
func figure(v float64) string {
	_, part, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
	return chart.Number(v, len(part))
}

type limitOptions struct {
	why, from string
	weeks     int
}

func newLimitChange(s *session) *cobra.Command {
	var o limitOptions
	c := &cobra.Command{
		Use:   "change ATHLETE LIMIT VALUE",
		Short: "Change a limit, with your name and the reason",
		Example: `  glidepath limit change priya rate_far_pct_per_week 0.8 --why "tires quickly" --who Wren
  glidepath limit change thabo protein_g_per_kg_ffm 2.5 --why "hungry late in a prep" --who Wren
  glidepath limit list priya`,
		Args:              exactly(3, "Give athlete, limit and value, as in %s priya rate_far_pct_per_week 0.8."),
		ValidArgsFunction: s.completeLimit,
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.runLimitChange(cmd.Context(), args[0], args[1], args[2], o)
		},
	}
	c.Flags().StringVar(&o.why, "why", "", "the `reason`")
	return c
}

func (s *session) completeLimit(cmd *cobra.Command, args []string, begin string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 1 {
		return athlete.LimitFields(), cobra.ShellCompDirectiveNoFileComp
	}
	return s.completeAthlete(cmd, args, begin)
}

func (s *session) runLimitChange(ctx context.Context, name, field, text string, o limitOptions) error {
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return usage("The value %q is not a number.", text)
	}
	if o.why == "" {
		return usage("A limit is changed openly: give the reason with --why.")
	}
	person, err := s.person()
	if err != nil {
		return err
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	if err := at.ChangeLimit(ctx, at.athlete.ID, field, value, person, o.why); err != nil {
		return err
	}
	return s.tellLimitsOf(ctx, at)
}

func (s *session) tellLimitsOf(ctx context.Context, at *opened) error {
	a, err := at.Athlete(ctx, at.athlete.ID)
	if err != nil {
		return err
	}
	return s.tellLimits(a, at.on)
}

func newLimitLeave(s *session) *cobra.Command {
	var o limitOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "leave ATHLETE",
		Short: "Allow lower energy availability for at most 4 weeks",
		Long: `Allow plans 5 kcal per kg of fat-free mass below the floor of energy availability, for
at most 4 weeks, with a written reason. Below the floor lie lost muscle, lost cycles
and weak bone: look after sleep, mood and cycle in these weeks, and end them early
when one of them goes wrong.`,
		Example: `  glidepath limit leave noor --weeks 2 --why "last weeks before the show" --who Wren --as-of 2026-03-02
  glidepath limit leave dmitri --weeks 3 --from 2026-04-25 --why "late in the prep" --who Wren
  glidepath limit list noor --as-of 2026-03-02`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runLimitLeave(cmd.Context(), args[0], o) },
	})
	f := c.Flags()
	f.StringVar(&o.why, "why", "", "the `reason`")
	f.StringVar(&o.from, "from", "", "first `date` (default the date reckoned for)")
	f.IntVar(&o.weeks, "weeks", 0, "how many `weeks`, 1 to 4")
	return c
}

func (s *session) runLimitLeave(ctx context.Context, name string, o limitOptions) error {
	if o.why == "" || o.weeks == 0 {
		return usage("Leave needs --weeks and the reason with --why.")
	}
	person, err := s.person()
	if err != nil {
		return err
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	from := at.on
	if o.from != "" {
		if from, err = dateFlag("from", o.from); err != nil {
			return err
		}
	}
	leave := athlete.LowAvailability{From: from, Weeks: o.weeks, Why: o.why, Who: person}
	if err := at.AllowLowAvailability(ctx, at.athlete.ID, leave); err != nil {
		return err
	}
	return s.tellLimitsOf(ctx, at)
}
