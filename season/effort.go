package season

import (
	"math"

	"glidepath/civil"
	"glidepath/dynamics"
)

// Effort is the control of a week, from 0 (maintenance, steps as they stand, cardio
// at the habit) to 1 (every lever at its limit). Between them the levers are drawn
// in the order of what they cost (judgement: food while it is plentiful, then the
// cardio that is being done already, steps, more cardio late and only as much as
// needed, food close to its floor last):
//
//	food to 45 % of its range, cardio as it stands, steps to half, food to 75 %,
//	steps to their most, cardio to half of what there is time for, food to its
//	floor.
//
// Who is short of time gets no more cardio, and the last stretch gives back what
// there is beyond the habit with the food that it pays for: cardio raises the floor
// of food by all that it costs and adds less than that to expenditure, so at the
// floor it slows a descent.
//
// Each stretch takes a share of the effort in proportion to the kcal it brings. So
// within a diet an effort that falls gives cardio back before it gives back the
// first food; steps, which tire nobody, stay.

// stretches of effort.
const stretches = 8

// ranges are the levers' spans at one state.
type ranges struct {
	maintain float64 // intake at effort 0, never under the floor
	floor    float64 // least intake with all cardio done
	food     float64 // maintain - floor
	steps    float64 // extra steps there are
	stands   float64 // cardio minutes a week that stand above the habit
	cardio   float64 // extra cardio minutes a week there are beyond those
	pays     float64 // food a day that cardio beyond the habit pays for, kcal
	kcal     [stretches]float64
	total    float64
}

// cardioReserve is the part of the cardio there is time for, beyond the habit,
// that a plan may use; the rest stays in hand for the weeks that go otherwise than
// planned.
const cardioReserve = 0.5

var foodShares = [3]float64{0.45, 0.30, 0.25}

// noDate is no day of the calendar: one on which no leave from a limit is in
// force.
const noDate civil.Date = 0

func (p *Problem) ranges(s *dynamics.State, on civil.Date) ranges {
	l := &p.Levers
	weight := tissueKg(&p.Model, s)
	habit := math.Min(l.CardioHabit, l.CardioNow)
	r := ranges{
		steps:  math.Max(0, l.StepsMax-l.StepsNow),
		stands: l.CardioNow - habit,
		cardio: math.Max(0, habit+cardioReserve*(l.CardioMax-habit)-l.CardioNow),
	}
	if p.short {
		r.cardio = 0
	}
	base := Instruction{StepsPerDay: l.StepsNow, CardioMinutes: habit}
	r.maintain = p.maintainKcal(s, base)
	// Cardio is exercise, so it raises the floor of intake by all that it costs:
	// there is only as much of it as maintenance carries.
	floor := p.floorKcal(s, on, habit)
	perMinute := l.CardioKcalPerKgMin * weight / 7
	if carries := math.Max(0, r.maintain-floor); (r.stands+r.cardio)*perMinute > carries {
		r.stands = math.Min(r.stands, carries/perMinute)
		r.cardio = carries/perMinute - r.stands
	}
	r.floor = floor + (r.stands+r.cardio)*perMinute
	// Who maintains on less than the floor is asked to eat the floor.
	r.maintain = math.Max(r.maintain, r.floor)
	r.food = r.maintain - r.floor
	adds := p.Model.ActivityYield // of what activity that is asked for costs
	if l.DoneShare > 0 {
		adds *= l.DoneShare
	}
	steps := adds * r.steps * l.StepKcalPerKg * weight
	if p.short {
		r.pays = r.stands * perMinute
	}
	r.kcal = [stretches]float64{
		foodShares[0] * r.food, adds * r.stands * perMinute, steps / 2, foodShares[1] * r.food, steps / 2,
		adds * r.cardio * perMinute, foodShares[2] * r.food, math.Max(0, 1-adds) * r.pays,
	}
	for _, k := range r.kcal {
		r.total += k
	}
	return r
}

// maintainKcal is the intake that holds weight on the activity of an instruction,
// where adaptation would come to rest with it.
func (p *Problem) maintainKcal(s *dynamics.State, in Instruction) float64 {
	rest := *s
	rest.AdaptationKcal = 0
	at := p.Model.MaintenanceKcal(&rest, p.Model.IntakeBaselineKcal, p.Levers.ActivityKcalPerKg(in))
	gain := p.Model.ThermicEffect + p.Model.AdaptationGain
	return (at - gain*p.Model.IntakeBaselineKcal) / (1 - gain)
}

// standing is maintenance with the levers as they stand, or the floor.
func (p *Problem) standing(s *dynamics.State, on civil.Date) Instruction {
	in := Instruction{StepsPerDay: p.Levers.StepsNow, CardioMinutes: p.Levers.CardioNow}
	in.EnergyKcal = math.Max(p.maintainKcal(s, in), p.floorKcal(s, on, in.CardioMinutes))
	return in
}

// floorKcal is the least intake on a date with so much cardio.
func (p *Problem) floorKcal(s *dynamics.State, on civil.Date, cardioMinutes float64) float64 {
	return p.Limits.EnergyAvailabilityFloorOn(on)*p.Model.ReferenceFatFreeKg(s) +
		p.Levers.ExerciseKcalPerKg(cardioMinutes)*tissueKg(&p.Model, s)
}

