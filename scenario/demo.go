package scenario

import (
	"math"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
)

// Roster is a coach's whole roster on a date.
type Roster struct {
	AsOf    civil.Date
	Seasons []Season // by athlete's ID
}

// demoSeed fixes the demo's noise.
const demoSeed = 20260302

// demoAsOf is the Monday on which the demo is looked at.
var demoAsOf = civil.Of(2026, time.March, 2)

// The invented show circuit.
var (
	winterCup     = venue{"winter-cup-2026", "Lantern Coast Winter Cup", civil.Of(2026, time.February, 7)}
	thawOpen      = venue{"thaw-open-2026", "Lantern Coast Thaw Open", civil.Of(2026, time.March, 15)}
	mayClassic    = venue{"may-classic-2026", "Lantern Coast May Classic", civil.Of(2026, time.May, 16)}
	midsummer     = venue{"midsummer-2026", "Lantern Coast Midsummer Stage", civil.Of(2026, time.June, 20)}
	harvestFinal  = venue{"harvest-final-2026", "Lantern Coast Harvest Final", civil.Of(2026, time.September, 5)}
	winterCupNext = venue{"winter-cup-2027", "Lantern Coast Winter Cup", civil.Of(2027, time.February, 13)}
)

type venue struct {
	id, name string
	date     civil.Date
}

// show enters an athlete in a division, to be at a body fat, per cent.
func (v venue) show(division string, targetPct float64) athlete.Show {
	return athlete.Show{ID: v.id, Name: v.name, Date: v.date, Division: division, TargetBodyFatPct: targetPct}
}

// Demo is an invented roster of twelve athletes of one invented coach and one
// invented show circuit, as known on the morning of Monday 2026-03-02. Any
// likeness to a person or a show is chance. Who is there, and why:
//
//	anselm-okonkwo-price    classic physique, 27 weeks out, weighing up when to start
//	aroha-jensen            women's physique, a little behind, a small change will do
//	callum-devereaux-singh  men's physique, logs well above the plan: adherence is the issue
//	dmitri-halvorsen        classic physique, losing too fast, lifts dropping
//	hana-kobayashi-reyes    bikini, three weeks after the show
//	keoni-blackwood         men's physique, seldom on the scale, hardly a meal logged
//	lucia-ferrandez         wellness, cycle logged, the scale has just jumped by water
//	marcus-oyelaran         bodybuilding, some 50 lb too much for a show in 16 weeks
//	noor-bakhtiari          figure, two weeks before the show, nearly there
//	priya-raghunath         figure, on path in the middle of a prep
//	saoirse-whitlock-tan    bikini, ten days of logs, an open caution, a weight typed in pounds
//	thabo-lindqvist         bodybuilding, gaining in the off-season, show in 50 weeks
func Demo() Roster {
	specs := []Spec{
		anselm(), aroha(), callum(), dmitri(), hana(), keoni(),
		lucia(), marcus(), noor(), priya(), saoirse(), thabo(),
	}
	r := Roster{AsOf: demoAsOf}
	for i := range specs {
		specs[i].To = demoAsOf
		specs[i].Programmes = specs[i].programmes(1 + i%3)
		season := Simulate(specs[i], demoSeed)
		r.Seasons = append(r.Seasons, season.Until(demoAsOf))
	}
	typedInPounds(&r.Seasons[10], weeksBefore(1).AddDays(2))
	return r
}

// typedInPounds makes the first weight on or after a date one that was typed in
// pounds into a field for kilograms.
func typedInPounds(s *Season, from civil.Date) {
	for i := range s.Days {
		if d := &s.Days[i]; d.Date >= from && d.WeightKg != nil {
			d.WeightKg = new(roundTo(*d.WeightKg/athlete.KgPerPound, 0.1))
			return
		}
	}
}

func weeksBefore(n int) civil.Date { return demoAsOf.AddDays(-7 * n) }

// person is what tells one demo athlete from another on the first day.
type person struct {
	id, name string
	sex      athlete.Sex
	born     civil.Date
	heightCm float64
	kg       float64 // tissue
	fatPct   float64
	years    float64 // of training
	steps    float64
	weeks    int // of logs
}

// spec starts a demo athlete's spec with what they have in common.
func (p person) spec(shows ...athlete.Show) Spec {
	from := weeksBefore(p.weeks)
	a := athlete.Athlete{
		ID: p.id, Name: p.name, Sex: p.sex, BirthDate: p.born, HeightCm: p.heightCm,
		WeightKg: roundTo(p.kg, 0.1), WeighedOn: from, Units: athlete.Metric,
		TrainingYears: p.years, StepsPerDay: p.steps, StepsPerDayMax: p.steps + 5000,
		TrainingDays: onDays(time.Monday, time.Tuesday, time.Thursday, time.Friday), TrainingMinutes: 75,
		Cardio: []athlete.CardioKind{athlete.InclineWalk, athlete.Cycling}, CardioMinutesMax: 300,
		MenstrualCycle: p.sex == athlete.Female,
		Screening:      athlete.Screening{AnsweredOn: from},
		Shows:          shows,
		BodyFat: []athlete.Measurement{{
			Date: from, Method: athlete.Eye, By: coachName, BodyFatPct: new(math.Round(p.fatPct)),
		}},
	}
	return Spec{
		Athlete: a, From: from, FatKg: p.kg * p.fatPct / 100, WeightKg: p.kg,
		Measurements: []Appointment{
			{Method: athlete.Calipers7, By: coachName, First: from.AddDays(2), EveryDays: 28, BiasPct: new(-0.5)},
			{Method: athlete.Scan, By: "clinic scanner", First: from.AddDays(9), EveryDays: 28, BiasPct: new(0.4)},
			{Method: athlete.Eye, By: coachName, First: from.AddDays(14), EveryDays: 14, BiasPct: new(0.3)},
		},
		Behaviour: Behaviour{ReportingFactor: 0.95, OffPlanPerWeek: 0.2, WeekendExcess: 0.02, IllnessPerYear: 0.5},
		Logging:   Logging{WeightShare: 0.94, IntakeShare: 0.9, GapDays: 1.5},
	}
}

func onDays(days ...time.Weekday) []athlete.Weekday {
	var out []athlete.Weekday
	for _, d := range days {
		out = append(out, athlete.Weekday(d))
	}
	return out
}

// knows records the maintenance that the athlete logs, kcal a day, and makes it
// true.
func (s *Spec) knows(reportedKcal float64) {
	s.Athlete.MaintenanceEnergyKcal = new(reportedKcal)
	s.Body.MaintenanceKcal = reportedKcal / s.Behaviour.ReportingFactor
}
