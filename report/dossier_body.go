package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/phrase"
	"glidepath/reading"
	"glidepath/training"
)

// energyWeeks are the weeks of the log with reported energy and expenditure.
func (b *builder) energyWeeks() []ExpenditureWeek {
	if b.silent() {
		return nil
	}
	var out []ExpenditureWeek
	for from := b.firstMonday(); from <= b.AsOf; from = from.AddDays(7) {
		w := ExpenditureWeek{From: from}
		sum := 0.0
		for _, d := range b.weekOf(from) {
			if d.EnergyKcal != nil {
				sum += *d.EnergyKcal
				w.DaysLogged++
			}
		}
		if w.DaysLogged > 0 {
			w.ReportedKcal = new(sum / float64(w.DaysLogged))
		}
		var spent Estimate
		n := 0.0
		for i := range b.Reading.Daily {
			if e := &b.Reading.Daily[i]; e.Date >= from && e.Date < from.AddDays(7) && isFinite(e.ExpenditureKc.Value) {
				spent.Value += e.ExpenditureKc.Value
				spent.Low += e.ExpenditureKc.Low90
				spent.High += e.ExpenditureKc.High90
				n++
			}
		}
		if n > 0 {
			w.SpentKcal = &Estimate{spent.Value / n, spent.Low / n, spent.High / n}
		}
		out = append(out, w)
	}
	return out
}

func (b *builder) expenditure() Expenditure {
	out := Expenditure{Now: of(b.now.ExpenditureKc), Weeks: b.energyWeeks()}
	if b.silent() {
		out.Sentence = fmt.Sprintf("Nothing is logged: %s is what published equations expect of a body like %s.", with(out.Now, 0, "kcal a day"), possessive(b.name))
		return out
	}
	s := fmt.Sprintf("%s spends about %s as the log counts", b.name, with(out.Now, 0, "kcal a day"))
	first := &b.Reading.Daily[0]
	change := b.now.ExpenditureKc.Value - first.ExpenditureKc.Value
	since := fmt.Sprintf("the first week of the log, %s ago", weeks(b.AsOf.DaysSince(first.Date)))
	switch {
	case b.AsOf.DaysSince(first.Date) < 28:
		s += fmt.Sprintf(", known from %s of logs", weeks(b.AsOf.DaysSince(first.Date)+1))
	case math.Abs(change) < halfWidth(b.now.ExpenditureKc.Low90, b.now.ExpenditureKc.High90):
		s += ", the same as far as can be told as in " + since
	case change < 0:
		s += fmt.Sprintf(", some %s less than in %s", kcal(-change), since)
	default:
		s += fmt.Sprintf(", some %s more than in %s", kcal(change), since)
	}
	sum, n := 0.0, 0
	for i := range b.Days {
		if d := &b.Days[i]; d.Date > b.AsOf.AddDays(-14) && d.Date <= b.AsOf && d.EnergyKcal != nil {
			sum += *d.EnergyKcal
			n++
		}
	}
	if n > 0 {
		s += fmt.Sprintf("; %s a day is reported on the mean of the %s logged in the last two weeks", kcal(sum/float64(n)), count(n, "day", "days"))
	} else {
		s += "; no food is logged in the last two weeks"
	}
	out.Sentence = s + "."
	return out
}

func halfWidth(low, high float64) float64 { return (high - low) / 2 }

