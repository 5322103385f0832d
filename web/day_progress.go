package web

import (
	"fmt"
	"html/template"
	"math"
	"net/http"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
)

// progressPage is what an athlete is told of themselves: where the weight is and
// how the week went beside what was asked. No plan, no edge, no verdict.
type progressPage struct {
	Lead     string
	Picture  template.HTML
	Logged   string
	Strength string // what is kept of it; "" where nothing can be told
	Week     []weekLine
	Said     []string
	Care     string // a caution on eating too little
	Call     calls
	From     string
}

// weekLine is one thing asked and what was logged of it, as means.
type weekLine struct{ What, Asked, Logged, Days string }

// weeksShown is how far back the picture goes.
const weeksShown = 8

func showProgress(r *request) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	on := r.desk.Today()
	p, err := r.desk.app.Progress(r.ctx(), a.ID, on)
	if err != nil {
		return err
	}
	body := progressPage{Call: callsFor(a.Sex), From: notation(a).Date(on.AddDays(-6))}
	body.Lead, body.Picture = trendOf(a, p, on)
	body.Strength = strengthWords(a, p)
	body.week(p, on)
	return r.page(http.StatusOK, "progress", page{Title: "Your progress", Tab: "progress", Body: body})
}

// trendOf says and draws the trend of weight with its band.
func trendOf(a *athlete.Athlete, p *app.Progress, on civil.Date) (string, template.HTML) {
	n := notation(a)
	if p.Reading.Evidence.WeightsTotal == 0 {
		return "Once a few weights are logged, their trend is drawn here.", ""
	}
	from := on.AddDays(-7 * weeksShown)
	c := chart.Corridor{AsOf: on}
	for _, e := range p.Reading.Daily {
		if e.Date < from {
			continue
		}
		c.Trend = append(c.Trend, chart.Estimate{Date: e.Date, Value: e.TrendKg.Value, Low: e.TrendKg.Low90, High: e.TrendKg.High90})
		if e.WeightKg != nil {
			c.Scale = append(c.Scale, chart.Point{Date: e.Date, Value: *e.WeightKg})
		}
	}
	last := c.Trend[len(c.Trend)-1]
	k := n.FromKg(1)
	lead := fmt.Sprintf("Your weight runs at %s%s%s.", chart.Interval(last.Value*k, last.Low*k, last.High*k, 1), nbsp, n.WeightUnit())
	const fortnight = 14
	if m := len(c.Trend) - 1 - fortnight; m >= 0 {
		moved := (last.Value - c.Trend[m].Value) * k
		switch {
		case math.Abs(moved) < 0.1: //nolint:mnd // what the figure above shows
			lead += " It is where it was two weeks ago."
		case moved < 0:
			lead += fmt.Sprintf(" Two weeks ago it was %s%s%s higher.", chart.Number(-moved, 1), nbsp, n.WeightUnit())
		default:
			lead += fmt.Sprintf(" Two weeks ago it was %s%s%s lower.", chart.Number(moved, 1), nbsp, n.WeightUnit())
		}
	}
	svg := c.SVG(chart.Options{ID: "trend", Narrow: true, Notation: n})
	return lead, template.HTML(svg) //nolint:gosec // chart escapes all its text
}

// strengthWords say how much strength is kept, with its interval and without blame.
// That strength falls in a long preparation, and comes back slowly, is Rossow et al.
// 2013 (Int J Sports Physiol Perform 8:582).
func strengthWords(a *athlete.Athlete, p *app.Progress) string {
	o := p.Strength.Overall
	if o == nil {
		return ""
	}
	n := notation(a)
	text := fmt.Sprintf("You lift %s%s%% of what you lifted from %s to %s, over the lifts that can be compared.",
		chart.Interval(o.Pct.Value, o.Pct.Low90, o.Pct.High90, 0), nbsp, n.ShortDate(p.Strength.BaselineFrom), n.ShortDate(p.Strength.BaselineTo))
	const all = 100
	switch {
	case o.Pct.High90 < all:
		return text + " Some of it gives way in most long preparations, and is no failing. Your coach sees it and plans with it."
	case o.Pct.Low90 > all:
		return text + " It has grown."
	}
	return text + " That may well be all of it: the figure is not finer than this."
}

