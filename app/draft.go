package app

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/food"
	"glidepath/phrase"
	"glidepath/season"
)

// draft writes an instruction out as a prescription: macros for each type of
// day, and the cardio as sessions of the least tiring kinds.
func (f *facts) draft(d *Dossier, in season.Instruction, phase athlete.PhaseKind) (*athlete.Prescription, error) {
	a := &f.athlete
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	limits := a.EffectiveLimits()
	week := food.Week{Training: min(7, len(a.TrainingDays))}
	refeeds, atRest := 0, 0
	if d.Season != nil && len(d.Season.Map.Weeks) > 0 {
		refeeds, atRest = d.Season.Map.Weeks[0].Refeeds, d.Season.Map.Weeks[0].RestDays
	}
	week.Rest = 7 - week.Training
	dieting := phase == athlete.Prep || phase == athlete.PrePrep
	deficit := in.EnergyKcal < last.ExpenditureKc.Value-100
	switch {
	case dieting && !deficit && atRest > 3:
		week = food.Week{DietBreak: 7} // how the next review knows that it is over
	case refeeds > 0 && deficit:
		week.Refeed = refeeds
		if week.Rest >= refeeds {
			week.Rest -= refeeds
		} else {
			week.Training -= refeeds
		}
	}
	sessions, notes, err := f.cardioSessions(d, in)
	if err != nil {
		return nil, err
	}
	// Sessions are whole and may come to a few minutes more than was asked; the
	// floor is kept with what they are.
	exercise := d.Levers.LiftingKcalPerKgDay
	for _, c := range sessions {
		exercise += f.minuteKcalPerKg(c, last.TrendKg.Value) * c.MinutesPerWeek / 7
	}
	least := limits.EnergyAvailabilityFloorOn(d.AsOf)*last.LeanKg.Value + exercise*last.TrendKg.Value
	energy := in.EnergyKcal
	if floor := math.Ceil(least/food.EnergyStepKcal) * food.EnergyStepKcal; floor > energy {
		notes = append(notes, fmt.Sprintf("Food is %.0f kcal a day higher than was reckoned: with these sessions that is the floor of energy availability.", floor-energy))
		energy = floor
	}
	plan, err := food.Macros(food.Need{
		MeanEnergyKcal: energy, MaintenanceKcal: last.ExpenditureKc.Value,
		WeightKg: last.TrendKg.Value, FFMKg: last.LeanKg.Value, Sex: a.Sex, Limits: &limits, Week: week,
	})
	if err != nil {
		return nil, err
	}
	p := &athlete.Prescription{
		From: d.AsOf, Days: plan.Days, Steps: in.StepsPerDay, Cardio: sessions, Phase: phase, Reasons: notes,
		Rule: "Training days on days with a lifting session, rest days otherwise.",
	}
	if week.DietBreak > 0 {
		p.Rule = "Every day alike."
	}
	if week.Refeed > 0 {
		p.Rule += " The refeed falls before the hardest session of the week."
	}
	return p, nil
}

// within refuses an instruction that breaks a limit.
func (f *facts) within(d *Dossier, in season.Instruction, phase athlete.PhaseKind) error {
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	limits := f.athlete.EffectiveLimits()
	available := (in.EnergyKcal - d.Levers.ExerciseKcalPerKg(in.CardioMinutes)*last.TrendKg.Value) / last.LeanKg.Value
	if floor := limits.EnergyAvailabilityFloorOn(d.AsOf); available < floor-0.05 {
		return fault.New(fault.Refused,
			"%s kcal a day with %.0f minutes of cardio a week leaves %.1f kcal per kg of fat-free mass, under the floor of %.0f.",
			phrase.Number(in.EnergyKcal, 0), in.CardioMinutes, available, floor).
			WithField("energy_kcal").
			WithHint("At least %s kcal a day keeps the floor. Below it lie lost muscle, lost cycles and weak bone; a physician decides on exceptions.",
				phrase.Number(math.Ceil((floor*last.LeanKg.Value+d.Levers.ExerciseKcalPerKg(in.CardioMinutes)*last.TrendKg.Value)/food.EnergyStepKcal)*food.EnergyStepKcal, 0))
	}
	now := &d.Reading.Now
	state := now.State()
	p := season.Problem{Model: now.Model, CarbohydrateShare: now.CarbohydrateShare, Levers: d.Levers}
	end := state
	p.Live(&end, in, 28)
	from := state.FatKg + now.Model.ReferenceFatFreeKg(&state)
	rate := 100 * (from - end.FatKg - now.Model.ReferenceFatFreeKg(&end)) / from / 4
	if permitted := limits.RatePctPerWeek(last.BodyFatPct.Value); rate > 1.15*permitted {
		return fault.New(fault.Refused,
			"that would lose about %.1f %% of body weight a week, where %.1f %% is permitted at %.1f %% body fat.",
			rate, permitted, last.BodyFatPct.Value).
			WithField("energy_kcal").
			WithHint("Ask for less, or change the limit openly with a reason.")
	}
	if phase == athlete.PrePrep || phase == athlete.Prep {
		if b := f.athlete.DeficitBlock(d.AsOf); b != nil {
			return b
		}
	}
	return nil
}