func (b *builder) composition() Composition {
	out := Composition{BodyFatPct: of(b.now.BodyFatPct), FatKg: of(b.now.FatKg), LeanKg: of(b.now.LeanKg)}
	if !b.silent() {
		for i := range b.Reading.Daily {
			e := &b.Reading.Daily[i]
			out.Chart.BodyFatPct = append(out.Chart.BodyFatPct, chart.Estimate{Date: e.Date, Value: e.BodyFatPct.Value, Low: e.BodyFatPct.Low90, High: e.BodyFatPct.High90})
			out.Chart.LeanKg = append(out.Chart.LeanKg, chart.Estimate{Date: e.Date, Value: e.LeanKg.Value, Low: e.LeanKg.Low90, High: e.LeanKg.High90})
		}
	}
	for _, c := range b.Compositions {
		half := 1.6448536269514722 * math.Hypot(c.ReadingSD, c.BiasSD)
		out.Chart.Measured = append(out.Chart.Measured, chart.Measured{
			Method:   methodOf(c),
			Estimate: chart.Estimate{Date: c.Date, Value: c.BodyFatPct, Low: math.Max(0, c.BodyFatPct-half), High: c.BodyFatPct + half},
		})
	}
	out.Sentence = b.compositionSentence()
	floor := athlete.BodyFatFloorPct(b.Athlete.Sex)
	if b.now.BodyFatPct.Value < floor+2 {
		out.Cautions = append(out.Cautions, Caution{
			Text: fmt.Sprintf("This is within 2 points of the floor of %s body fat: as lean as health allows for more than a few weeks.", percentage(floor, 0)),
			Call: "Dizziness, fainting, palpitations or three missed cycles: stop the deficit and see a doctor.",
		})
	}
	return out
}

func (b *builder) compositionSentence() string {
	s := fmt.Sprintf("Body fat is %s and lean mass %s", with(of(b.now.BodyFatPct), 1, "%"), b.weight(of(b.now.LeanKg)))
	first := &b.Reading.Daily[0]
	if days := b.AsOf.DaysSince(first.Date); days >= 28 && !b.silent() {
		s += fmt.Sprintf("; in the %s of the log %s and %s", weeks(days),
			b.turned("fat", b.now.FatKg.Value-first.FatKg.Value, 0.5), b.turned("lean mass", b.now.LeanKg.Value-first.LeanKg.Value, 0.7))
	}
	if n := len(b.Compositions); n == 0 {
		s += "; no measurement stands behind it, only what bodies of this height and weight have"
	} else {
		last := b.Compositions[n-1]
		s += fmt.Sprintf(", from %s, the last %s", count(n, "measurement", "measurements"), ago(b.AsOf.DaysSince(last.Date)))
	}
	return s + "."
}

func ago(days int) string {
	switch days {
	case 0:
		return "of today"
	case 1:
		return "of yesterday"
	case 7:
		return "a week ago"
	}
	return weeks(days) + " ago"
}

// turned says a change of mass; what is under least cannot be told from none.
func (b *builder) turned(what string, kg, least float64) string {
	switch {
	case math.Abs(kg) < least:
		return fmt.Sprintf("%s has changed by less than can be told", what)
	case kg < 0:
		return fmt.Sprintf("%s is down by about %s", what, b.kg(kg))
	}
	return fmt.Sprintf("%s is up by about %s", what, b.kg(kg))
}

// methodOf finds the method in the name of a series, which begins with it.
func methodOf(c reading.Composition) athlete.Method {
	for _, m := range athlete.Methods() {
		if strings.HasPrefix(c.Series, string(m)) {
			return m
		}
	}
	return athlete.Method(c.Series)
}

func (b *builder) strength() Strength {
	r := &b.Strength
	if len(r.Lifts) == 0 {
		return Strength{}
	}
	var out Strength
	for _, p := range r.OverallSeries() {
		out.Chart.Overall = append(out.Chart.Overall, chart.Estimate{Date: p.Date, Value: p.Pct.Value, Low: p.Pct.Low90, High: p.Pct.High90})
	}
	for i := range r.Lifts {
		l := &r.Lifts[i]
		row := Lift{Name: phrase.Capital(l.Exercise), NowKg: of(l.E1RMKg)}
		if n := len(l.Series); n > 0 {
			row.LastLogged = l.Series[n-1].Date
		}
		if l.BaselineKg != nil {
			row.BaselineKg = &Estimate{Value: *l.BaselineKg}
		}
		if len(l.BridgedFrom) > 0 {
			row.Note = "took over from " + strings.Join(l.BridgedFrom, ", then ")
		}
		if l.Retention != nil {
			row.RetainedPct = of(l.Retention.Pct)
			out.Chart.Lifts = append(out.Chart.Lifts, chart.Lift{Name: row.Name, Retained: retained(l)})
		}
		out.Lifts = append(out.Lifts, row)
	}
	out.Cannot = sentences(r.Cannot)
	out.Sentence = b.strengthSentence(r)
	b.findings(&out, r)
	if o := r.Overall; o != nil && o.LossOver5 > 0.8 {
		out.Cautions = append(out.Cautions, Caution{
			Text: fmt.Sprintf("Strength has really fallen by more than 5 %% (%s): look first at food, sleep and the rate of loss, not at more training.", Likelihood(o.LossOver5)),
			Call: "With pain, illness or low mood besides, a sports physician.",
		})
	}
	return out
}

