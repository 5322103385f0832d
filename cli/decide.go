package cli

import (
	"context"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
)

type decideOptions struct {
	energy, steps, cardio float64
	reason, by            string
}

func newDecide(s *session) *cobra.Command {
	return subcommands("decide", "Accept, edit or decline a review",
		`Decide on the review of a date. Accepting or editing adds a version of the
prescription; declining keeps your reason, so that the next review can learn from
it. Nothing beyond a limit is taken.`,
		newDecideOne(s, app.Accepted), newDecideOne(s, app.Edited), newDecideOne(s, app.Declined))
}

func newDecideOne(s *session, what app.Decision) *cobra.Command {
	var o decideOptions
	c := s.athleteArg(&cobra.Command{})
	c.RunE = func(cmd *cobra.Command, args []string) error {
		return s.runDecide(cmd.Context(), args[0], what, o, cmd)
	}
	f := c.Flags()
	f.StringVar(&o.by, "by", "", "`name` of who decides (the same as --who)")
	f.StringVar(&o.reason, "reason", "", "`why`, in your words")
	switch what {
	case app.Accepted:
		c.Use, c.Short = "accept ATHLETE", "Take the proposal as it is"
		c.Example = `  glidepath review aroha --as-of 2026-03-02
  glidepath decide accept aroha --as-of 2026-03-02 --who Wren`
	case app.Edited:
		c.Use, c.Short = "edit ATHLETE", "Take the proposal with figures of your own"
		c.Long = `Take the proposal with figures of your own; those you do not give stay as
proposed. Macros, sessions and day types are worked out again. A figure that
breaks a limit is refused, with the nearest that does not.`
		c.Example = `  glidepath decide edit aroha --steps 11000 --reason "knees" --as-of 2026-03-02 --who Wren
  glidepath decide edit thabo --energy 3400 --as-of 2026-03-02 --who Wren
  glidepath decide edit priya --cardio 120 --energy 1700 --as-of 2026-03-02 --who Wren`
		f.Float64Var(&o.energy, "energy", 0, "mean of the week, `kcal` a day")
		f.Float64Var(&o.steps, "steps", 0, "`steps` a day")
		f.Float64Var(&o.cardio, "cardio", 0, "`minutes` a week")
	case app.Declined:
		c.Use, c.Short = "decline ATHLETE", "Leave things as they are, with a reason"
		c.Example = `  glidepath decide decline aroha --reason "travel this week" --as-of 2026-03-02 --who Wren
  glidepath decide decline lucia --reason "wait for the water" --as-of 2026-03-02 --who Wren`
	}
	return c
}

type decideResult struct {
	Athlete      who                   `json:"athlete"`
	Date         civil.Date            `json:"date"`
	Decision     app.Decision          `json:"decision"`
	Who          string                `json:"who"`
	Reason       string                `json:"reason,omitempty"`
	Prescription *athlete.Prescription `json:"prescription,omitempty"`
}

func (s *session) runDecide(ctx context.Context, name string, what app.Decision, o decideOptions, cmd *cobra.Command) error {
	if o.by != "" {
		s.who = o.by
	}
	person, err := s.person()
	if err != nil {
		return err
	}
	var edit app.Edit
	for flag, at := range map[string]struct {
		to    **float64
		value *float64
	}{
		"energy": {&edit.EnergyKcal, &o.energy}, "steps": {&edit.StepsPerDay, &o.steps}, "cardio": {&edit.CardioMinutes, &o.cardio},
	} {
		if what == app.Edited && cmd.Flags().Changed(flag) {
			*at.to = at.value
		}
	}
	if what == app.Edited && edit == (app.Edit{}) {
		return usage("Give at least one figure of your own: --energy, --steps or --cardio.")
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	v, err := at.Decide(ctx, at.athlete.ID, at.on, what, edit, o.reason, person)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(decideResult{whoOf(at.athlete), at.on, what, person, o.reason, v})
	}
	p := s.page()
	p.line("The review of %s for %s is %s by %s.", longDate(at.on), at.athlete.Name, what, person)
	if v == nil {
		p.line("The prescription stays as it was.")
		return p.flush()
	}
	p.gap()
	s.showPrescription(p, v)
	return p.flush()
}
