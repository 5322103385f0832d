package report

import (
	"fmt"
	"math"

	"glidepath/chart"
	"glidepath/civil"
)

// activityLeast is how many days of a week must be logged to say what it was.
const activityLeast = 4

func (b *builder) activity() Activity {
	var out Activity
	if b.silent() {
		return out
	}
	for from := b.firstMonday(); from.AddDays(7) <= b.AsOf; from = from.AddDays(7) {
		out.Chart.Weeks = append(out.Chart.Weeks, b.activityWeek(from))
	}
	for len(out.Chart.Weeks) > 0 && !moved(out.Chart.Weeks[0]) { // before the first log
		out.Chart.Weeks = out.Chart.Weeks[1:]
	}
	if len(out.Chart.Weeks) == 0 {
		return Activity{}
	}
	out.Sentence = activitySentence(out.Chart.Weeks)
	dropIdleCardio(out.Chart.Weeks)
	return out
}

// dropIdleCardio leaves cardio out where none was ever asked or done.
func dropIdleCardio(weeks []chart.ActivityWeek) {
	idle := func(v *float64) bool { return v == nil || *v == 0 }
	for _, w := range weeks {
		if !idle(w.CardioMinutes) || !idle(w.CardioAsked) {
			return
		}
	}
	for i := range weeks {
		weeks[i].CardioMinutes, weeks[i].CardioAsked = nil, nil
	}
}

func moved(w chart.ActivityWeek) bool { return w.StepsPerDay != nil || w.CardioMinutes != nil }

func (b *builder) activityWeek(from civil.Date) chart.ActivityWeek {
	w := chart.ActivityWeek{From: from}
	var steps, cardio float64
	n, logged := 0, 0
	for _, d := range b.weekOf(from) {
		if d.Steps != nil {
			steps += *d.Steps
			n++
		}
		if d.Steps != nil || len(d.Cardio) > 0 {
			logged++
			cardio += d.CardioMinutes()
		}
	}
	if n >= activityLeast {
		w.StepsPerDay = new(steps / float64(n))
	}
	if logged >= activityLeast {
		w.CardioMinutes = &cardio
	}
	// What was asked is the mean of the week's days, each by what stood on it.
	var stepsAsked, cardioAsked, asked float64
	for on := from; on < from.AddDays(7); on++ {
		if p := b.prescribedOn(on); p != nil {
			stepsAsked += p.Steps
			cardioAsked += p.CardioMinutes()
			asked++
		}
	}
	if asked > 0 {
		w.StepsAsked, w.CardioAsked = new(stepsAsked/asked), new(cardioAsked/asked)
	}
	return w
}

// activitySentence is about the last four whole weeks.
func activitySentence(all []chart.ActivityWeek) string {
	recent := all[max(0, len(all)-4):]
	mean := func(of func(chart.ActivityWeek) *float64) (sum float64, n int) {
		for _, w := range recent {
			if v := of(w); v != nil {
				sum += *v
				n++
			}
		}
		return sum / math.Max(1, float64(n)), n
	}
	steps, n := mean(func(w chart.ActivityWeek) *float64 { return w.StepsPerDay })
	stepsAsked, asked := mean(func(w chart.ActivityWeek) *float64 { return w.StepsAsked })
	cardio, cardioN := mean(func(w chart.ActivityWeek) *float64 { return w.CardioMinutes })
	cardioAsked, _ := mean(func(w chart.ActivityWeek) *float64 { return w.CardioAsked })
	if n == 0 {
		return fmt.Sprintf("Too few days of the last %s have steps logged to say how much is walked.", count(len(recent), "week", "weeks"))
	}
	span := "whole week"
	if len(recent) > 1 {
		span = count(len(recent), "", "whole weeks")
	}
	s := fmt.Sprintf("Over the last %s %s steps a day are logged", span, chart.Number(steps, 0))
	if asked > 0 && stepsAsked > 0 {
		s += fmt.Sprintf(" where %s were asked (%s)", chart.Number(stepsAsked, 0), percentage(100*steps/stepsAsked, 0))
	}
	switch {
	case cardioN == 0:
		return s + "."
	case cardioAsked > 0:
		return s + fmt.Sprintf(", and %s of %s minutes of cardio a week.", chart.Number(cardio, 0), chart.Number(cardioAsked, 0))
	case cardio > 0:
		return s + fmt.Sprintf(", and %s minutes of cardio a week, with none asked.", chart.Number(cardio, 0))
	}
	return s + ", and no cardio, with none asked."
}

