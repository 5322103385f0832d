package report

import (
	"fmt"
	"strings"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/numeric"
	"glidepath/phrase"
)

func (b *builder) chances() Chances {
	f := b.Forecast
	if f == nil {
		s := ""
		if b.Blocked != nil {
			s = "There is no forecast, since no deficit may be planned."
		}
		return Chances{Section: Section{Sentence: s}}
	}
	var out Chances
	add := func(p numeric.OrNull, of, note string) {
		if p.Known() {
			out.Of = append(out.Of, Chance{Of: of, P: float64(p), Note: note})
		}
	}
	c := f.Chances
	if s := b.Show; s != nil {
		tolerance := s.Tolerance()
		band := chart.Number(s.TargetBodyFatPct-tolerance, 1) + " to " + percentage(s.TargetBodyFatPct+tolerance, 1) + " body fat"
		most := "at most " + percentage(s.TargetBodyFatPct+tolerance, 1) + " body fat"
		add(c.OnTarget, "On target on the day", band)
		add(c.AtOrUnder, "On target or leaner", most)
		if kg, ok := s.ClassLimit.LimitKg(b.Athlete.HeightCm); ok {
			add(c.InsideClass, "Inside the class limit", "at most "+b.n.Weight(kg)+" on the morning")
		}
	}
	add(c.EnergyKept, "Food never has to stand at the floor", fmt.Sprintf("%s kcal per kg of fat-free mass a day", chart.Number(b.limits.EnergyAvailabilityFloor, 0)))
	add(c.FatKept, "Body fat never under its floor", percentage(athlete.BodyFatFloorPct(b.Athlete.Sex), 0))
	add(c.LeanKept, "Lean mass kept within 3"+nbsp+"%", "lost by then: "+b.weight(of(f.LeanLost)))
	if u := b.Unchanged; u != nil && b.Show != nil {
		const asIs = " if the prescription in force goes on as it is"
		add(u.Chances.OnTarget, "On target"+asIs, "by then "+with(of(u.BodyFat), 1, "%")+" body fat")
		add(u.Chances.LeanKept, "Lean mass kept within 3"+nbsp+"%"+asIs, "lost by then: "+b.weight(of(u.LeanLost)))
	}
	out.Sentence = b.chancesSentence()
	return out
}

func (b *builder) chancesSentence() string {
	f := b.Forecast
	futures := fmt.Sprintf("from %s simulated futures", chart.Number(float64(f.Futures), 0))
	if b.Show == nil || !f.Chances.OnTarget.Known() {
		last := f.Fan[len(f.Fan)-1]
		return fmt.Sprintf("By %s the plan should bring %s and %s body fat, %s.", b.n.Date(last.Date),
			b.weight(b.fanEnd()), with(of(f.BodyFat), 1, "%"), futures)
	}
	p := float64(f.Chances.OnTarget)
	s := fmt.Sprintf("To be on target on the day is %s (%s) if the coach corrects each week, with %s body fat forecast", Likelihood(p), percent(p), with(of(f.BodyFat), 1, "%"))
	if u := b.Unchanged; u != nil && u.Chances.OnTarget.Known() {
		q := float64(u.Chances.OnTarget)
		s += fmt.Sprintf(", and %s (%s) if the prescription in force goes on as it is, with %s", Likelihood(q), percent(q), with(of(u.BodyFat), 1, "%"))
		if u.Chances.LeanKept < 0.5 && u.LeanLost.Value > f.LeanLost.Value {
			s += fmt.Sprintf(" but %s of lean mass lost", b.weight(of(u.LeanLost)))
		}
	}
	return s + "; " + futures + "."
}

func (b *builder) cannotTell() CannotTell {
	var out CannotTell
	for _, q := range b.Reading.Queries {
		out.Items = append(out.Items, sentence(q.Reason)+" Ask; until then it is left out.")
	}
	for _, from := range [][]string{b.Reading.CannotTell, b.Cannot, b.Strength.Cannot} {
		out.Items = append(out.Items, grouped(from)...)
	}
	e := b.Reading.Evidence
	seen := fmt.Sprintf("with weights on %d and food on %d of the last 14 days", e.Weights14, e.Intake14)
	if len(out.Items) == 0 {
		out.Sentence = "Nothing that is said here lacks its data, " + seen + "; how the athlete looks and feels is in no log."
		return out
	}
	out.Sentence = fmt.Sprintf("%s stay open, %s.", phrase.Capital(count(len(out.Items), "thing", "things")), seen)
	if len(out.Items) == 1 {
		out.Sentence = fmt.Sprintf("One thing stays open, %s.", seen)
	}
	return out
}

// grouped makes one sentence of those that say the same of different things, as
// "squat: too few sessions" and "bench press: too few sessions".
func grouped(all []string) []string {
	var tails []string
	heads := map[string][]string{}
	for _, s := range all {
		head, tail, ok := strings.Cut(s, ": ")
		if !ok {
			head, tail = "", s
		}
		if heads[tail] == nil {
			tails = append(tails, tail)
		}
		heads[tail] = append(heads[tail], head)
	}
	out := make([]string, len(tails))
	for i, tail := range tails {
		if head := list(heads[tail]); head != "" {
			tail = head + ": " + tail
		}
		out[i] = sentence(tail)
	}
	return out
}
