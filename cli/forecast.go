package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/forecast"
	"glidepath/numeric"
)

func newForecast(s *session) *cobra.Command {
	var o showOptions
	return o.flag(s.athleteArg(&cobra.Command{
		Use:   "forecast ATHLETE",
		Short: "Say where the athlete will stand, as chances",
		Long: `Fly thousands of futures from what is known to the show: with weekly corrections,
as a coach would make them, and with the present prescription left as it is. The
same data and date give the same answer on any computer with this program.`,
		Example: `  glidepath forecast noor --as-of 2026-03-02        # two weeks before the show
  glidepath forecast priya --as-of 2026-03-02 --futures 20000
  glidepath forecast keoni --as-of 2026-03-02       # hardly anything logged: a wide fan`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runForecast(cmd.Context(), args[0], o) },
	}))
}

type forecastResult struct {
	Athlete   who                `json:"athlete"`
	AsOf      civil.Date         `json:"as_of"`
	Show      *athlete.Show      `json:"show,omitempty"`
	Steered   *forecast.Forecast `json:"with_weekly_corrections"`
	Unchanged *forecast.Forecast `json:"left_as_it_is,omitempty"`
}

func (s *session) runForecast(ctx context.Context, name string, o showOptions) error {
	d, err := s.withSeason(ctx, name, false, func(opt *app.Options) { opt.ShowID, opt.NoReview = o.show, true })
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(forecastResult{whoOf(&d.Athlete), d.AsOf, d.Show, d.Forecast, d.Unchanged})
	}
	f := d.Forecast
	n := s.notation(d.Athlete.Units)
	p := s.page()
	s.head(p, d)
	on := "in 12 weeks"
	if d.Show != nil {
		on = "on show day"
	}
	p.para("Expected %s: %s, at %s.", on, est(f.Weight.Scale(n.FromKg(1)), 1, n.WeightUnit()), est(f.BodyFat, 1, "% body fat"))
	s.showChances(p, d)
	p.heading("Morning weight, %s, and body fat, %%, with weekly corrections", n.WeightUnit())
	p.gap()
	showFan(p, f, n)
	p.para("From %s.", count(f.Futures, "future", "futures"))
	return p.flush()
}

func (s *session) showChances(p *page, d *app.Dossier) {
	type row struct {
		what string
		of   func(*forecast.Chances) numeric.OrNull
	}
	target := ""
	if d.Show != nil {
		target = fmt.Sprintf(" (%s%s%% body fat, %s points either way)", chart.Number(d.Show.TargetBodyFatPct, 1), nbsp, chart.Number(d.Show.Tolerance(), 1))
	}
	var rows [][]string
	for _, r := range []row{
		{"on target" + target, func(c *forecast.Chances) numeric.OrNull { return c.OnTarget }},
		{"as lean as the target or leaner", func(c *forecast.Chances) numeric.OrNull { return c.AtOrUnder }},
		{"inside the class limit", func(c *forecast.Chances) numeric.OrNull { return c.InsideClass }},
		{"energy never at its floor", func(c *forecast.Chances) numeric.OrNull { return c.EnergyKept }},
		{"body fat never under its floor", func(c *forecast.Chances) numeric.OrNull { return c.FatKept }},
		{"no more than 3 % of lean lost", func(c *forecast.Chances) numeric.OrNull { return c.LeanKept }},
	} {
		steered := r.of(&d.Forecast.Chances)
		if !steered.Known() {
			continue
		}
		cells := []string{r.what, chance(float64(steered)), ""}
		if d.Unchanged != nil {
			if u := r.of(&d.Unchanged.Chances); u.Known() {
				cells[2] = percent(float64(u))
			}
		}
		rows = append(rows, cells)
	}
	if len(rows) == 0 {
		return
	}
	p.heading("Chances")
	p.gap()
	columns := []column{{head: "", flex: true}, {head: "With weekly\ncorrections", left: true}, {head: "Left as\nit is"}}
	if d.Unchanged == nil {
		columns = columns[:2]
		for i := range rows {
			rows[i] = rows[i][:2]
		}
	}
	p.table(columns, rows)
}

func showFan(p *page, f *forecast.Forecast, n chart.Notation) {
	var rows [][]string
	last := len(f.Fan) - 1
	for i := range f.Fan {
		if (last-i)%7 != 0 && i != 0 {
			continue
		}
		x := &f.Fan[i]
		w := func(kg float64) string { return chart.Number(n.FromKg(kg), 1) }
		rows = append(rows, []string{
			date(x.Date), w(x.Weight.P05), w(x.Weight.P25), w(x.Weight.P50), w(x.Weight.P75), w(x.Weight.P95),
			between(x.BodyFat.P50, x.BodyFat.P05, x.BodyFat.P95, 1, ""),
		})
	}
	p.table([]column{
		{head: "Morning of"}, {head: "5 %\nunder"}, {head: "25 %\nunder"}, {head: "Middle"}, {head: "25 %\nover"}, {head: "5 %\nover"}, {head: "Body fat %"},
	}, rows)
}