func (b *builder) recovery() Recovery {
	markers := []chart.Marker{
		{Name: "Sleep", Unit: "hours"},
		{Name: "Fatigue", Unit: "1 to 10", Low: 1, High: 10},
		{Name: "Hunger", Unit: "1 to 10", Low: 1, High: 10},
		{Name: "Resting pulse", Unit: "beats a minute"},
		{Name: "Soreness", Unit: "1 to 10", Low: 1, High: 10},
		{Name: "Motivation", Unit: "1 to 10", Low: 1, High: 10},
		{Name: "Mood", Unit: "1 to 10", Low: 1, High: 10},
		{Name: "Pain", Unit: "0 to 10", Low: 0, High: 10},
	}
	for i := range b.Days {
		d := &b.Days[i]
		if d.Date > b.AsOf {
			break
		}
		for j, v := range []*float64{d.SleepH, d.Fatigue, d.Hunger, d.RestingPulse, d.Soreness, d.Motivation, d.Mood, d.Pain} {
			if v != nil {
				markers[j].Points = append(markers[j].Points, chart.Point{Date: d.Date, Value: *v})
			}
		}
	}
	out := Recovery{Chart: chart.Recovery{Markers: markers}}
	out.Sentence = b.recoverySentence(markers)
	b.state(&out)
	if c := b.cycleCaution(); c != nil {
		out.Cautions = append(out.Cautions, *c)
	}
	return out
}

func (b *builder) recoverySentence(markers []chart.Marker) string {
	m := b.Markers
	if m.SleepH == nil && m.Fatigue == nil && m.Hunger == nil {
		last := civil.Date(0)
		for _, k := range markers {
			if n := len(k.Points); n > 0 {
				last = max(last, k.Points[n-1].Date)
			}
		}
		if last.IsZero() {
			return "" // the page says what it waits for
		}
		return fmt.Sprintf("Sleep, fatigue and hunger are logged on too few of the last 14 days to say anything; the last was on %s.", b.n.Date(last))
	}
	var now, before []string
	say := func(v *float64, points []chart.Point, what, format string) {
		if v == nil {
			return
		}
		now = append(now, what+fmt.Sprintf(format, chart.Number(*v, 1)))
		if v, ok := meanBetween(points, b.AsOf.AddDays(-70), b.AsOf.AddDays(-56)); ok {
			before = append(before, fmt.Sprintf(format, chart.Number(v, 1)))
		}
	}
	say(m.SleepH, markers[0].Points, "sleep is ", "%s hours a night")
	say(m.Fatigue, markers[1].Points, "fatigue ", "%s of 10")
	say(m.Hunger, markers[2].Points, "hunger ", "%s of 10")
	s := "On the mean of two weeks, " + list(now)
	if len(before) == len(now) {
		s += "; eight weeks before it was " + list(before)
	}
	return s + "."
}

// meanBetween is the mean of the points after one date and up to another; ok is
// false for fewer than five.
func meanBetween(ps []chart.Point, after, to civil.Date) (mean float64, ok bool) {
	sum, n := 0.0, 0
	for _, p := range ps {
		if p.Date > after && p.Date <= to {
			sum += p.Value
			n++
		}
	}
	return sum / math.Max(1, float64(n)), n >= 5
}

// lateDays is from how many days since the last bleeding a word is due: two
// cycles of 28 days and some (judgement).
const lateDays = 60

// cycleCaution is about a cycle that was logged and has not come.
func (b *builder) cycleCaution() *Caution {
	if !b.Athlete.MenstrualCycle {
		return nil
	}
	var began civil.Date
	for i := range b.Days {
		if d := &b.Days[i]; d.CycleDay != nil && d.Date <= b.AsOf {
			began = max(began, d.Date.AddDays(1-*d.CycleDay))
		}
	}
	if began.IsZero() || b.AsOf.DaysSince(began) < lateDays {
		return nil
	}
	return &Caution{
		Text: fmt.Sprintf("The last period logged began on %s, %d days ago.", b.n.Date(began), b.AsOf.DaysSince(began)),
		Call: "Ask; two missed in a row are a reason to see a physician who knows athletes, and three to stop the deficit until then.",
	}
}