// findings are strength by muscle and against body weight, whether a real loss is
// found, and what took over from what.
func (b *builder) findings(out *Strength, r *training.StrengthReport) {
	out.Muscles.Title = "Strength kept by muscle, % of baseline"
	for _, m := range r.Muscles {
		v := m.Retention.Pct
		out.Muscles.Rows = append(out.Muscles.Rows, chart.KeptRow{
			Name: string(m.Muscle), Pct: chart.Estimate{Value: v.Value, Low: v.Low90, High: v.High90},
		})
	}
	if r.Relative != nil {
		out.OverBodyPct, out.FairPct = of(r.Relative.Pct), of(r.Relative.ScaledPct)
	}
	if r.Loss != nil {
		out.Findings = append(out.Findings, r.Loss.Sentence)
	}
	if k := r.Beyond; k != nil && r.Relative.BodyKg < r.Relative.BaselineBodyKg-0.5 {
		out.Findings = append(out.Findings, fmt.Sprintf("Body weight is %s less than then; without what that explains, %s is kept.",
			b.kg(r.Relative.BaselineBodyKg-r.Relative.BodyKg), with(of(k.Pct), 0, "%")))
	}
	for _, bridge := range r.Bridges {
		out.Findings = append(out.Findings, phrase.Sentence(bridge.Sentence))
	}
}

// retained is a lift's level along its sessions, % of its baseline.
func retained(l *training.Lift) []chart.Estimate {
	out := make([]chart.Estimate, len(l.Series))
	for i, p := range l.Series {
		v := p.LevelKg.Scale(100 / *l.BaselineKg)
		out[i] = chart.Estimate{Date: p.Date, Value: v.Value, Low: v.Low90, High: v.High90}
	}
	return out
}

func (b *builder) strengthSentence(r *training.StrengthReport) string {
	if r.Overall == nil {
		s := fmt.Sprintf("%s logged, but how much strength is kept cannot be told yet", phrase.Capital(count(len(r.Lifts), "lift is", "lifts are")))
		for _, l := range r.Lifts {
			if isFinite(l.E1RMKg.Value) {
				return s + fmt.Sprintf("; the %s stands at an estimated maximum of %s.", l.Exercise, b.weight(of(l.E1RMKg)))
			}
		}
		return s + "."
	}
	s := fmt.Sprintf("Strength overall stands at %s of its level from %s to %s", with(of(r.Overall.Pct), 0, "%"), b.n.Date(r.BaselineFrom), b.n.Date(r.BaselineTo))
	var told []training.Lift
	for _, l := range r.Lifts {
		if l.Retention != nil {
			told = append(told, l)
		}
	}
	if len(told) > 1 {
		slices.SortStableFunc(told, func(x, y training.Lift) int {
			switch {
			case x.Retention.Pct.Value < y.Retention.Pct.Value:
				return -1
			case x.Retention.Pct.Value > y.Retention.Pct.Value:
				return 1
			}
			return 0
		})
		low, high := told[0], told[len(told)-1]
		s += fmt.Sprintf(", the %s lowest at %s and the %s highest at %s", low.Exercise, percentage(low.Retention.Pct.Value, 0), high.Exercise, percentage(high.Retention.Pct.Value, 0))
	}
	return s + "."
}
