package lab

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/physiology"
	"glidepath/scenario"
	"glidepath/season"
)

// prescribe writes energy and activity out as the scenario's simple coach does.
func prescribe(s *subject, on civil.Date, in season.Instruction, phase athlete.PhaseKind) *athlete.Prescription {
	step := scenario.Step{
		From: on, Phase: phase, EnergyKcal: math.Round(in.EnergyKcal),
		Steps: math.Round(in.StepsPerDay), CardioMinutes: math.Round(in.CardioMinutes),
	}
	p := step.Prescription(&s.spec.Athlete, 1)
	return &p
}

// prescribeOverFloor is the same with as much more energy as the floor of energy
// availability asks for in a body.
func (s *subject) prescribeOverFloor(on civil.Date, in season.Instruction, phase athlete.PhaseKind, weightKg, leanKg float64) *athlete.Prescription {
	for {
		p := prescribe(s, on, in, phase)
		under := s.limits.EnergyAvailabilityFloorOn(on) - s.availability(p, weightKg, leanKg)
		if under <= 0 {
			return p
		}
		in.EnergyKcal += math.Max(1, under*leanKg) // macros are whole grams
	}
}

// formula is a static deficit from a formula: Mifflin-St Jeor times 1.5, less
// what 7,700 kcal a kg makes of the weight to lose over the weeks there are, not
// under the floor of energy availability; never looked at again.
type formula struct {
	s    *subject
	done bool
}

// start is what a formula makes of an athlete from the first measurements.
func (s *subject) start(n news) (maintenance, fat, weight, floor float64) {
	a := &s.spec.Athlete
	weight = meanWeight(n.days, 7, a.WeightKg)
	pct := 18.0
	if len(n.measurements) > 0 {
		pct = *n.measurements[len(n.measurements)-1].BodyFatPct
	}
	fat = pct / 100 * weight
	rest, err := physiology.MifflinStJeor(physiology.Body{
		Sex: a.Sex, WeightKg: weight, HeightCm: a.HeightCm, AgeYears: float64(a.BirthDate.YearsUntil(firstDay)),
	})
	if err != nil {
		panic(err) // a virtual athlete is within every equation's range
	}
	limits := a.EffectiveLimits()
	floor = (limits.EnergyAvailabilityFloor + 4) * (weight - fat)
	return 1.5 * rest, fat, weight, floor
}

func meanWeight(days []athlete.Day, last int, otherwise float64) float64 {
	sum, n := 0.0, 0
	for i := len(days) - 1; i >= 0 && n < last; i-- {
		if days[i].WeightKg != nil {
			sum += *days[i].WeightKg
			n++
		}
	}
	if n == 0 {
		return otherwise
	}
	return sum / float64(n)
}

func (f *formula) week(on civil.Date, n news) (order, error) {
	if f.done {
		return order{}, nil
	}
	f.done = true
	maintenance, fat, weight, floor := f.s.start(n)
	target := f.s.show.TargetBodyFatPct / 100
	lose := weight - (weight-fat)/(1-target)
	days := float64(f.s.show.Date.DaysSince(on) - 7)
	energy := math.Max(floor, maintenance-7700*lose/math.Max(days, 7))
	in := season.Instruction{EnergyKcal: energy, StepsPerDay: f.s.spec.Athlete.StepsPerDay}
	return order{prescribe(f.s, on, in, athlete.Prep), weight, weight - fat}, nil
}

// thumb is the usual rule: aim at 0.7 % a week, compare 7-day means, take or
// give 100 kcal when off by 0.2 points, steps once food is at its floor;
// maintenance once the measurements say that the target is there.
type thumb struct {
	s       *subject
	now     season.Instruction
	last    float64
	lean    float64
	floor   float64
	keep    float64
	started bool
	latest  float64
}

func (t *thumb) week(on civil.Date, n news) (order, error) {
	a := &t.s.spec.Athlete
	for _, m := range n.measurements {
		t.latest = *m.BodyFatPct
	}
	if !t.started {
		t.started = true
		maintenance, fat, weight, floor := t.s.start(n)
		t.last, t.lean, t.floor, t.keep = weight, weight-fat, floor, maintenance
		t.now = season.Instruction{EnergyKcal: math.Max(floor, maintenance-0.007*weight*7700/7), StepsPerDay: a.StepsPerDay}
		return order{prescribe(t.s, on, t.now, athlete.Prep), t.last, t.lean}, nil
	}
	weight := meanWeight(n.days, 7, t.last)
	rate := 100 * (t.last - weight) / t.last
	t.last = weight
	was := t.now
	switch aim := 0.7; {
	case t.latest > 0 && t.latest <= t.s.show.TargetBodyFatPct:
		t.now.EnergyKcal = math.Min(t.keep, t.now.EnergyKcal+150)
	case rate < aim-0.2 && t.now.EnergyKcal-100 >= t.floor:
		t.now.EnergyKcal -= 100
	case rate < aim-0.2 && t.now.StepsPerDay+1500 <= a.StepsMax():
		t.now.StepsPerDay += 1500
	case rate > aim+0.2:
		t.now.EnergyKcal += 100
	}
	if t.now == was {
		return order{}, nil
	}
	return order{prescribe(t.s, on, t.now, athlete.Prep), t.last, t.lean}, nil
}
