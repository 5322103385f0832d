package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/forecast"
	"glidepath/phrase"
	"glidepath/season"
)

func newMap(s *session) *cobra.Command {
	var o showOptions
	return o.flag(s.athleteArg(&cobra.Command{
		Use:   "map ATHLETE",
		Short: "Map the season backwards from the stage, week by week",
		Long: `Map the season: its phases, and for each week what the plan asks and the weight it
expects on the first morning, with the 90 % band of the forecast. The plan loses
as little lean as it can, then asks as little as it can, inside every limit.`,
		Example: `  glidepath map priya --as-of 2026-03-02
  glidepath map thabo --as-of 2026-03-02            # a long off-season first
  glidepath map hana --as-of 2026-03-02             # recovery after a show`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runMap(cmd.Context(), args[0], o) },
	}))
}

type mapResult struct {
	Athlete who             `json:"athlete"`
	AsOf    civil.Date      `json:"as_of"`
	Show    *athlete.Show   `json:"show,omitempty"`
	Lands   bool            `json:"lands"`
	Start   civil.Date      `json:"start,omitzero"`
	Phases  []athlete.Phase `json:"phases"`
	Weeks   []mapWeek       `json:"weeks"`
	Stage   *season.Stage   `json:"stage,omitempty"`
	Rests   []season.Rest   `json:"rests,omitempty"`
	Starts  []season.Start  `json:"starts,omitempty"`
}

type mapWeek struct {
	season.Week
	Band *forecast.Quantiles `json:"weight_band_kg,omitempty"` // of the forecast, that morning
}

func (s *session) runMap(ctx context.Context, name string, o showOptions) error {
	d, err := s.withSeason(ctx, name, false, func(opt *app.Options) { opt.ShowID, opt.NoReview = o.show, true })
	if err != nil {
		return err
	}
	m := &d.Season.Map
	out := mapResult{Athlete: whoOf(&d.Athlete), AsOf: d.AsOf, Show: d.Show, Lands: m.Lands, Start: m.Start, Phases: m.Phases, Rests: m.Rests, Starts: d.Season.Frontier}
	if d.Show != nil {
		out.Stage = &m.Stage
	}
	for _, w := range m.Weeks {
		out.Weeks = append(out.Weeks, mapWeek{w, fanOn(d.Forecast, w.From)})
	}
	if s.json {
		return s.emit(out)
	}
	p := s.page()
	s.head(p, d)
	if d.Show != nil {
		p.para("%s", phrase.Sentence(d.Season.Appraisal.Sentence))
		if !m.Lands {
			p.line("The map shows the fastest permitted way; it does not reach the target by the show.")
		}
	}
	p.heading("Phases")
	p.gap()
	rows := make([][]string, 0, len(m.Phases))
	for _, ph := range m.Phases {
		rows = append(rows, []string{string(ph.Kind), date(ph.From), date(ph.To), long(ph)})
	}
	p.table([]column{{head: "", left: true}, {head: "From"}, {head: "To"}, {head: "Length"}}, rows)
	p.heading("Weeks")
	p.gap()
	s.showWeeks(p, d, out.Weeks)
	showRests(p, m.Rests)
	if d.Show != nil {
		s.showStage(p, d)
		s.showStarts(p, d)
	}
	return p.flush()
}

func long(ph athlete.Phase) string {
	days := ph.To.DaysSince(ph.From) + 1
	if days < 14 {
		return count(days, "day", "days")
	}
	return weeks(float64(days) / 7)
}

// fanOn is the forecast of a morning, nil where it does not reach.
func fanOn(f *forecast.Forecast, on civil.Date) *forecast.Quantiles {
	if f == nil {
		return nil
	}
	for i := range f.Fan {
		if f.Fan[i].Date == on {
			return &f.Fan[i].Weight
		}
	}
	return nil
}

