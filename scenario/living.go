package scenario

import (
	"math"
	"slices"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
)

// orders are what the plan asks of a day.
type orders struct {
	weekend  bool
	away     bool
	kind     athlete.DayType
	kcal     float64 // on the scale of the log
	proteinG float64
	carbG    float64
	fatG     float64
	steps    float64
	cardio   []athlete.CardioBout
}

// Away from home a part of the days is logged, and more is eaten, with more salt
// (judgement).
const (
	awayLogged = 0.5
	awayExcess = 0.12
	awaySodium = 1.35
)

// away reports whether a date falls on a trip.
func (p *Person) away(on civil.Date) bool {
	return slices.ContainsFunc(p.spec.Trips, func(t Trip) bool { return on >= t.From && on <= t.To })
}

// weekendDay reports whether a date is a Saturday or a Sunday.
func weekendDay(on civil.Date) bool {
	return on.Weekday() == time.Saturday || on.Weekday() == time.Sunday
}

// orders reads the prescription for a date; without one the athlete lives by
// habit.
func (p *Person) orders(on civil.Date, plan *athlete.Prescription) orders {
	a := &p.spec.Athlete
	o := orders{weekend: weekendDay(on), away: p.away(on), kind: athlete.RestDay, steps: a.StepsPerDay}
	if p.trains[on.Weekday()] {
		o.kind = athlete.TrainingDay
	}
	if plan == nil || len(plan.Days) == 0 {
		o.kcal = p.habitKcal * p.report
		o.proteinG, o.carbG, o.fatG = habitProtein*o.kcal/4, habitCarb*o.kcal/4, habitFat*o.kcal/9
		o.cardio = boutsOn(on, athlete.CardioPlan{Kind: firstCardio(a), MinutesPerWeek: a.CardioMinutesPerWeek, Sessions: 3})
		return o
	}
	day := prescribedOn(plan, on.Weekday(), o.kind)
	o.kind = day.Type
	o.kcal, o.proteinG, o.carbG, o.fatG = day.EnergyKcal, day.ProteinG, day.CarbohydrateG, day.FatG
	if plan.Steps > 0 {
		o.steps = plan.Steps
	}
	for _, c := range plan.Cardio {
		o.cardio = append(o.cardio, boutsOn(on, c)...)
	}
	return o
}

// usualRefeeds are the days for refeeds that a plan counts without naming.
var usualRefeeds = []time.Weekday{time.Saturday, time.Wednesday, time.Sunday, time.Friday, time.Monday, time.Thursday, time.Tuesday}

// prescribedOn picks the day type that a plan has for a day of the week.
func prescribedOn(plan *athlete.Prescription, on time.Weekday, usual athlete.DayType) athlete.DayPrescribed {
	if r := plan.For(athlete.RefeedDay); r != nil {
		due := slices.Contains(plan.Refeeds, athlete.Weekday(on))
		if len(plan.Refeeds) == 0 {
			due = slices.Contains(usualRefeeds[:min(max(r.PerWeek, 0), 7)], on)
		}
		if due {
			return *r
		}
	}
	if d := plan.For(usual); d != nil {
		return *d
	}
	return plan.Days[0]
}

// boutsOn spreads a weekly dose of cardio evenly and gives the day's part.
func boutsOn(on civil.Date, c athlete.CardioPlan) []athlete.CardioBout {
	if c.Sessions < 1 || c.MinutesPerWeek <= 0 {
		return nil
	}
	sinceMonday := (int(on.Weekday()) + 6) % 7
	due := (sinceMonday+1)*c.Sessions/7 - sinceMonday*c.Sessions/7
	var bouts []athlete.CardioBout
	for range due {
		bouts = append(bouts, athlete.CardioBout{Kind: c.Kind, Minutes: c.MinutesPerWeek / float64(c.Sessions)})
	}
	return bouts
}

