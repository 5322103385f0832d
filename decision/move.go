package decision

import (
	"math"

	"glidepath/season"
)

// Steps in which people can follow a change, and the most of them at once.
const (
	foodStepKcal  = 25.0
	stepsStep     = 500.0
	cardioStepMin = 10.0
	stepsMostOnce = 2500.0
	cardioOnce    = 60.0  // minutes a week
	cardioMuch    = 120.0 // minutes a week from which cardio is the first to go
	comfortAbove  = 10.0  // kcal/kg FFM above the floor: food is still plentiful
)

// deepen adds want kcal a day to the deficit by the smallest change of one
// lever, the least tiring that can do it; where none can, by the one that does
// most. It reports false where none may move.
func (r *review) deepen(want float64) bool {
	order := []Lever{Steps, Food, Cardio}
	if r.available(r.out.From) > r.floor()+comfortAbove {
		order = []Lever{Food, Steps, Cardio}
	}
	most := 0.0
	for _, l := range order {
		if l == Cardio && r.plan.CardioMinutes < r.out.From.CardioMinutes-cardioStepMin {
			continue // the plan is for less of it
		}
		to, got := r.smallest(l, 1, want)
		if got > most+1 {
			most = got
			r.take(l, to)
		}
		if got >= want {
			break
		}
	}
	return most > 0 || r.trade()
}

// The deficit for which cardio is traded, kcal a day, and the most minutes a week of
// it at once.
const (
	leastTradeKcal = 10.0
	tradeOnce      = 120.0
)

// trade gives cardio back together with the food that it pays for, where the plan
// has less of it: at the floor of energy availability that deepens the deficit,
// since cardio costs the floor more than it adds. It is the one change of two levers
// at once: the floor forbids less food alone, and less cardio alone makes the deficit
// smaller. Of the minutes that may go, it is those that bring most, since food goes in
// whole steps.
func (r *review) trade() bool {
	from, l := r.out.From, &r.p.Levers
	perMinute := (l.ExerciseKcalPerKg(1) - l.ExerciseKcalPerKg(0)) * r.last().TrendKg.Value
	best, most := from, leastTradeKcal
	for less := cardioStepMin; less <= tradeOnce; less += cardioStepMin {
		to := from
		to.CardioMinutes -= less
		if to.CardioMinutes < r.plan.CardioMinutes-cardioStepMin/2 || to.CardioMinutes < 0 {
			break
		}
		to.EnergyKcal = math.Max(r.least(to.CardioMinutes), r.whole(from).EnergyKcal-less*perMinute-foodStepKcal)
		to = r.whole(to)
		if got := r.deficit(to) - r.deficit(from); got >= most && r.permits(to, 1) {
			best, most = to, got
		}
	}
	if best == from {
		return false
	}
	r.take(Cardio, best)
	r.out.Exchange = true
	r.reason("At the floor of energy availability a minute of cardio raises the least food by all that it costs and expenditure by less, so that less of both leaves a deeper deficit; neither could change alone.")
	return true
}

// ease takes want kcal a day off the deficit by the smallest change of one
// lever. Cardio goes first once there is much of it and food is not short;
// where the whole amount is wanted at once it is food.
func (r *review) ease(want float64, atOnce bool) {
	short := r.available(r.out.From) < r.floor()+comfortAbove
	if r.out.From.CardioMinutes >= cardioMuch && !short && !atOnce {
		const most = 0.6 // of what is wanted
		if to, got := r.smallest(Cardio, -1, want); got > most*want {
			r.take(Cardio, to)
			return
		}
	}
	to, _ := r.smallest(Food, -1, want)
	r.take(Food, to)
}

func (r *review) take(l Lever, to season.Instruction) {
	o := &r.out
	o.Action, o.Lever, o.To = Change, l, to
	o.ChangeKcal = r.deficit(to) - r.deficit(o.From)
}

// smallest moves a lever step by step, towards a deeper deficit (1) or a
// shallower one (-1), until the deficit has changed by want or the next step is
// not permitted. got is what it comes to, kcal a day; 0 is no step at all.
func (r *review) smallest(l Lever, deeper int, want float64) (to season.Instruction, got float64) {
	from := r.out.From
	to = from
	for n := 1; got < want; n++ {
		next := from
		switch l {
		case Food:
			next.EnergyKcal = steps(from.EnergyKcal, foodStepKcal, -deeper*n)
		case Steps:
			next.StepsPerDay = steps(from.StepsPerDay, stepsStep, deeper*n)
		case Cardio:
			next.CardioMinutes = steps(from.CardioMinutes, cardioStepMin, deeper*n)
		}
		if !r.permits(next, deeper) {
			break
		}
		to, got = next, math.Abs(r.deficit(next)-r.deficit(from))
	}
	return to, got
}

