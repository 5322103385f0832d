package report

import (
	"fmt"
	"math"
	"slices"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/phrase"
	"glidepath/reading"
)

// Spark is the corridor at the size of a line of text, for a roster; "" where
// there is nothing to draw. It needs chart.Style in its page.
func Spark(d *app.Dossier) string {
	b := builder{Dossier: d, n: chart.Notation{Units: d.Athlete.Units}}
	ch := b.corridorChart()
	// A line of text is some 90 steps wide: more days would only weigh.
	step := 1 + (len(ch.Trend)+len(ch.Forecast))/sparkSteps
	ch.Trend, ch.Forecast, ch.Edges = everyOther(ch.Trend, step), everyOther(ch.Forecast, step), everyOther(ch.Edges, step)
	return ch.Spark(chart.Options{ID: "spark-" + d.Athlete.ID + "-", Notation: b.n})
}

const sparkSteps = 90

// everyOther keeps the first, and one in so many counted from the last.
func everyOther[T any](all []T, step int) []T {
	var out []T
	for i, v := range all {
		if i == 0 || (len(all)-1-i)%step == 0 {
			out = append(out, v)
		}
	}
	return out
}

func (b *builder) corridor() Corridor {
	c := Corridor{
		Section: Section{Sentence: b.corridorSentence()},
		Chart:   b.corridorChart(),
		Now:     of(b.now.TrendKg),
	}
	if r := b.now.RatePct; isFinite(r.Value) && !b.silent() {
		c.RatePctPerWeek = &Estimate{-r.Value, -r.High90, -r.Low90}
	}
	if b.planned() {
		c.SlackWeeks = ofSpan(b.Season.Corridor.SlackWeeks)
	}
	if b.Forecast != nil && b.Show != nil {
		c.AtShow = b.fanEnd()
	}
	permitted := b.limits.RatePctPerWeek(b.now.BodyFatPct.Value)
	if r := b.now.RatePct; b.dieting() && r.Low90 > permitted {
		c.Cautions = append(c.Cautions, Caution{
			Text: fmt.Sprintf("Weight falls faster than the %s a week that is permitted at this leanness: beyond it, what goes is more and more lean mass.", percentage(permitted, 2)),
			Call: "Give food back first; dizziness, fainting or palpitations are for a doctor, the same day.",
		})
	}
	return c
}

func (b *builder) corridorSentence() string {
	trend := b.weight(of(b.now.TrendKg))
	switch {
	case b.silent():
		return fmt.Sprintf("Nothing is logged: %s rests on the profile’s weight alone.", trend)
	case b.Season == nil:
		return fmt.Sprintf("Trend weight is %s, %s; no corridor is drawn while no deficit may be planned.", trend, rateWords(b.now.RatePct))
	case !b.planned():
		end := b.Season.Map.Path[len(b.Season.Map.Path)-1]
		s := fmt.Sprintf("Trend weight is %s, %s; there is no show to come, so no corridor, and the plan leads to %s", trend, rateWords(b.now.RatePct), b.n.Weight(end.WeightKg))
		if f := b.Forecast; f != nil {
			s = fmt.Sprintf("Trend weight is %s, %s; there is no show to come, so no corridor, and the plan should lead to %s", trend, rateWords(b.now.RatePct),
				b.weight(b.fanEnd()))
			return s + " by " + b.n.Date(f.Fan[len(f.Fan)-1].Date) + "."
		}
		return s + " by " + b.n.Date(end.Date) + "."
	}
	return phrase.Capital(b.placeWords() + b.forecastWords() + ".")
}

// placeWords says where the athlete stands between the edges.
func (b *builder) placeWords() string {
	today := b.edges()[0]
	switch gap := today.UpperKg - today.LowerKg; {
	case !isFinite(gap):
		return fmt.Sprintf("%s is inside the corridor, far under the upper edge, with %s", b.name, slackWords(b.Season.Corridor.SlackWeeks))
	case gap >= 0:
		return fmt.Sprintf("%s is inside the corridor, %s under the upper edge, with %s", b.name, b.kg(gap), slackWords(b.Season.Corridor.SlackWeeks))
	case b.Season.Corridor.SlackWeeks.High >= 0:
		return fmt.Sprintf("%s stands about %s above the upper edge, %s", b.name, b.kg(gap), slackWords(b.Season.Corridor.SlackWeeks))
	default:
		return fmt.Sprintf("%s stands %s above the upper edge, %s: no plan within the limits arrives on time from there", b.name, b.kg(gap), slackWords(b.Season.Corridor.SlackWeeks))
	}
}