func (s *session) showWeeks(p *page, d *app.Dossier, all []mapWeek) {
	n := s.notation(d.Athlete.Units)
	rows := make([][]string, 0, len(all))
	for _, w := range all {
		weight := chart.Number(n.FromKg(w.WeightKg), 1)
		if b := w.Band; b != nil {
			weight = between(n.FromKg(b.P50), n.FromKg(b.P05), n.FromKg(b.P95), 1, "")
		}
		rows = append(rows, []string{
			p.date(w.From), phaseText(&w.Week), whole(w.Asked.EnergyKcal), whole(w.Asked.StepsPerDay), whole(w.Asked.CardioMinutes), weight,
			chart.Number(w.BodyFatPct, 1), refeedText(w.Refeeds),
		})
	}
	p.table([]column{
		{head: "From"},
		{head: "Phase", left: true},
		{head: "kcal\na day"},
		{head: "Steps\na day"},
		{head: "Cardio\nmin"},
		{head: "Weight " + n.WeightUnit()},
		{head: "Body\nfat %"},
		{head: "Re-\nfeed"},
	}, rows)
}

// phaseText is the phase of a week, or that it is a break within it.
func phaseText(w *season.Week) string {
	if w.DietBreak {
		return "diet break"
	}
	return string(w.Phase)
}

func refeedText(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

func (s *session) showStage(p *page, d *app.Dossier) {
	n := s.notation(d.Athlete.Units)
	st := &d.Season.Map.Stage
	p.heading("What the plan expects on show day")
	facts := []fact{
		{"Body fat", chart.Number(st.BodyFatPct, 1) + nbsp + "% (target " + chart.Number(d.Show.TargetBodyFatPct, 1) + ")"},
		{"Lean lost on the way", n.Weight(st.LeanLostKg)},
		{"Lowest energy", whole(st.LowestEnergyKcal) + " kcal a day, " + chart.Number(st.LowestAvailable, 1) + " kcal available per kg of fat-free mass"},
		{"Most cardio", whole(st.MostCardio) + " minutes a week"},
		{"Mean rate", fmt.Sprintf("%.2f%s%% of body weight a week", st.MeanRatePct, nbsp)},
	}
	if d.Forecast != nil {
		facts = append([]fact{{"Weight", est(d.Forecast.Weight.Scale(n.FromKg(1)), 1, n.WeightUnit())}}, facts...)
	}
	p.facts(facts...)
}

// showRests says what was decided about diet breaks and refeeds, and what evidence
// there is.
func showRests(p *page, all []season.Rest) {
	if len(all) == 0 {
		return
	}
	p.heading("Diet breaks and refeeds")
	p.gap()
	for i, r := range all {
		p.line("%s", phrase.Sentence(r.Sentence))
		if i == len(all)-1 || all[i+1].Kind != r.Kind {
			p.para("%s", r.Evidence)
		}
	}
}

// showStarts tables what each start would come to.
func (s *session) showStarts(p *page, d *app.Dossier) {
	if len(d.Season.Frontier) < 2 {
		return
	}
	p.heading("If the prep began on another day")
	p.gap()
	n := s.notation(d.Athlete.Units)
	rows := make([][]string, 0, len(d.Season.Frontier))
	for _, f := range d.Season.Frontier {
		what := ""
		switch {
		case !f.Lands:
			what = "does not arrive"
		case f.Dominated:
			what = "no better"
		}
		if f.Chosen {
			what = strings.TrimPrefix(what+", the plan", ", ")
		}
		rows = append(rows, []string{
			p.date(f.Date), chart.Number(f.WeeksOut, 0), whole(f.LowestEnergyKcal), whole(f.MostCardio), chart.Number(n.FromKg(f.LeanLostKg), 1),
			chart.Number(f.RatePct, 2), chart.Number(f.SlackWeeks, 1), what,
		})
	}
	p.table([]column{
		{head: "Start"},
		{head: "Weeks\nout"},
		{head: "Lowest\nkcal"},
		{head: "Most\ncardio"},
		{head: "Lean\nlost " + n.WeightUnit()},
		{head: "Rate %\na week"},
		{head: "Slack\nweeks"},
		{head: "", left: true},
	}, rows)
}
