package scenario

import (
	"time"

	"glidepath/athlete"
	"glidepath/civil"
)

// priya is on path in the middle of a prep.
func priya() Spec {
	s := person{
		id: "priya-raghunath", name: "Priya Raghunath", sex: athlete.Female, born: civil.Of(1996, time.May, 11),
		heightCm: 163, kg: 62.0, fatPct: 22.5, years: 7, steps: 8000, weeks: 24,
	}.spec(midsummer.show("figure", 12.5))
	s.knows(2060)
	s.Athlete.StageWeights = []athlete.StageWeight{{Date: civil.Of(2024, time.June, 8), WeightKg: 53.2, BodyFatPct: new(12.5)}}
	s.Body.AdaptationGain, s.Body.SpontaneousDrop = 0.1, 0.25
	refeed := onDays(time.Saturday)
	s.Plan = []Step{
		{From: s.From, Phase: athlete.OffSeason, EnergyKcal: 2060, Steps: 8000, Reason: "hold while the logs settle"},
		{From: weeksBefore(20), Phase: athlete.Prep, EnergyKcal: 1760, Steps: 9000, Refeeds: refeed, Reason: "prep begins"},
		{From: weeksBefore(13), Phase: athlete.Prep, EnergyKcal: 1700, Steps: 10000, CardioMinutes: 60, Refeeds: refeed, Reason: "steps first, a little cardio"},
		{From: weeksBefore(6), Phase: athlete.Prep, EnergyKcal: 1660, Steps: 10500, CardioMinutes: 90, Refeeds: refeed, Reason: "the trend had slowed"},
	}
	return s
}

// dmitri was cut hard six weeks ago and is losing too fast.
func dmitri() Spec {
	s := person{
		id: "dmitri-halvorsen", name: "Dmitri Halvorsen", sex: athlete.Male, born: civil.Of(1993, time.October, 2),
		heightCm: 178, kg: 92.5, fatPct: 16, years: 10, steps: 8500, weeks: 24,
	}.spec(midsummer.show("classic physique", 6.5))
	s.knows(3050)
	s.Body.LeanLossFactor, s.Body.FatSupplyKcalPerKg = 1.8, 90
	s.Plan = []Step{
		{From: s.From, Phase: athlete.OffSeason, EnergyKcal: 3050, Steps: 8500},
		{From: weeksBefore(16), Phase: athlete.Prep, EnergyKcal: 2650, Steps: 9000, CardioMinutes: 60, Reason: "prep begins"},
		{From: weeksBefore(6), Phase: athlete.Prep, EnergyKcal: 2080, ProteinG: 150, Steps: 11500, CardioMinutes: 270, Reason: "the athlete asked to be lean sooner"},
	}
	return s
}

// lucia's scale has just jumped by water.
func lucia() Spec {
	s := person{
		id: "lucia-ferrandez", name: "Lucía Ferrández", sex: athlete.Female, born: civil.Of(1998, time.January, 23),
		heightCm: 166, kg: 71.8, fatPct: 25.5, years: 6, steps: 7500, weeks: 22,
	}.spec(midsummer.show("wellness", 17))
	s.knows(2230)
	s.Athlete.CycleLengthDays = 28
	s.Body.CycleKg, s.Body.FastNoisePct = 1.9, 0.3
	s.CycleStart = civil.Of(2025, time.September, 14) // which brings bleeding to the demo's morning
	refeed := onDays(time.Saturday)
	s.Plan = []Step{
		{From: s.From, Phase: athlete.OffSeason, EnergyKcal: 2230, Steps: 7500},
		{From: weeksBefore(15), Phase: athlete.Prep, EnergyKcal: 1880, Steps: 9000, Refeeds: refeed, Reason: "prep begins"},
		{From: weeksBefore(7), Phase: athlete.Prep, EnergyKcal: 1780, Steps: 10000, CardioMinutes: 60, Refeeds: refeed, RefeedKcal: 600},
	}
	return s
}

// aroha has slowed down and needs a small change.
func aroha() Spec {
	s := person{
		id: "aroha-jensen", name: "Aroha Jensen", sex: athlete.Female, born: civil.Of(1991, time.July, 30),
		heightCm: 168, kg: 64.6, fatPct: 19.5, years: 11, steps: 9000, weeks: 23,
	}.spec(mayClassic.show("women's physique", 11.5))
	s.knows(2240)
	s.Body.AdaptationGain, s.Body.SpontaneousDrop, s.Body.AdaptationLagDays = 0.2, 0.55, 25
	s.Plan = []Step{
		{From: s.From, Phase: athlete.OffSeason, EnergyKcal: 2240, Steps: 9000},
		{From: weeksBefore(19), Phase: athlete.Prep, EnergyKcal: 1900, Steps: 10000, CardioMinutes: 40, Reason: "prep begins"},
		{From: weeksBefore(11), Phase: athlete.Prep, EnergyKcal: 1850, Steps: 10500, CardioMinutes: 60},
	}
	return s
}

// callum eats, and logs, well above the plan.
func callum() Spec {
	s := person{
		id: "callum-devereaux-singh", name: "Callum Devereaux-Singh", sex: athlete.Male, born: civil.Of(1999, time.March, 17),
		heightCm: 181, kg: 88.0, fatPct: 17.5, years: 5, steps: 7000, weeks: 20,
	}.spec(harvestFinal.show("men's physique", 8))
	s.Behaviour.Overshoot, s.Behaviour.WeekendExcess, s.Behaviour.OffPlanPerWeek = 0.12, 0.09, 0.7
	s.knows(2850)
	s.Plan = []Step{
		{From: s.From, Phase: athlete.OffSeason, EnergyKcal: 2500, Steps: 7000, Reason: "he eats above whatever is written"},
		{From: weeksBefore(10), Phase: athlete.Prep, EnergyKcal: 2280, Steps: 9000, CardioMinutes: 60, Reason: "prep begins"},
		{From: weeksBefore(5), Phase: athlete.Prep, EnergyKcal: 2200, Steps: 9500, CardioMinutes: 90},
	}
	return s
}

// noor is two weeks before the show and nearly there.
func noor() Spec {
	s := person{
		id: "noor-bakhtiari", name: "Noor Bakhtiari", sex: athlete.Female, born: civil.Of(1994, time.November, 5),
		heightCm: 160, kg: 59.9, fatPct: 22, years: 9, steps: 9500, weeks: 26,
	}.spec(thawOpen.show("figure", 12.8))
	s.knows(2080)
	s.Body.LeanLossFactor, s.Body.SpontaneousDrop = 0.5, 0.25
	refeed := onDays(time.Saturday)
	s.Plan = []Step{
		{From: s.From, Phase: athlete.Prep, EnergyKcal: 1760, Steps: 9500, Reason: "prep begins"},
		{From: weeksBefore(17), Phase: athlete.Prep, EnergyKcal: 1700, Steps: 10500, CardioMinutes: 60, Refeeds: refeed},
		{From: weeksBefore(9), Phase: athlete.Prep, EnergyKcal: 1640, Steps: 11000, CardioMinutes: 100, Refeeds: refeed},
		{From: weeksBefore(3), Phase: athlete.Prep, EnergyKcal: 1680, Steps: 11000, CardioMinutes: 80, Refeeds: refeed, Reason: "close: ease off a little"},
	}
	return s
}
