package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/phrase"
	"glidepath/season"
)

type showOptions struct{ show string }

func (o *showOptions) flag(c *cobra.Command) *cobra.Command {
	c.Flags().StringVar(&o.show, "show", "", "`ID` of the show (default the next one)")
	return c
}

func newAppraise(s *session) *cobra.Command {
	var o showOptions
	return o.flag(s.athleteArg(&cobra.Command{
		Use:   "appraise ATHLETE",
		Short: "Say whether there is enough time, and what would make it enough",
		Long: `Appraise the starting position against the show: the verdict, the slack, how long
the fastest permitted and a sensible descent take, the latest sensible start, which
limits bind, and what else could be done. "Not enough time" is an answer like any
other; it comes with by how much, and with ways out.`,
		Example: `  glidepath appraise anselm --as-of 2026-03-02      # weighing up when to start
  glidepath appraise marcus --as-of 2026-03-02      # too much for the time there is
  glidepath appraise marcus --show autumn-classic --as-of 2026-03-02`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runAppraise(cmd.Context(), args[0], o) },
	}))
}

type appraiseResult struct {
	Athlete   who               `json:"athlete"`
	AsOf      civil.Date        `json:"as_of"`
	Show      *athlete.Show     `json:"show"`
	Phase     athlete.PhaseKind `json:"phase"`
	Appraisal season.Appraisal  `json:"appraisal"`
}

// withSeason reckons a dossier that has a season and, where wanted, a show.
func (s *session) withSeason(ctx context.Context, name string, show bool, change func(*app.Options)) (*app.Dossier, error) {
	d, err := s.dossier(ctx, name, change)
	switch {
	case err != nil:
		return nil, err
	case d.Blocked != nil:
		return nil, d.Blocked
	case show && d.Show == nil:
		return nil, fault.New(fault.NotFound, "%s has no show after %s.", d.Athlete.Name, longDate(d.AsOf)).
			WithHint("Add one with glidepath contest add %s.", d.Athlete.ID)
	}
	return d, nil
}

func (s *session) runAppraise(ctx context.Context, name string, o showOptions) error {
	d, err := s.withSeason(ctx, name, true, func(opt *app.Options) {
		opt.ShowID, opt.Futures, opt.NoReview = o.show, -1, true
	})
	if err != nil {
		return err
	}
	a := &d.Season.Appraisal
	if s.json {
		return s.emit(appraiseResult{whoOf(&d.Athlete), d.AsOf, d.Show, d.Phase, *a})
	}
	p := s.page()
	s.head(p, d)
	p.para("%s", phrase.Sentence(a.Sentence))
	p.gap()
	n := s.notation(d.Athlete.Units)
	kg, unit := n.FromKg(1), n.WeightUnit()
	p.facts(
		fact{"Verdict", string(a.Verdict)},
		fact{"Chance of time", chance(a.Chance)},
		fact{"Slack", span(a.SlackWeeks, "weeks")},
		fact{"Time there is", weeks(a.WeeksAvailable)},
		fact{"Time it takes", span(a.FastestWeeks, "weeks") + " at the fastest permitted; a sensible descent takes " + weeks(a.SensibleWeeks)},
		fact{"To lose", span(scaled(a.LoseKg, kg), unit)},
		fact{"Stage weight", span(scaled(a.StageWeightKg, kg), unit) + fmt.Sprintf(" at %s%s%% body fat", chart.Number(d.Show.TargetBodyFatPct, 1), nbsp)},
		fact{"Rate", fmt.Sprintf("%.2f%s%% of body weight a week is needed on average; %.2f%s%% is permitted", a.NeededRatePct, nbsp, a.PermittedRatePct, nbsp)},
		fact{"Sensible start", "by " + startText(d.AsOf, a.LatestSensible)},
		fact{"Latest start", startText(d.AsOf, a.LatestAtAll) + ", at the fastest permitted"},
	)
	section(p, "What binds", a.Binds)
	ways := make([]string, len(a.Ways))
	for i, w := range a.Ways {
		ways[i] = w.Sentence
	}
	section(p, "Ways", ways)
	s.showAlternatives(p, d, a.Alternatives)
	return p.flush()
}

func scaled(v season.Span, k float64) season.Span {
	return season.Span{Value: v.Value * k, Low: v.Low * k, High: v.High * k}
}

func startText(asOf, start civil.Date) string {
	if start < asOf {
		return date(start) + " (past)"
	}
	return date(start)
}

func (s *session) showAlternatives(p *page, d *app.Dossier, all []season.Alternative) {
	if len(all) == 0 {
		return
	}
	p.heading("What else could be done")
	p.gap()
	n := s.notation(d.Athlete.Units)
	rows := make([][]string, 0, len(all))
	for _, a := range all {
		works := "no"
		if a.Feasible {
			works = "yes"
		}
		rows = append(rows, []string{
			phrase.Sentence(a.What), works, p.date(a.Start), p.date(a.ShowDate), chart.Number(a.Weeks, 0), chart.Number(a.SlackWeeks, 1),
			chart.Number(a.RatePct, 2), whole(a.LowestEnergyKcal), chart.Number(n.FromKg(a.LeanLostKg), 1),
		})
	}
	p.table([]column{
		{head: "", flex: true},
		{head: "Works", left: true},
		{head: "Start", wide: true},
		{head: "Show", wide: true},
		{head: "Weeks\nof diet"},
		{head: "Slack\nweeks"},
		{head: "Rate %\na week"},
		{head: "Lowest\nkcal"},
		{head: "Lean\nlost " + n.WeightUnit()},
	}, rows)
}