// instruction is what an effort asks for.
func (r *ranges) instruction(p *Problem, effort float64) Instruction {
	left := math.Max(0, math.Min(1, effort)) * r.total
	var share [stretches]float64
	for i, k := range r.kcal {
		take := math.Min(left, k)
		if k > 0 {
			share[i] = take / k
		}
		left -= take
	}
	food := foodShares[0]*share[0] + foodShares[1]*share[3] + foodShares[2]*share[6]
	return Instruction{
		EnergyKcal:    r.maintain - food*r.food - share[7]*r.pays,
		StepsPerDay:   p.Levers.StepsNow + r.steps*(share[2]+share[4])/2,
		CardioMinutes: math.Min(p.Levers.CardioHabit, p.Levers.CardioNow) + (1-share[7])*(r.stands*share[1]+r.cardio*share[5]),
	}
}

// effort is the effort that an instruction comes to, 0 to 1.
func (p *Problem) effort(r *ranges, in Instruction, weightKg float64) float64 {
	if r.total <= 0 {
		return 0
	}
	l := &p.Levers
	base := Instruction{StepsPerDay: l.StepsNow, CardioMinutes: math.Min(l.CardioHabit, l.CardioNow)}
	drawn := r.maintain - in.EnergyKcal + p.Model.ActivityYield*weightKg*(l.ActivityKcalPerKg(in)-l.ActivityKcalPerKg(base))
	return math.Max(0, math.Min(1, drawn/r.total))
}

// Live runs days of one instruction.
func (p *Problem) Live(s *dynamics.State, in Instruction, days int) {
	d := p.input(in)
	for range days {
		p.Model.Step(s, d)
	}
}

func (p *Problem) input(in Instruction) dynamics.Input {
	return dynamics.Input{
		EnergyKcal:        in.EnergyKcal,
		CarbohydrateKcal:  p.CarbohydrateShare * in.EnergyKcal,
		ActivityKcalPerKg: p.Levers.ActivityKcalPerKg(in),
	}
}

// ratePct is the loss of tissue from a to b over days, % of weight a week.
func (p *Problem) ratePct(a, b *dynamics.State, days int) float64 {
	from := tissueKg(&p.Model, a)
	return 100 * (from - tissueKg(&p.Model, b)) / from * 7 / float64(days)
}

// Bind names the limit that holds a descent back.
type Bind string

// The limits that can bind.
const (
	BindRate         Bind = "the permitted rate of loss"
	BindSupply       Bind = "what the fat that is left can supply"
	BindAvailability Bind = "the floor of energy availability, with every lever at its most"
)

// overLimit is how far a week that was lived from one state to another on an
// input goes beyond the permitted rate of loss and beyond what fat can supply
// at its end (Alpert 2005, J Theor Biol 233:1), as shares of them. A deficit beyond
// the supply takes no more fat, only lean mass: a descent that is faster by it in
// weight is slower in body fat, so that no plan gains by it and it is a limit, not
// a price.
func (p *Problem) overLimit(s, end *dynamics.State, in *dynamics.Input) (rate, supply float64) {
	rate = p.ratePct(s, end, 7)/p.Limits.RatePctPerWeek(bodyFatPct(&p.Model, s)) - 1
	supply = -1
	if most := p.Model.Partition.SupplyKcal(end.FatKg); most > 0 {
		deficit := p.Model.MaintenanceKcal(end, in.EnergyKcal, in.ActivityKcalPerKg) - in.EnergyKcal
		supply = deficit/most - 1
	}
	return rate, supply
}

// greatestEffort is the most effort that no limit forbids at a state, and the
// limit that binds there.
func (p *Problem) greatestEffort(s *dynamics.State, r *ranges) (float64, Bind) {
	bind := BindAvailability
	excess := func(effort float64) float64 {
		end := *s
		in := p.input(r.instruction(p, effort))
		for range 7 {
			p.Model.Step(&end, in)
		}
		rate, supply := p.overLimit(s, &end, &in)
		if bind = BindRate; supply > rate {
			bind = BindSupply
		}
		return math.Max(rate, supply)
	}
	high := excess(1)
	if high <= 0 {
		return 1, BindAvailability
	}
	low := excess(0)
	if low >= 0 {
		return 0, bind
	}
	// Regula falsi with the Illinois rule (Dowell & Jarratt 1971, BIT 11:168).
	a, b := 0.0, 1.0
	side := 0
	for range 20 {
		x := (a*high - b*low) / (high - low)
		v := excess(x)
		if math.Abs(v) < limitNear {
			return x, bind
		}
		if v > 0 {
			b, high = x, v
			if side == 1 {
				low /= 2
			}
			side = 1
		} else {
			a, low = x, v
			if side == -1 {
				high /= 2
			}
			side = -1
		}
	}
	return a, bind
}

// limitNear is how near a limit an effort is put, as a share of the limit.
const limitNear = 1e-5
