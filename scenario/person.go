package scenario

import (
	"fmt"
	"math"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
)

// Person is a simulated athlete who lives one day at a time, so that a plan can
// answer what they log. A Person is for one goroutine.
type Person struct {
	spec   Spec
	body   Body
	habits Behaviour

	tissue tissue
	water  water
	cycle  cycle
	mood   mood
	joints joints
	diary  diary
	gym    gym
	tester tester

	next      civil.Date
	trains    [7]bool
	strideM   float64
	habitKcal float64 // true intake that holds the first morning's tissue
	typical   float64 // true intake of the last fortnight
	report    float64 // today's reporting factor
	drift     float64
	protein   float64 // recent, g per kg lean
	illDays   int
	idleDays  int // since the last lifting

	eat, reporting, walk, train, illness, travel stream
}

// Lived is what one day leaves behind.
type Lived struct {
	Day          athlete.Day
	Sets         []athlete.Set
	Session      *athlete.Session // nil on a day without lifting
	Measurements []athlete.Measurement
	Truth        TruthDay
}

// Habitual diet before any plan, as shares of energy.
const (
	habitProtein = 0.25
	habitCarb    = 0.45
	habitFat     = 0.30
)

// New readies an athlete on the morning of spec.From. It panics where the spec
// cannot be lived: without a start date or a body.
func New(spec Spec, seed uint64) *Person {
	if spec.From.IsZero() || spec.FatKg <= 0 || spec.WeightKg <= spec.FatKg || spec.Athlete.HeightCm <= 0 {
		panic(fmt.Sprintf("scenario: %q cannot be simulated from %q with %v kg fat of %v kg",
			spec.Athlete.ID, spec.From, spec.FatKg, spec.WeightKg))
	}
	a := &spec.Athlete
	purpose := func(name string) stream { return newStream(seed, a.ID, name) }
	p := &Person{
		spec: spec, next: spec.From,
		body:   spec.Body.resolved(seed, a),
		habits: spec.Behaviour.resolved(seed, a),
		eat:    purpose("eat"), reporting: purpose("reporting"), walk: purpose("walk"),
		train: purpose("train"), illness: purpose("illness"), travel: purpose("travel"),
	}
	p.strideM = 0.415 * a.HeightCm / 100
	for _, d := range trainingDays(a) {
		p.trains[d] = true
	}
	p.settle(purpose)
	p.diary = newDiary(spec.Logging.resolved(seed, a), a, purpose)
	p.gym = newGym(a, p.tissue.leanKg, purpose)
	p.tester = newTester(spec.Measurements, purpose)
	return p
}

// trainingDays are the athlete's own, or four days a week.
func trainingDays(a *athlete.Athlete) []athlete.Weekday {
	if len(a.TrainingDays) > 0 {
		return a.TrainingDays
	}
	return []athlete.Weekday{
		athlete.Weekday(time.Monday), athlete.Weekday(time.Tuesday),
		athlete.Weekday(time.Thursday), athlete.Weekday(time.Friday),
	}
}

// settle sets the states of somebody who has lived by habit for long.
func (p *Person) settle(purpose func(string) stream) {
	a := &p.spec.Athlete
	p.tissue = tissue{
		body: p.body, sex: a.Sex, years: a.TrainingYears,
		fatKg: p.spec.FatKg, leanKg: p.spec.WeightKg - p.spec.FatKg,
	}
	if want := p.body.MaintenanceKcal; want > 0 {
		resting := p.tissue.restingKcal()
		p.tissue.body.RestingFactor *= 1 + (want-p.maintenance())*(1-habitThermic)/resting
		p.body.RestingFactor = p.tissue.body.RestingFactor
	}
	p.habitKcal = p.maintenance()
	p.typical = p.habitKcal
	p.report = p.habits.ReportingFactor
	p.protein = habitProtein * p.habitKcal / 4 / p.tissue.leanKg
	carb := habitCarb * p.habitKcal / 4
	p.tissue.glycogenFull0 = p.tissue.glycogenFull(carb)

	p.water = water{
		body: p.body, noiseKg: p.spec.WeightKg, habitKcal: p.habitKcal, carbLately: carb,
		slowNoise: purpose("slow fluid"), stuckNoise: purpose("gut"), fastNoise: purpose("scale"),
	}
	p.water.sodiumHabitMg = p.eat.normal(1500, 300, 900, 2300) * p.habitKcal / 1000
	p.water.slow = p.body.SlowFluidPct / 100 * p.spec.WeightKg * p.water.slowNoise.NormFloat64()
	p.startCycle(purpose("cycle"))
	p.mood = newMood(purpose("mood"), purpose("feelings"))
	p.joints = joints{perYear: p.habits.NigglesPerYear, noise: purpose("niggles")}
}

func (p *Person) startCycle(noise stream) {
	a := &p.spec.Athlete
	c := cycle{
		on: a.MenstrualCycle, kg: p.body.CycleKg, meanDays: a.CycleLengthDays, noise: noise,
		available: 40, lapseBelow: noise.normal(25, 3.5, 17, 32),
	}
	if c.meanDays == 0 {
		c.meanDays = 28
	}
	c.days = c.drawDays()
	c.day = 1 + noise.IntN(c.days)
	if start := p.spec.CycleStart; !start.IsZero() {
		c.day = 1 + max(0, p.spec.From.DaysSince(start))%c.days
	}
	p.cycle = c
}

