package decision

import (
	"fmt"
	"math"

	"glidepath/numeric"
	"glidepath/phrase"
	"glidepath/season"
)

// describe says an instruction in words.
func describe(in season.Instruction) string {
	s := fmt.Sprintf("%s a day on average, %s steps a day", kcal(in.EnergyKcal), phrase.Number(in.StepsPerDay, 0))
	if in.CardioMinutes > 0 {
		s += fmt.Sprintf(", %.0f minutes of cardio a week", in.CardioMinutes)
	}
	return s
}

// changeWords says what changes, from what to what.
func changeWords(o *Proposal) string {
	switch o.Lever {
	case Steps:
		return fmt.Sprintf("steps from %s to %s a day; food and cardio stay", phrase.Number(o.From.StepsPerDay, 0), phrase.Number(o.To.StepsPerDay, 0))
	case Cardio:
		if o.Exchange {
			return fmt.Sprintf("one exchange at the floor of energy availability, cardio from %.0f to %.0f minutes a week and the food that paid for it from %s to %s a day on average; steps stay",
				o.From.CardioMinutes, o.To.CardioMinutes, kcal(o.From.EnergyKcal), kcal(o.To.EnergyKcal))
		}
		return fmt.Sprintf("cardio from %.0f to %.0f minutes a week; food and steps stay", o.From.CardioMinutes, o.To.CardioMinutes)
	}
	return fmt.Sprintf("energy from %s to %s a day on average; steps and cardio stay", kcal(o.From.EnergyKcal), kcal(o.To.EnergyKcal))
}

func balanceWords(deficit float64) string {
	switch {
	case math.Abs(deficit) < foodStepKcal:
		return "maintenance"
	case deficit < 0:
		return fmt.Sprintf("a surplus of %s", kcal(-deficit))
	}
	return fmt.Sprintf("a deficit of %s", kcal(deficit))
}

// slackWords says how far it is to the upper edge.
func slackWords(s season.Span) string {
	if s.Value < 0 {
		return fmt.Sprintf("Above the upper edge of the corridor: %.1f weeks are missing (90 %% between %.1f missing and %s).", -s.Value, -s.Low, spare(s.High))
	}
	return fmt.Sprintf("Slack to the upper edge of the corridor: %.1f weeks (90 %% between %s and %.1f).", s.Value, spare(s.Low), s.High)
}

func spare(weeks float64) string {
	if weeks < 0 {
		return fmt.Sprintf("%.1f missing", -weeks)
	}
	return fmt.Sprintf("%.1f to spare", weeks)
}

// gapWords writes the 90 % interval of a gap to the plan.
func gapWords(v numeric.Interval) string {
	side := func(gap float64) string {
		if gap < 0 {
			return kcal(-gap) + " ahead"
		}
		return kcal(gap) + " behind"
	}
	return fmt.Sprintf("90 %% between %s and %s", side(v.Low90), side(v.High90))
}

// rateWords says what the rate of loss is.
func rateWords(v numeric.Interval) string {
	side := func(rate float64) string {
		if rate < 0 {
			return fmt.Sprintf("a gain of %.2f", -rate)
		}
		return fmt.Sprintf("a loss of %.2f", rate)
	}
	return fmt.Sprintf("Over the last two weeks %s %% of body weight a week (90 %% between %s and %s)",
		side(v.Value), side(v.Low90), side(v.High90))
}

// within writes the 90 % interval of an energy.
func within(v numeric.Interval) string {
	return fmt.Sprintf("90 %% between %s and %s", phrase.Number(v.Low90, 0), kcal(v.High90))
}

func kcal(v float64) string { return phrase.Number(v, 0) + " kcal" }

// days writes a number of days.
func days(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

// chance is a probability in per cent; certainty is never claimed.
func chance(p float64) string {
	if p > 0.99 {
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}
