package cli

import (
	"context"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/cardio"
	"glidepath/chart"
	"glidepath/civil"
)

type cardioOptions struct{ kcal float64 }

func newCardio(s *session) *cobra.Command {
	var o cardioOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "cardio ATHLETE",
		Short: "Say what the same energy costs as steps and as each kind of cardio",
		Long: `List the same energy over rest as everyday steps and as each kind of cardio, for
this athlete's weight and leanness, with what it costs in fatigue: one point is a
kcal of everyday steps. The fatigue points are judgement.`,
		Example: `  glidepath cardio priya --kcal 150 --as-of 2026-03-02
  glidepath cardio marcus --kcal 300 --as-of 2026-03-02
  glidepath cardio dmitri --kcal 100 --as-of 2026-03-02 --json`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runCardio(cmd.Context(), args[0], o) },
	})
	c.Flags().Float64Var(&o.kcal, "kcal", 150, "energy over rest, `kcal` a day")
	return c
}

type cardioResult struct {
	Athlete     who                 `json:"athlete"`
	AsOf        civil.Date          `json:"as_of"`
	Kcal        float64             `json:"kcal"`
	Equivalents []cardio.Equivalent `json:"equivalents"`
}

func (s *session) runCardio(ctx context.Context, name string, o cardioOptions) error {
	d, err := s.dossier(ctx, name, func(opt *app.Options) { opt.Futures, opt.NoReview = -1, true })
	if err != nil {
		return err
	}
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	all, err := d.Equivalents(o.kcal)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(cardioResult{whoOf(&d.Athlete), d.AsOf, o.kcal, all})
	}
	p := s.page()
	p.line("%s kcal a day over rest, for %s at %s.", whole(o.kcal), d.Athlete.Name, s.notation(d.Athlete.Units).Weight(last.TrendKg.Value))
	p.gap()
	rows := make([][]string, 0, len(all))
	for _, e := range all {
		name, amount := string(e.Kind), whole(e.Minutes)+" min"
		if e.Kind == "" {
			name, amount = "everyday steps", whole(e.Steps)+" steps"
		}
		rows = append(rows, []string{name, amount, whole(e.Points), fits(&e)})
	}
	p.table([]column{{head: "", left: true}, {head: "A day"}, {head: "Fatigue points"}, {head: "", left: true}}, rows)
	p.para("One person's true cost may be a third above or below, most of all where a kind has no equation of its own; %s.",
		"read what the trend says before you count on it")
	return p.flush()
}

func fits(e *cardio.Equivalent) string {
	switch {
	case !e.Available && e.Kind != "":
		return "not in the profile"
	case !e.WithinCap:
		return "too hard at this leanness"
	case e.MET > 0:
		return chart.Number(e.MET, 1) + " times rest"
	}
	return ""
}
