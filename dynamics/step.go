package dynamics

import "math"

// fluidDecay and its mean over a day: extracellular fluid relaxes with a time
// constant of 1.07 days (Hall 2011).
var (
	fluidDecay = math.Exp(-fluidRatePerDay)
	fluidMean  = (1 - fluidDecay) / fluidRatePerDay
)

// intakeMeanDays is the memory of State.IntakeMeanKcal (judgement: a week of
// food is what people eat by).
const intakeMeanDays = 7.0

// Reciprocals: the compiler keeps a division by a constant a division, and a
// division costs as much as a dozen multiplications.
const (
	fatKgPerKcal     = 1 / FatEnergyKcalPerKg
	leanKgPerKcal    = 1 / LeanEnergyKcalPerKg
	glycogenPerKcal  = 1 / GlycogenEnergyKcalPerKg
	fluidKgPerMg     = 1 / SodiumMgPerLDay
	intakeMeanPerDay = 1 / intakeMeanDays
)

// Step moves s on by one day of constant input and returns the day's
// expenditure, kcal.
//
// Glycogen (a Riccati equation), fluid and adaptation have closed forms over a
// day of constant input, so that refeeds and carbohydrate loads do not upset
// the step; fat and lean, which change slowly, go by the midpoint rule on the
// day's exact means. Against an adaptive integration the step errs by less than
// 0.003 kg over a year for the adult and 0.01 kg over a season for the trained
// (step_test.go). testdata/step.c is the same arithmetic in C.
func (m *Model) Step(s *State, in Input) (expenditureKcal float64) {
	g0 := s.GlycogenKg
	g1 := m.glycogenAfterDay(g0, in.CarbohydrateKcal)

	fluidEnd := m.fluidTarget(&in)
	gap := s.FluidKg - fluidEnd
	fluidMeanKg := fluidEnd + gap*fluidMean

	change := in.EnergyKcal - m.IntakeBaselineKcal
	adaptationEnd := m.AdaptationGain * change
	open := s.AdaptationKcal - adaptationEnd
	adaptationMean := adaptationEnd + open*m.adaptationMean

	x := in.EnergyKcal - GlycogenEnergyKcalPerKg*(g1-g0)
	activity := m.ActivityKcalPerKg + m.ActivityYield*in.ActivityKcalPerKg
	water := (1+GlycogenWaterKgPerKg)*0.5*(g0+g1) + fluidMeanKg
	constant := m.RestKcal + activity*water + m.ThermicEffect*change + adaptationMean
	perFat, perLean := FatRestingKcalPerKg+activity, LeanRestingKcalPerKg+activity

	usual := in.EnergyKcal
	if s.IntakeMeanKcal > 0 {
		usual = s.IntakeMeanKcal + (usual-s.IntakeMeanKcal)*intakeMeanPerDay
	}

	f, l := s.FatKg, s.LeanKg
	toFat, toLean := m.Partition.flux(f, constant+perFat*f+perLean*l, x, usual)
	f += toFat * (0.5 * fatKgPerKcal)
	l += toLean * (0.5 * leanKgPerKcal)
	if f < leanestFatKg {
		f = leanestFatKg
	}
	toFat, toLean = m.Partition.flux(f, constant+perFat*f+perLean*l, x, usual)

	f = s.FatKg + toFat*fatKgPerKcal
	if f < leanestFatKg {
		f = leanestFatKg
	}
	s.FatKg = f
	s.LeanKg += toLean * leanKgPerKcal
	s.GlycogenKg = g1
	s.FluidKg = fluidEnd + gap*fluidDecay
	s.AdaptationKcal = adaptationEnd + open*m.adaptationDecay
	s.IntakeMeanKcal = usual
	return x - toFat - toLean
}

// tanhSquareMost is the square of the argument up to which tanhRatio holds to
// 3e-12 of the value.
const tanhSquareMost = 4.0

// tanhRatio gives p/q = tanh(u)/u at u*u = w: the ninth convergent of Lambert's
// continued fraction 1/(1 + w/(3 + w/(5 + ...))).
func tanhRatio(w float64) (p, q float64) {
	p = 34459425 + w*(4729725+w*(135135+w*(990+w)))
	q = 34459425 + w*(16216200+w*(945945+w*(13860+w*45)))
	return p, q
}

// glycogenAfterDay solves rho_G dG/dt = CI - k_G G^2 over one day:
//
//	G1 = (G0 + CI/rho_G r) / (1 + G0 k_G/rho_G r), r = tanh(u)/u, u^2 = k_G CI/rho_G^2.
//
// In that form nothing carbohydrate (r = 1) is no case of its own, and with r as
// a quotient there is neither root nor exponential in it and one division.
func (m *Model) glycogenAfterDay(g, carbohydrateKcal float64) float64 {
	in := max(0, carbohydrateKcal) * glycogenPerKcal
	w := m.glycogenRate * in
	if w > tanhSquareMost {
		u := math.Sqrt(w)
		r := math.Tanh(u) / u
		return (g + in*r) / (1 + g*m.glycogenRate*r)
	}
	p, q := tanhRatio(w)
	return (g*q + in*p) / (q + g*m.glycogenRate*p)
}

// fluidTarget is where extracellular fluid settles under a day's input, kg.
func (m *Model) fluidTarget(in *Input) float64 {
	carbohydrate := SodiumCarbohydrateMg * (1 - in.CarbohydrateKcal*m.perCarbohydrate)
	return m.FluidBaselineKg + (in.SodiumChangeMg-carbohydrate)*fluidKgPerMg
}

// Derivative writes dF, dL, dG, dECF and dAT per day at y = (F, L, G, ECF, AT)
// into dst: the same model as a system of differential equations, for an
// accurate integrator. usual is the intake of about the last week, today
// included. dst and y have length 5.
func (m *Model) Derivative(dst, y []float64, in Input, usual float64) {
	g := y[2]
	toGlycogen := in.CarbohydrateKcal - m.glycogenRate*GlycogenEnergyKcalPerKg*g*g
	change := in.EnergyKcal - m.IntakeBaselineKcal
	weight := y[0] + y[1] + (1+GlycogenWaterKgPerKg)*g + y[3]
	base := m.RestKcal + FatRestingKcalPerKg*y[0] + LeanRestingKcalPerKg*y[1] +
		(m.ActivityKcalPerKg+m.ActivityYield*in.ActivityKcalPerKg)*weight +
		m.ThermicEffect*change + y[4]
	toFat, toLean := m.Partition.flux(y[0], base, in.EnergyKcal-toGlycogen, usual)
	dst[0] = toFat / FatEnergyKcalPerKg
	dst[1] = toLean / LeanEnergyKcalPerKg
	dst[2] = toGlycogen / GlycogenEnergyKcalPerKg
	dst[3] = fluidRatePerDay * (m.fluidTarget(&in) - y[3])
	dst[4] = (m.AdaptationGain*change - y[4]) / m.AdaptationDays
}