// steps moves a value by so many steps, counted from the multiple of a step that
// lies on the way.
func steps(v, step float64, n int) float64 {
	const near = 1e-6
	if n < 0 {
		return (math.Ceil(v/step-near) + float64(n)) * step
	}
	return (math.Floor(v/step+near) + float64(n)) * step
}

// permits reports whether no limit forbids an instruction.
func (r *review) permits(in season.Instruction, deeper int) bool {
	from, l := r.out.From, &r.p.Levers
	const near = 1e-6
	if in.CardioMinutes < 0 ||
		math.Abs(in.StepsPerDay-from.StepsPerDay) > stepsMostOnce ||
		in.CardioMinutes-from.CardioMinutes > cardioOnce || from.CardioMinutes-in.CardioMinutes > tradeOnce {
		return false
	}
	if deeper < 0 {
		return true
	}
	return in.StepsPerDay <= math.Max(l.StepsMax, from.StepsPerDay)+near &&
		in.CardioMinutes <= math.Max(l.CardioMax, from.CardioMinutes)+near &&
		r.available(in) >= r.floor() &&
		r.slow(in, 0)
}

// toTheLetter is how far beyond the permitted rate an instruction may lead that is
// followed better than of late (judgement).
const toTheLetter = 1.1

// slow reports whether an instruction keeps the permitted rate as it is followed,
// with some margin, % of body weight a week, and very nearly where it is followed
// to the letter.
func (r *review) slow(in season.Instruction, margin float64) bool {
	permitted := math.Max(0, r.out.PermittedPct)
	return r.ahead(in)+margin <= permitted && r.rate(in) <= toTheLetter*permitted
}

// rate is what an instruction, followed to the letter, loses in the week to come, %
// of body weight.
func (r *review) rate(in season.Instruction) float64 {
	s := r.p.State
	from := s.FatKg + r.p.Model.ReferenceFatFreeKg(&s)
	r.p.Live(&s, in, 7)
	return 100 * (from - s.FatKg - r.p.Model.ReferenceFatFreeKg(&s)) / from
}

// floor is the floor of energy availability, kcal/kg FFM a day.
func (r *review) floor() float64 { return r.p.Limits.EnergyAvailabilityFloorOn(r.out.AsOf) }

// available is energy availability under an instruction, kcal/kg FFM a day: of
// what is asked, or of what is eaten of it where that is less.
func (r *review) available(in season.Instruction) float64 {
	last := r.last()
	return (in.EnergyKcal*math.Min(1, r.ratio) - r.p.Levers.ExerciseKcalPerKg(in.CardioMinutes)*last.TrendKg.Value) / last.LeanKg.Value
}

// least is the least energy that keeps the floor with so much cardio, in a step
// that people can follow, kcal a day.
func (r *review) least(cardioMinutes float64) float64 {
	last := r.last()
	kcal := r.floor()*last.LeanKg.Value + r.p.Levers.ExerciseKcalPerKg(cardioMinutes)*last.TrendKg.Value
	return math.Ceil(kcal/math.Min(1, r.ratio)/foodStepKcal) * foodStepKcal
}

// rounded puts an instruction into steps that people can follow, on the safe
// side of every limit.
func (r *review) rounded(in season.Instruction) season.Instruction {
	l := &r.p.Levers
	in.StepsPerDay = math.Min(l.StepsMax, math.Round(in.StepsPerDay/stepsStep)*stepsStep)
	in.CardioMinutes = math.Min(l.CardioMax, math.Round(in.CardioMinutes/cardioStepMin)*cardioStepMin)
	return r.whole(in)
}

// whole rounds the energy of an instruction up to a step and to the floor.
func (r *review) whole(in season.Instruction) season.Instruction {
	in.EnergyKcal = math.Max(math.Ceil(in.EnergyKcal/foodStepKcal-0.01)*foodStepKcal, r.least(in.CardioMinutes))
	return in
}