// habitThermic is the share of the habitual diet that digesting it costs.
var habitThermic = (food{kcal: 1, proteinG: habitProtein / 4, carbG: habitCarb / 4, fatG: habitFat / 9}).thermic()

// maintenance is the true intake of the habitual diet that holds the present
// tissue with the profile's habitual activity, kcal/day.
func (p *Person) maintenance() float64 {
	a := &p.spec.Athlete
	move := p.tissue.moveKcal(effort{
		steps: a.StepsPerDay, strideM: p.strideM,
		cardioKcalKg: netMET(firstCardio(a)) * a.CardioMinutesPerWeek / 60 / 7,
		liftingHours: trainingMinutes(a) / 60 * float64(len(trainingDays(a))) / 7,
	})
	return (p.tissue.restingKcal() + p.tissue.spontaneousKcal() + move) / (1 - habitThermic)
}

// ReportedMaintenanceKcal is what the athlete would log at the start if they ate
// to hold their weight, kcal/day.
func (p *Person) ReportedMaintenanceKcal() float64 { return p.habitKcal * p.habits.ReportingFactor }

// Body gives the personal constants with every drawn one filled in.
func (p *Person) Body() Body { return p.body }

// Behaviour gives the behaviour with every drawn part filled in.
func (p *Person) Behaviour() Behaviour { return p.habits }

// Next is the day that Live expects.
func (p *Person) Next() civil.Date { return p.next }

// Live lives one day under a prescription, nil for the habits before any plan.
// Days must be lived in order from spec.From without a gap; Live panics
// otherwise.
func (p *Person) Live(on civil.Date, plan *athlete.Prescription) Lived {
	if on != p.next {
		panic(fmt.Sprintf("scenario: %s lived out of turn; next is %s", on, p.next))
	}
	p.next++
	p.wake()

	lived := Lived{Truth: p.morning(on), Measurements: p.appointments(on)}
	today := p.orders(on, plan)
	p.fallIll()
	logs := p.diary.open(on)
	if today.away {
		logs.weight = false
		logs.intake = logs.intake && p.travel.Float64() < awayLogged
	}
	did := p.move(on, &today)
	ate := p.dine(&today, logs.intake)

	lived.Session, lived.Sets = p.lift(on, did.liftingHours > 0)
	p.joints.wake()
	lived.Day = p.write(&lived.Truth, logs, &today, did, ate)
	p.close(&lived.Truth, did, ate)
	return lived
}

// wake lets the reporting factor wander on.
func (p *Person) wake() {
	const wanderDays = 40
	keep := math.Exp(-1.0 / wanderDays)
	p.drift = keep*p.drift + p.habits.ReportingDrift*math.Sqrt(1-keep*keep)*p.reporting.NormFloat64()
	p.report = clamp(p.habits.ReportingFactor*(1+p.drift), 0.7, 1.15)
}

// morning is the truth as the day starts.
func (p *Person) morning(on civil.Date) TruthDay {
	t := TruthDay{
		Date: on, FatKg: p.tissue.fatKg, LeanKg: p.tissue.leanKg,
		WeightKg: p.tissue.fatKg + p.tissue.leanKg, GlycogenKg: p.tissue.glycogenKg,
		WaterKg:         p.water.settled(p.tissue.glycogenKg, p.cycle.waterKg()),
		ReportingFactor: p.report, Fatigue: p.mood.fatigue, Missed: p.cycle.lapsed(),
	}
	t.ScaleKg = t.WeightKg + t.WaterKg + p.water.fast
	return t
}

// close carries the day's doings into the body and completes its truth.
func (p *Person) close(t *TruthDay, did effort, ate meal) {
	before := p.tissue.fatKg + p.tissue.leanKg
	t.IntakeKcal, t.Steps, t.Ill = ate.kcal, did.steps, p.illDays > 0
	t.ExpenditureKcal = p.tissue.live(ate.food, did)
	p.typical += (ate.kcal - p.typical) * approach(14)
	t.ReportedScaleExpenditureKcal = t.ExpenditureKcal - (1-p.report)*p.typical

	p.protein += (ate.proteinG/p.tissue.leanKg - p.protein) * approach(7)
	p.water.live(ate.food, ate.sodiumMg, p.tissue.depleted())
	exercise := before * (p.body.MoveFactor*did.cardioKcalKg + liftingMET*did.liftingHours)
	p.cycle.live((ate.kcal - exercise) / p.tissue.leanKg)
	p.mood.lift(did.liftingHours)
	p.mood.live(p.tissue.depleted(), (t.ExpenditureKcal-ate.kcal)/t.ExpenditureKcal, did.cardioKcalKg, p.illDays > 0)
}

// fallIll starts and ends illnesses of four to nine days.
func (p *Person) fallIll() {
	start := p.illness.Float64() < p.habits.IllnessPerYear/365
	days := 4 + p.illness.IntN(6)
	switch {
	case p.illDays > 0:
		p.illDays--
	case start:
		p.illDays = days
	}
}