// week compares the last seven days with what stands asked, as means of the days
// that are logged.
func (b *progressPage) week(p *app.Progress, on civil.Date) {
	const week = 7
	var days []athlete.Day
	for _, d := range p.Days {
		if d.Date > on.AddDays(-week) && d.Date <= on && !d.Empty() {
			days = append(days, d)
		}
	}
	switch len(days) {
	case 0:
		b.Logged = "Nothing is logged for these seven days. Begin again today; a gap does no harm."
		return
	case week:
		b.Logged = "Every one of these seven days is logged."
	default:
		b.Logged = fmt.Sprintf("%d of these seven days are logged.", len(days))
	}
	energy := mean(days, func(d *athlete.Day) *float64 { return d.EnergyKcal })
	protein := mean(days, func(d *athlete.Day) *float64 { return d.ProteinG })
	steps := mean(days, func(d *athlete.Day) *float64 { return d.Steps })
	cardio := 0.0
	for i := range days {
		cardio += days[i].CardioMinutes()
	}
	askedEnergy, askedProtein, askedSteps, askedCardio := math.NaN(), math.NaN(), math.NaN(), math.NaN()
	if c := p.Current; c != nil {
		askedEnergy, askedSteps, askedCardio = c.MeanEnergyKcal(), c.Steps, c.CardioMinutes()
		askedProtein = 0
		for _, d := range c.Days {
			askedProtein += d.ProteinG * float64(d.PerWeek) / week
		}
	}
	line := func(what, unit string, asked float64, m meanOf) {
		if m.n > 0 || !math.IsNaN(asked) && asked > 0 {
			b.Week = append(b.Week, weekLine{what, inWords(asked, unit), inWords(m.value(), unit), fmt.Sprintf("%d%sof%s7", m.n, nbsp, nbsp)})
		}
	}
	line("Energy", "kcal", askedEnergy, energy)
	line("Protein", "g", askedProtein, protein)
	line("Steps", "", askedSteps, steps)
	if cardio > 0 || askedCardio > 0 {
		b.Week = append(b.Week, weekLine{"Cardio", inWords(askedCardio, "min"), inWords(cardio, "min"), "a" + nbsp + "week"})
	}
	b.say(energy, askedEnergy)
}

// say puts food in words. A week short of food is a caution, never a feat; a week
// over it is a fact, never a fault. Below nine tenths of what was asked is a
// judgement.
func (b *progressPage) say(energy meanOf, asked float64) {
	const enough, much = 4, 1.08
	if energy.n < enough || math.IsNaN(asked) || asked <= 0 {
		return
	}
	apart := math.Abs(energy.value() - asked)
	switch ratio := energy.value() / asked; {
	case ratio < 0.9: //nolint:mnd // said above
		b.Care = fmt.Sprintf("About %s%skcal a day of what was asked were not eaten. Please eat all of it: eating less costs muscle, sleep and health, "+
			"and does not bring the day closer. If you can’t, or it frightens you, tell your coach.", chart.Number(math.Round(apart/10)*10, 0), nbsp)
	case ratio > much:
		b.Said = append(b.Said, fmt.Sprintf("On the days you logged you ate about %s%skcal more than was asked. That happens; tell your coach what made the week hard, "+
			"and the plan is fitted to it. Nothing needs to be made up for.", chart.Number(math.Round(apart/10)*10, 0), nbsp))
	default:
		b.Said = append(b.Said, "You ate much as was asked.")
	}
}

// meanOf is a mean of the days that have a value.
type meanOf struct {
	sum float64
	n   int
}

func (m meanOf) value() float64 {
	if m.n == 0 {
		return math.NaN()
	}
	return m.sum / float64(m.n)
}

func mean(days []athlete.Day, at func(*athlete.Day) *float64) (m meanOf) {
	for i := range days {
		if v := at(&days[i]); v != nil {
			m.sum += *v
			m.n++
		}
	}
	return m
}

func inWords(v float64, unit string) string {
	if math.IsNaN(v) {
		return "–"
	}
	text := chart.Number(v, 0)
	if unit != "" {
		text += nbsp + unit
	}
	return text
}
