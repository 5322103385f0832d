package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"glidepath/fault"
)

func newErase(s *session) *cobra.Command {
	var yes bool
	c := s.athleteArg(&cobra.Command{
		Use:   "erase ATHLETE",
		Short: "Erase an athlete and all that belongs to them",
		Long: `Erase an athlete with every log, measurement, note, photo, prescription and review. It cannot be
undone, so the ID is wanted in full, and a yes. Files that you exported or backed
up are not touched: erase those yourself.`,
		Example: `  glidepath export keoni-blackwood --out keoni.json
  glidepath erase keoni-blackwood
  glidepath erase keoni-blackwood --yes`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runErase(cmd.Context(), args[0], yes) },
	})
	c.Flags().BoolVar(&yes, "yes", false, "erase without asking")
	return c
}

func (s *session) runErase(ctx context.Context, id string, yes bool) error {
	a, err := s.open(ctx)
	if err != nil {
		return err
	}
	who, err := a.Athlete(ctx, id)
	if err != nil {
		return err
	}
	s.about(who.ID)
	if !yes {
		if yes, err = s.confirm(fmt.Sprintf("Erase %s with everything logged?", who.Name), "--yes"); err != nil {
			return err
		}
		if !yes {
			return fault.New(fault.Unclear, "nothing was erased.")
		}
	}
	if err := a.RemoveAthlete(ctx, id); err != nil {
		return err
	}
	if s.json {
		return s.emit(map[string]any{"erased": whoOf(who)})
	}
	p := s.page()
	p.line("%s and everything logged for them is erased.", who.Name)
	return p.flush()
}
