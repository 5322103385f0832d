package scenario

import (
	"time"

	"glidepath/athlete"
	"glidepath/civil"
)

// marcus has far too much to lose before his show.
func marcus() Spec {
	s := person{
		id: "marcus-oyelaran", name: "Marcus Oyelaran", sex: athlete.Male, born: civil.Of(1988, time.August, 19),
		heightCm: 180, kg: 113.0, fatPct: 23.5, years: 14, steps: 6000, weeks: 26,
	}.spec(midsummer.show("bodybuilding", 6))
	s.knows(3500)
	s.Athlete.Units = athlete.Imperial
	s.Athlete.StageWeights = []athlete.StageWeight{{Date: civil.Of(2021, time.June, 19), WeightKg: 90.3, BodyFatPct: new(6.0)}}
	s.Plan = []Step{
		{From: s.From, Phase: athlete.OffSeason, EnergyKcal: 3800, Steps: 6000, Reason: "gain through the winter"},
		{From: weeksBefore(3), Phase: athlete.Prep, EnergyKcal: 3250, Steps: 7000, CardioMinutes: 60, Reason: "prep begins"},
	}
	return s
}

// keoni hardly logs.
func keoni() Spec {
	s := person{
		id: "keoni-blackwood", name: "Keoni Blackwood", sex: athlete.Male, born: civil.Of(1997, time.February, 8),
		heightCm: 176, kg: 84.0, fatPct: 15.5, years: 6, steps: 8000, weeks: 22,
	}.spec(harvestFinal.show("men's physique", 8))
	s.Body.MaintenanceKcal = 3000
	s.Behaviour = Behaviour{ReportingFactor: 0.88, UnloggedExcess: 0.07, OffPlanPerWeek: 0.8}
	s.Logging = Logging{WeightShare: 0.18, IntakeShare: 0.1, GapDays: 6, StepsShare: 0.3, MarkersPer: 0.05, FeelingsPer: 0.2, SetsShare: 0.6, NoMacros: true}
	s.Measurements = s.Measurements[:1]
	s.Plan = []Step{
		{From: s.From, Phase: athlete.OffSeason, EnergyKcal: 2650, Steps: 8000},
		{From: weeksBefore(9), Phase: athlete.Prep, EnergyKcal: 2250, Steps: 9500, CardioMinutes: 60, Reason: "prep begins"},
	}
	return s
}

// hana stood on stage three weeks ago.
func hana() Spec {
	s := person{
		id: "hana-kobayashi-reyes", name: "Hana Kobayashi-Reyes", sex: athlete.Female, born: civil.Of(2000, time.April, 14),
		heightCm: 162, kg: 57.8, fatPct: 22, years: 4, steps: 9000, weeks: 26,
	}.spec(winterCup.show("bikini", 14))
	s.knows(1980)
	s.Athlete.StageWeights = []athlete.StageWeight{{Date: winterCup.date, WeightKg: 51.2, BodyFatPct: new(14.0)}}
	refeed := onDays(time.Saturday)
	after := winterCup.date.AddDays(1)
	s.Plan = []Step{
		{From: s.From, Phase: athlete.Prep, EnergyKcal: 1640, Steps: 9500, Reason: "prep begins"},
		{From: weeksBefore(18), Phase: athlete.Prep, EnergyKcal: 1570, Steps: 10500, CardioMinutes: 60, Refeeds: refeed},
		{From: weeksBefore(10), Phase: athlete.Prep, EnergyKcal: 1520, Steps: 11000, CardioMinutes: 100, Refeeds: refeed},
		{From: winterCup.date.AddDays(-5), Phase: athlete.PeakWeek, EnergyKcal: 1700, Steps: 9000, Reason: "as rehearsed"},
		{From: after, Phase: athlete.Recovery, EnergyKcal: 2150, Steps: 9000, CardioMinutes: 40, Reason: "recovery begins"},
		{From: after.AddDays(8), Phase: athlete.Recovery, EnergyKcal: 2230, Steps: 8500},
	}
	return s
}

// thabo gains in the off-season; his show is in 50 weeks.
func thabo() Spec {
	s := person{
		id: "thabo-lindqvist", name: "Thabo Lindqvist", sex: athlete.Male, born: civil.Of(1995, time.June, 21),
		heightCm: 183, kg: 97.0, fatPct: 16.0, years: 9, steps: 7500, weeks: 26,
	}.spec(winterCupNext.show("bodybuilding", 6))
	s.knows(3250)
	s.Plan = []Step{
		{From: s.From, Phase: athlete.OffSeason, EnergyKcal: 3450, Steps: 7500, Reason: "lean gain"},
		{From: weeksBefore(12), Phase: athlete.OffSeason, EnergyKcal: 3550, Steps: 7500, Reason: "the gain had stopped"},
	}
	return s
}

// anselm is 27 weeks out and weighing up when to start.
func anselm() Spec {
	s := person{
		id: "anselm-okonkwo-price", name: "Anselm Okonkwo-Price", sex: athlete.Male, born: civil.Of(1990, time.December, 1),
		heightCm: 174, kg: 90.6, fatPct: 16.5, years: 12, steps: 8000, weeks: 20,
	}.spec(harvestFinal.show("classic physique", 6.5))
	s.knows(2950)
	s.Athlete.StageWeights = []athlete.StageWeight{{Date: civil.Of(2023, time.September, 9), WeightKg: 78.9, BodyFatPct: new(6.0)}}
	s.Athlete.Shows[0].ClassLimit = &athlete.ClassLimit{HeightLess: new(100.0), AllowanceKg: 8}
	s.Athlete.Events = []athlete.Event{{
		From: civil.Of(2026, time.July, 6), To: civil.Of(2026, time.July, 12), Kind: "travel", Note: "a week by the sea", Maintenance: true,
	}}
	s.Plan = []Step{{From: s.From, Phase: athlete.OffSeason, EnergyKcal: 3000, Steps: 8000, Reason: "hold until the start is chosen"}}
	return s
}

// saoirse has just begun: ten days of logs, a caution without clearance, and a
// weight that was typed in pounds.
func saoirse() Spec {
	s := person{
		id: "saoirse-whitlock-tan", name: "Saoirse Whitlock-Tan", sex: athlete.Female, born: civil.Of(2003, time.September, 27),
		heightCm: 165, kg: 63.0, fatPct: 26, years: 1, steps: 7000, weeks: 1,
	}.spec(harvestFinal.show("bikini", 15))
	s.From = demoAsOf.AddDays(-10)
	s.Athlete.WeighedOn, s.Athlete.BodyFat[0].Date = s.From, s.From
	s.Athlete.Screening = athlete.Screening{AnsweredOn: s.From, Cautions: []athlete.Caution{athlete.Fainting}}
	s.Body.MaintenanceKcal = 2150
	s.Measurements = []Appointment{{Method: athlete.Tape, By: "herself", First: s.From.AddDays(3)}}
	s.Logging.WeightShare, s.Logging.IntakeShare = 1, 1
	return s
}
