package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/numeric"
	"glidepath/phrase"
	"glidepath/reading"
)

type readOptions struct{ days int }

func newRead(s *session) *cobra.Command {
	var o readOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "read ATHLETE",
		Short: "Say what is really happening, from the logs",
		Long: `Read the logs: weight without the day's noise, the rate, fat and lean, and what the
athlete spends on the scale they report on. It names the weights that look like a
slip, which it leaves out until you settle them, and what the data cannot say.`,
		Example: `  glidepath read lucia --as-of 2026-03-02           # a jump that is water
  glidepath read saoirse --as-of 2026-03-02         # a weight typed in pounds
  glidepath read priya --days 14 --as-of 2026-03-02`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runRead(cmd.Context(), args[0], o) },
	})
	c.Flags().IntVar(&o.days, "days", 0, "show the last `N` days one by one")
	return c
}

type readResult struct {
	Athlete   who                `json:"athlete"`
	AsOf      civil.Date         `json:"as_of"`
	Now       reading.Estimate   `json:"now"`
	Daily     []reading.Estimate `json:"daily,omitempty"` // with --days
	Adherence reading.Adherence  `json:"adherence"`
	Evidence  reading.Evidence   `json:"evidence"`
	Queries   []reading.Query    `json:"queries"`
	Cannot    []string           `json:"cannot_tell"`
	Blocked   any                `json:"blocked,omitempty"`
}

func (s *session) runRead(ctx context.Context, name string, o readOptions) error {
	if o.days < 0 {
		return usage("--days takes a number of days.")
	}
	d, err := s.dossier(ctx, name, func(opt *app.Options) { opt.Futures, opt.NoReview = -1, true })
	if err != nil {
		return err
	}
	r := d.Reading
	out := readResult{
		Athlete: whoOf(&d.Athlete), AsOf: d.AsOf, Now: r.Daily[len(r.Daily)-1],
		Daily: r.Daily[len(r.Daily)-min(o.days, len(r.Daily)):], Adherence: r.Adherence, Evidence: r.Evidence,
		Queries: append([]reading.Query{}, r.Queries...), Cannot: append(append([]string{}, r.CannotTell...), d.Cannot...),
	}
	if s.json {
		if d.Blocked != nil {
			out.Blocked = d.Blocked
		}
		return s.emit(out)
	}
	p := s.page()
	s.head(p, d)
	n := s.notation(d.Athlete.Units)
	p.para("%s, %s; spending %s on the scale that is reported.", est(out.Now.TrendKg.Scale(n.FromKg(1)), 1, n.WeightUnit()),
		rate(out.Now.RatePct), est(out.Now.ExpenditureKc, 0, "kcal a day"))
	if d.Blocked != nil {
		s.cautions(p, []string{plainFault(d.Blocked)})
	}
	p.gap()
	showNow(p, &out.Now, n)
	showEvidence(p, &out)
	s.showQueries(p, d)
	section(p, "What cannot be told", out.Cannot)
	if len(out.Daily) > 0 {
		p.heading("Day by day, with 90 %% intervals")
		p.gap()
		showDaily(p, out.Daily, n)
	}
	return p.flush()
}

func showNow(p *page, e *reading.Estimate, n chart.Notation) {
	row := func(what string, v numeric.Interval, decimals int) []string {
		to := func(a, b float64) string { return chart.Number(a, decimals) + " to " + chart.Number(b, decimals) }
		return []string{what, chart.Number(v.Value, decimals), to(v.Low50, v.High50), to(v.Low90, v.High90)}
	}
	kg := n.FromKg(1)
	p.table([]column{{head: "", left: true}, {head: "Estimate"}, {head: "50 % interval"}, {head: "90 % interval"}}, [][]string{
		row("Trend weight, "+n.WeightUnit(), e.TrendKg.Scale(kg), 1),
		row("Loss, % of weight a week", e.RatePct, 2),
		row("Body fat, %", e.BodyFatPct, 1),
		row("Fat, "+n.WeightUnit(), e.FatKg.Scale(kg), 1),
		row("Lean, "+n.WeightUnit(), e.LeanKg.Scale(kg), 1),
		row("Expenditure, kcal a day", e.ExpenditureKc, 0),
	})
}

func showEvidence(p *page, r *readResult) {
	e, a := &r.Evidence, &r.Adherence
	last := "nothing is logged yet"
	if !e.LastLog.IsZero() {
		last = fmt.Sprintf("%d mornings on the scale and %d days of food in the last 14; last log on %s", e.Weights14, e.Intake14, date(e.LastLog))
	}
	measured := "no measurement of body fat"
	if e.Compositions > 0 {
		measured = count(e.Compositions, "measurement", "measurements") + " of body fat, the last on " + date(e.LastMeasured)
	}
	follows := ""
	if a.Days > 0 {
		follows = fmt.Sprintf("eats %s of what is prescribed (%s on which both are known)",
			between(100*a.MeanRatio, 100*(a.MeanRatio-1.645*a.SERatio), 100*(a.MeanRatio+1.645*a.SERatio), 0, "%"), count(a.Days, "day", "days"))
		if a.StepsRatio > 0 {
			follows += fmt.Sprintf(", walks %s%s%%", whole(100*a.StepsRatio), nbsp)
		}
		if a.CardioMean > 0 {
			follows += fmt.Sprintf(", does %s%s%% of the cardio", whole(100*a.CardioMean), nbsp)
		}
	}
	p.heading("What it rests on")
	p.facts(fact{"Logs", last}, fact{"Measured", measured}, fact{"Follows the plan", follows})
}

func (s *session) showQueries(p *page, d *app.Dossier) {
	if len(d.Reading.Queries) == 0 {
		return
	}
	p.heading("Weights to ask about; they are left out until you settle them")
	for _, q := range d.Reading.Queries {
		p.hanging("  - ", phrase.Sentence(q.Reason))
		p.raw(fmt.Sprintf("      glidepath settle %s %s --use | --leave-out | --instead WEIGHT", d.Athlete.ID, q.Date))
	}
}

func showDaily(p *page, days []reading.Estimate, n chart.Notation) {
	rows := make([][]string, 0, len(days))
	for i := range days {
		e := &days[i]
		weighed := "–"
		if e.WeightKg != nil {
			weighed = chart.Number(n.FromKg(*e.WeightKg), 1)
		}
		rows = append(rows, []string{
			strings.ReplaceAll(e.Date.Format("Mon 2 Jan"), " ", nbsp), weighed, est(e.TrendKg.Scale(n.FromKg(1)), 1, ""),
			est(e.BodyFatPct, 1, ""), optional(e.ReportedKcal, 0), est(e.ExpenditureKc, 0, ""),
		})
	}
	u := n.WeightUnit()
	p.table([]column{
		{head: "Day"}, {head: "Scale\n" + u}, {head: "Trend " + u}, {head: "Body fat %", wide: true}, {head: "Ate\nkcal"}, {head: "Spent kcal"},
	}, rows)
}
