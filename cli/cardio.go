package cli

import (
	"context"
	"fmt"
	"math"
	"time"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/chart"
	"glidepath/civil"
)

type cardioOptions struct {
	kcal  float64
	draw  string
	force bool
}

func newCardio(s *session) *cobra.Command {
	var o cardioOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "cardio ATHLETE",
		Short: "Say what the same energy costs as steps and as each kind of cardio",
		Long: `List the same energy over rest as everyday steps and as each kind of cardio, for
this athlete's weight, leanness, joints and lifting: minutes, and what it costs in
fatigue, where one point is a kcal of everyday steps. The points are judgement. It
says how much of the energy should really add to the day, and what steps and cardio
the plan still has in hand week by week. With --draw the trade is drawn.`,
		Example: `  glidepath cardio priya --kcal 150 --as-of 2026-03-02
  glidepath cardio marcus --kcal 300 --draw marcus.svg --as-of 2026-03-02
  glidepath cardio dmitri --kcal 100 --as-of 2026-03-02 --json`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runCardio(cmd.Context(), args[0], o) },
	})
	c.Flags().Float64Var(&o.kcal, "kcal", 150, "energy over rest, `kcal` a day")
	c.Flags().StringVar(&o.draw, "draw", "", "`file` to draw the trade in, as SVG")
	c.Flags().BoolVar(&o.force, "force", false, "overwrite the file")
	return c
}

type cardioResult struct {
	Athlete who        `json:"athlete"`
	AsOf    civil.Date `json:"as_of"`
	app.Trade
	Reserve []app.WeekReserve `json:"reserve,omitempty"`
}

func (s *session) runCardio(ctx context.Context, name string, o cardioOptions) error {
	d, err := s.dossier(ctx, name, func(opt *app.Options) { opt.Futures, opt.NoReview = -1, true })
	if err != nil {
		return err
	}
	trade, err := d.Trade(o.kcal)
	if err != nil {
		return err
	}
	if o.draw != "" {
		svg := drawTrade(&trade, s.notation(d.Athlete.Units))
		if err := writeFile(o.draw, []byte(svg), o.force); err != nil {
			return err
		}
	}
	if s.json {
		return s.emit(cardioResult{whoOf(&d.Athlete), d.AsOf, trade, d.Reserve()})
	}
	p := s.page()
	s.showTrade(p, d, &trade)
	showReserve(p, d)
	return p.flush()
}

// drawTrade draws the ways that are open to the athlete, or all where there is
// nothing to choose.
func drawTrade(t *app.Trade, n chart.Notation) string {
	ch := chart.Trade{Kcal: t.Kcal}
	ways := t.Open()
	if len(ways) < 2 {
		ways = t.Ways
	}
	for _, w := range ways {
		ch.Ways = append(ch.Ways, chart.TradeWay{
			Name: w.Name(n.Units), Minutes: minutesOf(&w), Steps: w.Steps,
			Base: w.Fatigue.Base, Impact: w.Fatigue.Impact, Intensity: w.Fatigue.Intensity, Overlap: w.Fatigue.Overlap,
		})
	}
	return ch.SVG(chart.Options{Standalone: true, Notation: n})
}

// minutesOf is not known for steps, which have none of their own.
func minutesOf(w *cardio.Equivalent) float64 {
	if w.Kind == "" {
		return math.NaN()
	}
	return w.Minutes
}

func (s *session) showTrade(p *page, d *app.Dossier, t *app.Trade) {
	n := s.notation(d.Athlete.Units)
	p.line("%s kcal a day over rest, for %s at %s: it should add %s a day.", whole(t.Kcal), d.Athlete.Name,
		n.Weight(d.Cardio.Body.WeightKg), est(t.AddsKcal, 0, "kcal"))
	p.line("%s", t.Yield.Sentence)
	p.gap()
	const z90 = 1.645
	var rows [][]string
	for i := range t.Ways {
		w := &t.Ways[i]
		if !w.Available && w.Pace.Name != "usual" {
			continue // one pace is enough of what there is not
		}
		amount := whole(w.Minutes) + " min"
		if w.Kind == "" {
			amount = whole(w.Steps) + " steps"
		}
		f := &w.Fatigue
		rows = append(rows, []string{
			w.Name(n.Units), amount, whole(w.Points), whole(f.Impact), whole(f.Intensity), whole(f.Overlap),
			whole(math.Max(0, t.Kcal-z90*w.SEKcal)) + nbsp + "to" + nbsp + whole(t.Kcal+z90*w.SEKcal), fits(w),
		})
	}
	p.table([]column{
		{head: "", left: true},
		{head: "A day"},
		{head: "Fatigue\npoints"},
		{head: "for\nlanding", wide: true},
		{head: "how\nhard", wide: true},
		{head: "lifting\nnear", wide: true},
		{head: "kcal, 90 %\nbetween", wide: true},
		{head: "", flex: true},
	}, rows)
	p.para("%s", mixText(&t.Mix, n.Units))
	p.list(t.Mix.LeftOut)
	p.para("The energy is a machine's or an equation's, and one person's may be a third above or below it; read what the trend says before you count on it.")
}

// mixText says the least tiring mix.
func mixText(m *cardio.MixPlan, u athlete.Units) string {
	what := whole(m.StepsPerDay) + " steps a day"
	if len(m.Cardio) > 0 {
		what += " and " + cardioText(m.Cardio, u)
	}
	out := fmt.Sprintf("Least tiring for so much beyond what stands, if all could change at once: %s, at %s points a day. A review moves one lever at a time.",
		what, whole(m.FatiguePoints))
	if m.ShortKcal > 0 {
		out += fmt.Sprintf(" It falls %s kcal a day short. %s", whole(m.ShortKcal), m.Why)
	}
	return out
}

// fits says what stands against a way, or its intensity and the day that suits it.
func fits(w *cardio.Equivalent) string {
	switch {
	case !w.Available && w.Kind != "":
		return "not in the profile"
	case w.Barred != "":
		return w.Barred
	case !w.WithinCap:
		return "too hard at this leanness"
	case w.MET == 0:
		return ""
	case w.BestDay != nil:
		return chart.Number(w.MET, 1) + " times rest; best on " + time.Weekday(*w.BestDay).String()
	}
	return chart.Number(w.MET, 1) + " times rest"
}

// showReserve lists what the plan has in hand: now, at each change of phase, and in
// the week that has least.
func showReserve(p *page, d *app.Dossier) {
	all := d.Reserve()
	if len(all) == 0 {
		return
	}
	least := 0
	for i := range all {
		if all[i].LeftKcal < all[least].LeftKcal {
			least = i
		}
	}
	p.heading("In hand")
	p.gap()
	var rows [][]string
	for i := range all {
		r := &all[i]
		if i > 0 && i != least && i != len(all)-1 && r.Phase == all[i-1].Phase {
			continue
		}
		rows = append(rows, []string{
			p.date(r.From), string(r.Phase), whole(r.UsedKcal) + nbsp + "of" + nbsp + whole(r.ThereKcal),
			whole(r.StepsLeft), whole(r.CardioMinutesLeft), whole(r.LeftAddsKcal), whole(r.FoodKcalLeft),
		})
	}
	p.table([]column{
		{head: "Week of", left: true},
		{head: "Phase", left: true},
		{head: "kcal a day\nused"},
		{head: "Steps a day\nleft"},
		{head: "Cardio min\na week left"},
		{head: "which would\nadd kcal", wide: true},
		{head: "Food kcal\nto the floor"},
	}, rows)
	p.para("%s %s", all[0].Sentence, all[least].Sentence)
}
