package scenario

import "glidepath/athlete"

// The spreads here are judgement. Reported intake is low by a fifth in athletes
// at large (Capling et al. 2017, Nutrients 9:1313); those who are coached and
// weigh their food are taken to do better.

// resolved gives the body with every parameter set.
func (b Body) resolved(seed uint64, a *athlete.Athlete) Body {
	s := newStream(seed, a.ID, "body")
	fill(&b.RestingFactor, s.normal(1, 0.07, 0.82, 1.18))
	fill(&b.SpontaneousKcalPerKg, s.normal(4.5, 1.3, 1.5, 8))
	fill(&b.MoveFactor, s.normal(1, 0.08, 0.8, 1.2))
	fill(&b.AdaptationGain, s.uniform(0.04, 0.22))
	fill(&b.AdaptationLagDays, s.uniform(5, 30))
	fill(&b.SpontaneousDrop, s.uniform(0.1, 0.6))
	fill(&b.LeanLossFactor, s.lognormal(0.65, 0.45, 0.2, 3))
	fill(&b.FatSupplyKcalPerKg, s.normal(100, 10, 75, 130))
	fill(&b.LeanEnergyKcalPerKg, s.uniform(1200, 1800))
	fill(&b.GlycogenWater, s.uniform(2.5, 4))
	fill(&b.GlycogenLagDays, s.uniform(1, 3))
	fill(&b.SlowFluidPct, s.uniform(0.2, 0.5))
	fill(&b.SlowFluidDays, s.uniform(6, 20))
	fill(&b.FastNoisePct, s.uniform(0.3, 0.65))
	fill(&b.FastNoiseCarry, s.uniform(0.1, 0.4))
	fill(&b.CycleKg, s.lognormal(0.6, 0.5, 0.1, 2))
	return b
}

// resolved gives the behaviour with every parameter set.
func (h Behaviour) resolved(seed uint64, a *athlete.Athlete) Behaviour {
	s := newStream(seed, a.ID, "behaviour")
	fill(&h.ReportingFactor, s.normal(0.94, 0.05, 0.85, 1.05))
	fill(&h.ReportingDrift, s.uniform(0.005, 0.02))
	fill(&h.Overshoot, s.uniform(0, 0.02))
	fill(&h.IntakeCV, s.uniform(0.04, 0.09))
	fill(&h.WeekendExcess, s.uniform(0, 0.10))
	fill(&h.OffPlanPerWeek, s.uniform(0, 0.8))
	fill(&h.OffPlanKcal, s.uniform(400, 900))
	fill(&h.UnloggedExcess, s.uniform(0, 0.08))
	fill(&h.StepsKept, s.normal(0.98, 0.04, 0.85, 1.08))
	fill(&h.StepsCV, s.uniform(0.10, 0.22))
	fill(&h.CardioKept, s.uniform(0.85, 1))
	fill(&h.TrainingKept, s.uniform(0.92, 1))
	fill(&h.IllnessPerYear, s.uniform(0.5, 2.5))
	fill(&h.NigglesPerYear, s.uniform(0.2, 1.5))
	return h
}

// resolved gives the habits of the log with every parameter set.
func (l Logging) resolved(seed uint64, a *athlete.Athlete) Logging {
	s := newStream(seed, a.ID, "logging habits")
	fill(&l.WeightShare, s.uniform(0.75, 1))
	fill(&l.IntakeShare, s.uniform(0.7, 1))
	fill(&l.GapDays, s.uniform(1.2, 3))
	fill(&l.StepsShare, s.uniform(0.85, 1))
	fill(&l.MarkersPer, s.uniform(0.3, 0.9))
	fill(&l.SetsShare, s.uniform(0.85, 1))
	fill(&l.FeelingsPer, s.uniform(0.15, 0.6))
	return l
}