// netMET is the cost of a kind of cardio above rest, kcal per kg and hour
// (judgement, near the Compendium of Physical Activities less one).
func netMET(k athlete.CardioKind) float64 {
	switch k {
	case athlete.Posing:
		return 2
	case athlete.Walking:
		return 3
	case athlete.Elliptical:
		return 4.3
	case athlete.InclineWalk, athlete.Cycling:
		return 5.5
	case athlete.Rowing, athlete.Swimming:
		return 6
	case athlete.StairClimbing:
		return 7
	case athlete.Intervals:
		return 7.5
	case athlete.Running:
		return 8.5
	}
	return 4
}

func firstCardio(a *athlete.Athlete) athlete.CardioKind {
	if len(a.Cardio) > 0 {
		return a.Cardio[0]
	}
	return athlete.Walking
}

func trainingMinutes(a *athlete.Athlete) float64 {
	if a.TrainingMinutes > 0 {
		return a.TrainingMinutes
	}
	return 70
}

// detrainDays without lifting, and it no longer keeps lean mass (judgement).
const detrainDays = 21

// move does the day's walking, cardio and lifting; what was really done of the
// cardio replaces what was asked. A worn athlete does less of each.
func (p *Person) move(on civil.Date, o *orders) effort {
	a := &p.spec.Athlete
	z := p.walk.NormFloat64()
	skipsLifting := p.train.Float64() > p.habits.TrainingKept
	skipsCardio := p.train.Float64() > p.habits.CardioKept-0.15*p.mood.worn()
	ill := p.illDays > 0

	e := effort{strideM: p.strideM, idleFactor: 1, proteinPerKgL: p.protein}
	e.steps = o.steps * p.habits.StepsKept * (1 - 0.25*p.mood.worn()) * math.Exp(p.habits.StepsCV*z-p.habits.StepsCV*p.habits.StepsCV/2)
	if o.weekend {
		e.steps *= 0.95
	}
	if ill {
		e.steps *= 0.4
		e.restingExtra, e.idleFactor = 0.06, 0.7
	}
	if skipsCardio || ill {
		o.cardio = nil
	}
	for _, b := range o.cardio {
		e.cardioKcalKg += netMET(b.Kind) * b.Minutes / 60
	}
	if p.trains[on.Weekday()] && !skipsLifting && !ill {
		e.liftingHours = trainingMinutes(a) / 60
		p.idleDays = 0
	}
	e.trainsAtAll = p.idleDays < detrainDays
	p.idleDays++
	return e
}

// meal is a day's food with its salt, as eaten.
type meal struct {
	food
	sodiumMg float64
}

// dine eats the day. The plan is followed on the scale of the log, so what is
// under-reported is eaten on top.
func (p *Person) dine(o *orders, logged bool) meal {
	z, zp, zs := p.eat.NormFloat64(), p.eat.NormFloat64(), p.eat.NormFloat64()
	chance, size := p.eat.Float64(), p.eat.uniform(0.5, 1.5)

	aim := 1 + p.habits.Overshoot
	odds := p.habits.OffPlanPerWeek / 7 * 0.6
	if o.weekend {
		aim *= 1 + p.habits.WeekendExcess
		odds = p.habits.OffPlanPerWeek / 7 * 2
	}
	if !logged {
		aim *= 1 + p.habits.UnloggedExcess
	}
	if o.away {
		aim *= 1 + awayExcess
	}
	if p.illDays > 0 {
		aim *= 0.85
	}
	scale := aim * math.Max(0.5, 1+p.habits.IntakeCV*z) / p.report
	var m meal
	m.proteinG = o.proteinG * scale * (1 + 0.05*zp)
	m.carbG, m.fatG = o.carbG*scale, o.fatG*scale
	m.kcal = o.kcal * scale

	m.sodiumMg = p.water.sodiumHabitMg * math.Sqrt(m.kcal/p.habitKcal) * math.Exp(0.18*zs)
	if o.weekend {
		m.sodiumMg *= 1.25
	}
	if o.away {
		m.sodiumMg *= awaySodium
	}
	if chance < odds {
		extra := size * p.habits.OffPlanKcal
		m.kcal += extra
		m.proteinG += 0.12 * extra / 4
		m.carbG += 0.45 * extra / 4
		m.fatG += 0.43 * extra / 9
		m.sodiumMg += 1.8 * extra
	}
	return m
}
