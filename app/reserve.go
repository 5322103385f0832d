package app

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/season"
)

// WeekReserve is what a week of the plan leaves in hand of steps, cardio and food.
type WeekReserve struct {
	From  civil.Date        `json:"from"`
	Week  int               `json:"week"` // of the plan, from 1
	Phase athlete.PhaseKind `json:"phase"`

	StepsLeft         float64 `json:"steps_left"`          // a day, to the most that the athlete can keep
	CardioMinutesLeft float64 `json:"cardio_minutes_left"` // a week, to the most there is time for
	FoodKcalLeft      float64 `json:"food_kcal_left"`      // a day, to the floor of energy availability
	UsedKcal          float64 `json:"used_kcal"`           // a day, net: steps and cardio beyond the habit that the plan asks for
	ThereKcal         float64 `json:"there_kcal"`          // a day, net: all of them that there are
	LeftKcal          float64 `json:"left_kcal"`           // a day: the difference
	LeftAddsKcal      float64 `json:"left_adds_kcal"`      // a day: what the difference should add, after compensation
	Sentence          string  `json:"sentence"`
}

// Reserve is what the weeks of the plan up to the show leave in hand, so that it is
// seen how early expenditure is spent; none where nothing is planned. Food to the
// floor is with the cardio of the week: more cardio raises the floor by all that it
// costs.
func (d *Dossier) Reserve() []WeekReserve {
	if d.Season == nil {
		return nil
	}
	var out []WeekReserve
	for i := range d.Season.Map.Weeks {
		w := &d.Season.Map.Weeks[i]
		if w.Phase == athlete.PeakWeek || w.Phase == athlete.ShowDay || d.Show != nil && w.From >= d.Show.Date {
			break
		}
		out = append(out, d.reserve(i, w))
	}
	return out
}

func (d *Dossier) reserve(i int, w *season.Week) WeekReserve {
	l := &d.Levers
	steps, minutes := w.Asked.StepsPerDay, w.Asked.CardioMinutes
	kcal := func(steps, minutes float64) float64 {
		return (math.Max(0, steps)*l.StepKcalPerKg + math.Max(0, minutes)/7*l.CardioKcalPerKgMin) * w.WeightKg
	}
	limits := d.Athlete.EffectiveLimits()
	floor := limits.EnergyAvailabilityFloorOn(w.From)*w.LeanKg + l.ExerciseKcalPerKg(minutes)*w.WeightKg
	r := WeekReserve{
		From: w.From, Week: i + 1, Phase: w.Phase,
		StepsLeft: math.Max(0, l.StepsMax-steps), CardioMinutesLeft: math.Max(0, l.CardioMax-minutes),
		FoodKcalLeft: math.Max(0, w.Asked.EnergyKcal-floor),
		UsedKcal:     kcal(steps-l.StepsHabit, minutes-l.CardioHabit),
	}
	r.LeftKcal = kcal(r.StepsLeft, r.CardioMinutesLeft)
	r.ThereKcal = r.UsedKcal + r.LeftKcal
	r.LeftAddsKcal = r.LeftKcal * d.Yield().Share.Value
	if l.DoneShare > 0 {
		r.LeftAddsKcal *= l.DoneShare
	}
	r.Sentence = fmt.Sprintf("At week %d the plan uses %.0f of the %.0f kcal a day of steps and cardio that there are beyond the habit.", r.Week, r.UsedKcal, r.ThereKcal)
	return r
}
