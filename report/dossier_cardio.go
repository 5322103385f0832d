package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/chart"
	"glidepath/phrase"
)

// usualTrade is the energy that is compared where the reader names none, kcal.
const usualTrade = 300

func (b *builder) cardio(kcal float64) Cardio {
	out := Cardio{Kcal: cmp.Or(kcal, usualTrade)}
	t, err := b.Trade(out.Kcal)
	if err != nil {
		out.Sentence = sentence("What cardio costs cannot be told: " + err.Error())
		return out
	}
	open := t.Open()
	out.Trade = chart.Trade{Kcal: t.Kcal}
	for i := range open {
		out.Trade.Ways = append(out.Trade.Ways, b.tradeWay(&open[i]))
	}
	for i := range t.Ways {
		if w := &t.Ways[i]; w.Available || w.Pace.Name == "usual" { // one pace is enough of what there is not
			out.Ways = append(out.Ways, b.way(w, t.Kcal))
		}
	}
	slices.SortStableFunc(out.Ways, func(x, y Way) int {
		if x.Open != y.Open {
			return map[bool]int{true: -1, false: 1}[x.Open]
		}
		return cmp.Compare(x.Points, y.Points)
	})
	out.Mix, out.Yield = b.mixWords(&t.Mix), sentence(t.Yield.Sentence)
	b.reserve(&out)
	b.asked(&out)
	out.Sentence = b.cardioSentence(&t, open)
	return out
}

func (b *builder) tradeWay(w *cardio.Equivalent) chart.TradeWay {
	out := chart.TradeWay{
		Name: w.Name(b.n.Units), Minutes: w.Minutes, Steps: w.Steps,
		Base: w.Fatigue.Base, Impact: w.Fatigue.Impact, Intensity: w.Fatigue.Intensity, Overlap: w.Fatigue.Overlap,
	}
	if w.Kind == "" {
		out.Minutes = math.NaN() // steps have none of their own
	}
	return out
}

func (b *builder) way(w *cardio.Equivalent, kcal float64) Way {
	const z90 = 1.6448536269514722
	out := Way{
		Name: phrase.Capital(w.Name(b.n.Units)), Amount: chart.Number(w.Minutes, 0) + nbsp + "min", Points: w.Points,
		LowKcal: math.Max(0, kcal-z90*w.SEKcal), HiKcal: kcal + z90*w.SEKcal, Impact: w.Fatigue.Impact, Overlap: w.Fatigue.Overlap,
		MET: w.MET, Hardness: w.Fatigue.Intensity, Open: w.Available && w.WithinCap && w.Barred == "",
	}
	if w.Kind == "" {
		out.Amount = chart.Number(w.Steps, 0) + nbsp + "steps"
	}
	switch {
	case !w.Available:
		out.Remark = "Not in the profile."
	case w.Barred != "":
		out.Remark = sentence(w.Barred)
	case !w.WithinCap:
		out.Remark = "Too hard at this leanness."
	case w.Kind == "" && w.Steps > b.stepsLeft():
		out.Remark = fmt.Sprintf("More than the %s a day that are left of what %s can keep.", chart.Number(b.stepsLeft(), 0), b.name)
	case w.BestDay != nil:
		out.Remark = fmt.Sprintf("Best on %s, away from the lifting.", time.Weekday(*w.BestDay))
	}
	return out
}

// stepsLeft is how many more steps a day there are, up to what the athlete can keep.
func (b *builder) stepsLeft() float64 { return math.Max(0, b.Levers.StepsMax-b.Levers.StepsNow) }

func (b *builder) mixWords(m *cardio.MixPlan) string {
	what := chart.Number(m.StepsPerDay, 0) + " steps a day"
	for i := range m.Cardio {
		join := " and "
		if i < len(m.Cardio)-1 {
			join = ", "
		}
		what += join + b.plannedWords(&m.Cardio[i])
	}
	out := fmt.Sprintf("The least tiring way to spend so much beyond what stands, if all could change at once, would be %s, at %s points a day. A review moves one lever at a time.", what, chart.Number(m.FatiguePoints, 0))
	if m.ShortKcal > 0 {
		out += fmt.Sprintf(" It falls %s a day short. %s", kcal(m.ShortKcal), sentence(m.Why))
	}
	return out
}