func (b *builder) forecastWords() string {
	t, ok := b.stage()
	if b.Forecast == nil || !ok {
		return ""
	}
	w := b.fanEnd()
	verb := "which meets"
	switch {
	case w.Low > t.HighKg:
		verb = "above"
	case w.High < t.LowKg:
		verb = "under"
	case w.Value > t.HighKg:
		verb = "mostly above"
	case w.Value < t.LowKg:
		verb = "mostly under"
	}
	return fmt.Sprintf("; the forecast for the day is %s, %s the target of %s",
		b.weight(w), verb, b.weight(&Estimate{t.WeightKg, t.LowKg, t.HighKg}))
}

// fanEnd is the forecast weight on the last morning, as the fan draws it: without
// the noise of that day on the scale.
func (b *builder) fanEnd() *Estimate {
	q := &b.Forecast.Fan[len(b.Forecast.Fan)-1].Weight
	return &Estimate{q.P50, q.P05, q.P95}
}

func (b *builder) corridorChart() chart.Corridor {
	ch := chart.Corridor{AsOf: b.AsOf, Phases: b.phases(), Marks: b.marks()}
	asked := map[civil.Date]bool{} // weights that the reading left out
	for _, q := range b.Reading.Queries {
		asked[q.Date] = true
	}
	for i := range b.Reading.Daily {
		e := &b.Reading.Daily[i]
		if b.silent() {
			break
		}
		ch.Trend = append(ch.Trend, chart.Estimate{Date: e.Date, Value: e.TrendKg.Value, Low: e.TrendKg.Low90, High: e.TrendKg.High90})
		ch.Expenditure = append(ch.Expenditure, chart.Estimate{Date: e.Date, Value: e.ExpenditureKc.Value, Low: e.ExpenditureKc.Low90, High: e.ExpenditureKc.High90})
		if e.WeightKg != nil && !asked[e.Date] {
			ch.Scale = append(ch.Scale, chart.Point{Date: e.Date, Value: *e.WeightKg})
		}
	}
	for i := range b.Days {
		if b.Days[i].Notes != "" {
			ch.Notes.Athlete = append(ch.Notes.Athlete, b.Days[i].Date)
		}
	}
	ch.Reported = b.reportedSteps()
	b.ahead(&ch)
	return ch
}

// ahead adds what is to come: plan, edges, fan and target.
func (b *builder) ahead(ch *chart.Corridor) {
	if b.Season == nil {
		return
	}
	until := civil.Date(math.MaxInt32)
	if b.Show != nil {
		until = b.Show.Date
		ch.Show = chart.Mark{Date: b.Show.Date, Label: b.Show.Name}
		if kg, ok := b.Show.ClassLimit.LimitKg(b.Athlete.HeightCm); ok {
			ch.ClassLimitKg = &kg
		}
	} else if f := b.Forecast; f != nil {
		until = f.Fan[len(f.Fan)-1].Date
	}
	for i := range b.Season.Map.Path {
		if p := &b.Season.Map.Path[i]; p.Date <= until {
			ch.Plan = append(ch.Plan, chart.Point{Date: p.Date, Value: p.WeightKg + b.water(i)})
		}
	}
	ch.Edges = b.edges()
	if b.Forecast != nil {
		for i := range b.Forecast.Fan {
			q := &b.Forecast.Fan[i].Weight
			ch.Forecast = append(ch.Forecast, chart.FanPoint{
				Date: b.Forecast.Fan[i].Date, Median: q.P50,
				Low: [3]float64{q.P25, q.P10, q.P05}, High: [3]float64{q.P75, q.P90, q.P95},
			})
		}
	}
	if t, ok := b.stage(); ok {
		ch.Target = &t
	}
}

