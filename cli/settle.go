package cli

import (
	"context"

	"github.com/spf13/cobra"
)

func newSettle(s *session) *cobra.Command {
	var o settleOptions
	c := &cobra.Command{
		Use:   "settle ATHLETE DATE",
		Short: "Settle a weight that looked like a slip",
		Long: `Settle a weight that glidepath read asks about: it is right and is to be used, it is
to be left out, or another was meant. Until then it is left out.`,
		Example: `  glidepath read saoirse --as-of 2026-03-02
  glidepath settle saoirse 2026-02-27 --instead "63.4 kg" --who Wren
  glidepath settle lucia 2026-02-28 --use --who Wren`,
		Args:              exactly(2, "Give athlete and date, as in %s saoirse 2026-02-27 --leave-out."),
		ValidArgsFunction: s.completeAthlete,
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.runSettle(cmd.Context(), args[0], args[1], o)
		},
	}
	f := c.Flags()
	f.BoolVar(&o.use, "use", false, "it is right")
	f.BoolVar(&o.leaveOut, "leave-out", false, "it is wrong, and nobody knows the right one")
	f.StringVar(&o.instead, "instead", "", "the `weight` that was meant, with its unit")
	return c
}

type settleOptions struct {
	use, leaveOut bool
	instead       string
}

func (s *session) runSettle(ctx context.Context, name, day string, o settleOptions) error {
	n := 0
	for _, given := range []bool{o.use, o.leaveOut, o.instead != ""} {
		if given {
			n++
		}
	}
	if n != 1 {
		return usage("Give one of --use, --leave-out and --instead.")
	}
	person, err := s.person()
	if err != nil {
		return err
	}
	on, err := dateFlag("date", day)
	if err != nil {
		return usage("The date is written as 2026-02-27, not %q.", day)
	}
	instead, err := weightFlag(o.instead)
	if err != nil {
		return err
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	if err := at.AnswerWeight(ctx, at.athlete.ID, on, o.use, instead, person); err != nil {
		return err
	}
	outcome := "is used as it stands"
	switch {
	case o.leaveOut:
		outcome = "is left out"
	case instead != nil:
		outcome = "is now " + s.notation(at.athlete.Units).Weight(*instead) + "; the older value is kept"
	}
	if s.json {
		return s.emit(map[string]any{"athlete": whoOf(at.athlete), "date": on, "use": !o.leaveOut, "instead_kg": instead, "who": person})
	}
	p := s.page()
	p.line("The weight of %s on %s %s.", at.athlete.Name, longDate(on), outcome)
	return p.flush()
}