// plannedWords is a kind of cardio with its weekly dose.
func (b *builder) plannedWords(p *athlete.CardioPlan) string {
	out := fmt.Sprintf("%s minutes a week of %s", chart.Number(p.MinutesPerWeek, 0), p.Kind)
	if p.Sessions > 1 {
		out += fmt.Sprintf(" in %d sessions", p.Sessions)
	}
	return out + p.Told(b.n.Units)
}

func (b *builder) cardioSentence(t *app.Trade, open []cardio.Equivalent) string {
	var parts []string
	fits := slices.IndexFunc(open, func(w cardio.Equivalent) bool { return w.Kind != "" || w.Steps <= b.stepsLeft() })
	if fits < 0 {
		parts = append(parts, "no way of spending more is open to "+b.name+" as things stand")
	} else {
		w := b.way(&open[fits], t.Kcal)
		parts = append(parts, fmt.Sprintf("%s cost %s least as %s: %s, %s points of fatigue", kcal(t.Kcal), b.name, uncapital(w.Name), w.Amount, chart.Number(w.Points, 0)))
	}
	parts = append(parts, fmt.Sprintf("about %s of it should add to the day", with(of(t.AddsKcal), 0, "kcal")))
	if all := b.Reserve(); len(all) > 0 {
		parts = append(parts, fmt.Sprintf("this week the plan has %s of %s a day of steps and cardio in reserve", chart.Number(all[0].LeftKcal, 0), kcal(all[0].ThereKcal)))
	}
	return sentence(strings.Join(parts, "; "))
}

// reserve is what the weeks of the plan leave in hand.
func (b *builder) reserve(out *Cardio) {
	all := b.Reserve()
	if len(all) == 0 {
		return
	}
	out.Reserve = chart.Splits{Title: "Steps and cardio beyond the habit, kcal a day", Kinds: []string{"the plan uses", "in reserve"}}
	least := &all[0]
	for i := range all {
		r := &all[i]
		out.Reserve.Weeks = append(out.Reserve.Weeks, chart.SplitWeek{From: r.From, Sets: []float64{r.UsedKcal, r.LeftKcal}})
		out.ReserveWeeks = append(out.ReserveWeeks, ReserveWeek{
			From: r.From, Phase: r.Phase, UsedKcal: r.UsedKcal, ThereKcal: r.ThereKcal, StepsLeft: r.StepsLeft, MinutesLeft: r.CardioMinutesLeft,
			AddsKcal: r.LeftAddsKcal, FoodToLeft: r.FoodKcalLeft,
		})
		if r.LeftKcal < least.LeftKcal {
			least = r
		}
	}
	now := &all[0]
	out.ReserveSentence = fmt.Sprintf("This week the plan uses %s of the %s a day of steps and cardio that there are beyond the habit", chart.Number(now.UsedKcal, 0), kcal(now.ThereKcal))
	switch {
	case least.LeftKcal < 1:
		out.ReserveSentence += fmt.Sprintf("; in the week from %s nothing is left, and only food could give more.", b.n.ShortDate(least.From))
	case least == now:
		out.ReserveSentence += "; no later week leaves less."
	default:
		out.ReserveSentence += fmt.Sprintf("; the least is left in the week from %s, %s a day.", b.n.ShortDate(least.From), kcal(least.LeftKcal))
	}
}

// asked is the cardio of the prescription in force by day of the week.
func (b *builder) asked(out *Cardio) {
	if b.Current == nil || len(b.Current.Cardio) == 0 {
		return
	}
	for d := range 7 {
		out.Asked = append(out.Asked, CardioDay{Day: ((time.Monday + time.Weekday(d)) % 7).String()})
	}
	for i := range b.Current.Cardio {
		p := &b.Current.Cardio[i]
		if len(p.Days) == 0 {
			out.Free = append(out.Free, phrase.Capital(b.plannedWords(p))+".")
			continue
		}
		each := fmt.Sprintf("%s, %s%smin", p.Kind, chart.Number(p.MinutesPerWeek/float64(max(1, p.Sessions)), 0), nbsp)
		if pace := b.n.Units.Pace(p.SpeedKmh, p.GradePct, p.Watts); pace != "" {
			each += " at " + pace
		}
		for _, d := range p.Days {
			at := &out.Asked[(int(d)+6)%7]
			at.Asked = append(at.Asked, phrase.Capital(each))
		}
	}
	if len(out.Free) == len(b.Current.Cardio) {
		out.Asked = nil
	}
}