// water is what glycogen and fluid should weigh above the usual on a day of the
// plan, as this athlete's scale has shown it so far; trend and forecast have it in
// them, so the plan and the edges are drawn with it.
func (b *builder) water(day int) float64 {
	path := b.Season.Map.Path
	return b.Reading.Now.Mean[reading.Gain] * path[min(day, len(path)-1)].WaterKg
}

// edges are those of the season. The edges are conditions, body fat for the lean
// mass that a descent at the limits leaves; drawn over a plan that keeps more
// lean mass, the same body fat weighs more. So where the plan lands they are
// drawn with the plan's lean mass, and the plan is inside when its body fat is.
func (b *builder) edges() []chart.Edge {
	if !b.planned() {
		return nil
	}
	m := &b.Season.Map
	out := make([]chart.Edge, len(b.Season.Corridor.Days))
	for i, c := range b.Season.Corridor.Days {
		out[i] = chart.Edge{Date: c.Date, LowerKg: c.LowerKg, UpperKg: float64(c.UpperKg)}
		if m.Lands && i < len(m.Path) {
			lean := m.Path[i].FatFreeKg
			out[i].LowerKg, out[i].UpperKg = lean/(1-c.LowerPct/100), lean/(1-float64(c.UpperPct)/100)
		}
		out[i].LowerKg += b.water(i)
		out[i].UpperKg += b.water(i)
	}
	return out
}

// reportedSteps is reported energy as the mean of each week that has at least
// three days of it; the last week ends with the day of the reading.
func (b *builder) reportedSteps() []chart.Point {
	var out []chart.Point
	for _, w := range b.energyWeeks() {
		p := chart.Point{Date: w.From, Value: math.NaN()}
		if w.ReportedKcal != nil && w.DaysLogged >= 3 {
			p.Value = *w.ReportedKcal
		}
		out = append(out, p)
	}
	if len(out) > 0 {
		out = append(out, chart.Point{Date: min(out[len(out)-1].Date.AddDays(7), b.AsOf.AddDays(1)), Value: math.NaN()})
	}
	return out
}

// phases are those that were prescribed, and those of the map to the show.
func (b *builder) phases() []athlete.Phase {
	var out []athlete.Phase
	add := func(p athlete.Phase) {
		if p.To < p.From {
			return
		}
		if n := len(out); n > 0 && out[n-1].Kind == p.Kind && out[n-1].To.AddDays(1) >= p.From {
			out[n-1].To = p.To
			return
		}
		out = append(out, p)
	}
	for i := range b.Prescriptions {
		p := &b.Prescriptions[i]
		to := b.AsOf.AddDays(-1)
		if i+1 < len(b.Prescriptions) {
			to = min(to, b.Prescriptions[i+1].From.AddDays(-1))
		}
		if p.Phase != "" {
			add(athlete.Phase{Kind: p.Phase, From: p.From, To: to})
		}
	}
	if b.Season == nil {
		return out
	}
	for _, p := range b.Season.Map.Phases {
		if b.Show != nil {
			p.To = min(p.To, b.Show.Date)
		}
		add(p)
	}
	return out
}

// marks are the changes of prescription.
func (b *builder) marks() []chart.Mark {
	var out []chart.Mark
	for i := range b.Prescriptions {
		p := &b.Prescriptions[i]
		label := fmt.Sprintf("%s a day, %s steps", kcal(p.MeanEnergyKcal()), chart.Number(p.Steps, 0))
		if m := p.CardioMinutes(); m > 0 {
			label += fmt.Sprintf(", %s%smin of cardio a week", chart.Number(m, 0), nbsp)
		}
		if len(p.Reasons) > 0 && p.Reasons[0] != "" {
			label += ": " + p.Reasons[0]
		}
		if n := len(out); n > 0 && out[n-1].Date == p.From { // replaced on the same day
			out = slices.Delete(out, n-1, n)
		}
		out = append(out, chart.Mark{Date: p.From, Label: label})
	}
	return out
}
