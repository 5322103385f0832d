package decision

import (
	"fmt"
	"math"

	"glidepath/season"
)

// Steps in which people can follow a change.
const (
	foodStepKcal  = 25.0
	stepsStep     = 500.0
	cardioStepMin = 10.0
	stepsMostOnce = 2500.0
	cardioOnce    = 60.0 // minutes a week
	comfortAbove  = 10.0 // kcal/kg FFM above the floor: food is still plentiful
)

// move makes the smallest change that adds want kcal a day to the deficit
// (negative: gives back), with one lever: the least tiring that can do it.
func (r *review) move(want float64) {
	r.out.Action = Change
	if want < 0 {
		r.giveBack(-want)
		return
	}
	type option struct {
		lever Lever
		to    season.Instruction
		kcal  float64
	}
	var best option
	consider := func(lever Lever, to season.Instruction) bool {
		got := r.deficit(to) - r.deficit(r.out.From)
		if got > best.kcal+1 {
			best = option{lever, to, got}
		}
		return got >= want-0.5*foodStepKcal
	}
	plentiful := r.available(r.out.From) > r.p.Limits.EnergyAvailabilityFloorOn(r.out.AsOf)+comfortAbove
	order := []func(float64) (Lever, season.Instruction){r.moreSteps, r.lessFood, r.moreCardio}
	if plentiful {
		order[0], order[1] = order[1], order[0]
	}
	for _, try := range order {
		lever, to := try(want)
		if consider(lever, to) {
			break
		}
	}
	r.take(best.lever, best.to, best.kcal)
}

func (r *review) take(lever Lever, to season.Instruction, got float64) {
	r.out.Lever, r.out.To, r.out.ChangeKcal = lever, to, got
}

// lessFood lowers energy, never under the floor of energy availability.
func (r *review) lessFood(want float64) (Lever, season.Instruction) {
	to := r.out.From
	last := r.last()
	floor := r.p.Limits.EnergyAvailabilityFloorOn(r.out.AsOf)*last.LeanKg.Value +
		r.p.Levers.ExerciseKcalPerKg(to.CardioMinutes)*last.TrendKg.Value
	per := 1 - r.p.Model.ThermicEffect
	cut := math.Ceil(want/per/foodStepKcal-0.5) * foodStepKcal
	least := math.Ceil(floor/foodStepKcal) * foodStepKcal
	to.EnergyKcal = math.Min(to.EnergyKcal, math.Max(least, round(to.EnergyKcal-cut, foodStepKcal)))
	return Food, to
}

func (r *review) moreSteps(want float64) (Lever, season.Instruction) {
	to := r.out.From
	per := r.p.Levers.StepKcalPerKg * r.last().TrendKg.Value * r.p.Model.ActivityYield
	if per <= 0 {
		return Steps, to
	}
	add := math.Min(stepsMostOnce, math.Ceil(want/per/stepsStep-0.5)*stepsStep)
	to.StepsPerDay = math.Max(to.StepsPerDay, math.Min(r.p.Levers.StepsMax, to.StepsPerDay+add))
	return Steps, to
}

func (r *review) moreCardio(want float64) (Lever, season.Instruction) {
	to := r.out.From
	per := r.p.Levers.CardioKcalPerKgMin * r.last().TrendKg.Value * r.p.Model.ActivityYield / 7
	if per <= 0 {
		return Cardio, to
	}
	add := math.Min(cardioOnce, math.Ceil(want/per/cardioStepMin-0.5)*cardioStepMin)
	to.CardioMinutes = math.Max(to.CardioMinutes, math.Min(r.p.Levers.CardioMax, to.CardioMinutes+add))
	return Cardio, to
}

// giveBack eases: cardio goes first once there is much of it and food is not
// short, else food comes up.
func (r *review) giveBack(want float64) {
	to := r.out.From
	lever := Food
	perMinute := r.p.Levers.CardioKcalPerKgMin * r.last().TrendKg.Value * r.p.Model.ActivityYield / 7
	short := r.available(to) < r.p.Limits.EnergyAvailabilityFloorOn(r.out.AsOf)+comfortAbove
	if to.CardioMinutes >= 120 && !short && perMinute > 0 {
		lever = Cardio
		to.CardioMinutes = math.Max(0, to.CardioMinutes-math.Min(cardioOnce, round(want/perMinute, cardioStepMin)))
	} else {
		per := 1 - r.p.Model.ThermicEffect
		to.EnergyKcal = round(to.EnergyKcal+want/per, foodStepKcal)
	}
	r.take(lever, to, r.deficit(to)-r.deficit(r.out.From))
}

func round(v, step float64) float64 { return math.Round(v/step) * step }

// rounded puts an instruction into steps that people can follow, on the safe
// side of the floor.
func rounded(in season.Instruction, p *season.Problem) season.Instruction {
	return season.Instruction{
		EnergyKcal:    math.Ceil(in.EnergyKcal/foodStepKcal-0.01) * foodStepKcal,
		StepsPerDay:   math.Min(p.Levers.StepsMax, round(in.StepsPerDay, stepsStep)),
		CardioMinutes: round(in.CardioMinutes, cardioStepMin),
	}
}

// describe says an instruction in words.
func describe(in season.Instruction) string {
	s := fmt.Sprintf("%s a day on average, %s steps a day", kcal(in.EnergyKcal), thousands(in.StepsPerDay))
	if in.CardioMinutes > 0 {
		s += fmt.Sprintf(", %.0f minutes of cardio a week", in.CardioMinutes)
	}
	return s
}

// changeWords says what changes, from what to what.
func changeWords(o *Proposal) string {
	switch o.Lever {
	case Steps:
		return fmt.Sprintf("steps from %s to %s a day; food and cardio stay", thousands(o.From.StepsPerDay), thousands(o.To.StepsPerDay))
	case Cardio:
		return fmt.Sprintf("cardio from %.0f to %.0f minutes a week; food and steps stay", o.From.CardioMinutes, o.To.CardioMinutes)
	}
	return fmt.Sprintf("energy from %s to %s a day on average; steps and cardio stay", kcal(o.From.EnergyKcal), kcal(o.To.EnergyKcal))
}

func balanceWords(deficit float64) string {
	if deficit < 0 {
		return fmt.Sprintf("a surplus of %s", kcal(-deficit))
	}
	return fmt.Sprintf("a deficit of %s", kcal(deficit))
}

func kcal(v float64) string { return thousands(v) + " kcal" }

func thousands(v float64) string {
	n := int(math.Round(v))
	if n < 1000 {
		return fmt.Sprintf("%d", n)
	}
	return fmt.Sprintf("%d,%03d", n/1000, n%1000)
}
