// Package dynamics is how a body answers what it eats and does: fat, lean,
// glycogen with its water, extracellular fluid and adaptive thermogenesis, day
// by day. The adult model is that of Hall et al. 2011; on top of it stands a
// documented layer for the trained athlete (partition.go).
//
// Energies are in kcal, masses in kg, time in days. A step allocates nothing.
package dynamics

import (
	"math"
)

// Constants of the adult model (Hall KD, Sacks G, Chandramohan D, Chow CC, Wang
// YC, Gortmaker SL, Swinburn BA. Quantification of the effect of energy
// imbalance on bodyweight. Lancet 2011;378:826-37, web appendix), in kcal.
const (
	kcalPerMJ = 1 / 0.004184

	FatEnergyKcalPerKg      = 39.5 * kcalPerMJ  // rho_F
	LeanEnergyKcalPerKg     = 7.6 * kcalPerMJ   // rho_L
	GlycogenEnergyKcalPerKg = 17.6 * kcalPerMJ  // rho_G
	FatRestingKcalPerKg     = 0.013 * kcalPerMJ // gamma_F, a day
	LeanRestingKcalPerKg    = 0.092 * kcalPerMJ // gamma_L, a day
	FatSynthesisKcalPerKg   = 0.75 * kcalPerMJ  // eta_F
	LeanSynthesisKcalPerKg  = 0.96 * kcalPerMJ  // eta_L

	GlycogenWaterKgPerKg = 2.7 // h_G
	GlycogenBaselineKg   = 0.5 // G_init

	SodiumMgPerL         = 3220.0 // [Na] of extracellular fluid
	SodiumMgPerLDay      = 3000.0 // xi_Na
	SodiumCarbohydrateMg = 4000.0 // xi_CI, a day

	ThermicEffect      = 0.10 // beta_TEF, of the change in intake
	AdaptationGain     = 0.14 // beta_AT, of the change in intake
	AdaptationDays     = 14.0 // tau_AT
	ForbesKg           = 10.4 // Forbes GB. Hum Biol 1987; Hall 2007, Br J Nutr 97:1059
	forbesEnergyKg     = ForbesKg * LeanEnergyKcalPerKg / FatEnergyKcalPerKg
	leanSynthesisShare = LeanSynthesisKcalPerKg / LeanEnergyKcalPerKg
	fatSynthesisShare  = FatSynthesisKcalPerKg / FatEnergyKcalPerKg
	fluidRatePerDay    = SodiumMgPerLDay / SodiumMgPerL
	leanestFatKg       = 0.5 // the equations lose their meaning below; fat is held here
)

// Model is one person's parameters. The zero value is not usable: New fills it.
// Fields may be changed afterwards except where said.
type Model struct {
	RestKcal           float64 // K: the part of expenditure that depends on nothing below
	ActivityKcalPerKg  float64 // delta: activity that goes with body weight and is not logged, a day
	ActivityYield      float64 // share of logged activity energy that adds to expenditure
	IntakeBaselineKcal float64 // intake at which adaptation and the thermic effect are reckoned as nought
	AdaptationGain     float64
	AdaptationDays     float64 // fixed once New has run
	ThermicEffect      float64
	Partition          Partition

	CarbohydrateBaselineKcal float64 // fixed once New has run; positive
	GlycogenBaselineKg       float64 // fixed once New has run
	FluidBaselineKg          float64 // ECF_init, kg (litre for litre)

	glycogenRate    float64 // k_G/rho_G, per kg and day
	perCarbohydrate float64 // 1/CarbohydrateBaselineKcal
	adaptationDecay float64 // exp(-1/tau)
	adaptationMean  float64 // share of the gap still open, on average over a day
}

// New completes a model whose exported fields are set; zero AdaptationDays,
// GlycogenBaselineKg and ActivityYield take the published values (yield: 1).
// CarbohydrateBaselineKcal must be positive; New panics otherwise.
func New(m Model) Model {
	if !(m.CarbohydrateBaselineKcal > 0) {
		panic("dynamics: a model needs a positive baseline of carbohydrate")
	}
	if m.AdaptationDays == 0 {
		m.AdaptationDays = AdaptationDays
	}
	if m.GlycogenBaselineKg == 0 {
		m.GlycogenBaselineKg = GlycogenBaselineKg
	}
	if m.ActivityYield == 0 {
		m.ActivityYield = 1
	}
	m.glycogenRate = m.CarbohydrateBaselineKcal / (m.GlycogenBaselineKg * m.GlycogenBaselineKg) / GlycogenEnergyKcalPerKg
	m.perCarbohydrate = 1 / m.CarbohydrateBaselineKcal
	m.adaptationDecay = math.Exp(-1 / m.AdaptationDays)
	m.adaptationMean = m.AdaptationDays * (1 - m.adaptationDecay)
	return m
}

// State is a body on a morning.
type State struct {
	FatKg          float64
	LeanKg         float64 // without glycogen, its water and extracellular fluid
	GlycogenKg     float64
	FluidKg        float64 // extracellular
	AdaptationKcal float64 // adaptive thermogenesis, negative in a deficit
	IntakeMeanKcal float64 // intake of about the last week; 0 is not begun
}

// Input is one day's intake and activity.
type Input struct {
	EnergyKcal        float64
	CarbohydrateKcal  float64
	SodiumChangeMg    float64 // above the habitual
	ActivityKcalPerKg float64 // logged activity: steps, cardio, lifting, net of rest
}

// WeightKg is body weight.
func (s *State) WeightKg() float64 {
	return s.FatKg + s.LeanKg + (1+GlycogenWaterKgPerKg)*s.GlycogenKg + s.FluidKg
}

// FatFreeKg is everything but fat.
func (s *State) FatFreeKg() float64 { return s.WeightKg() - s.FatKg }

// BodyFatPct is fat as a per cent of body weight.
func (s *State) BodyFatPct() float64 { return 100 * s.FatKg / s.WeightKg() }

// ReferenceFatFreeKg is fat-free mass at baseline glycogen and fluid, the mass
// that neither a refeed nor a dry day changes.
func (m *Model) ReferenceFatFreeKg(s *State) float64 { return s.LeanKg + m.referenceWaterKg() }

// LeanFromFatFree is the lean compartment that makes a fat-free mass at
// baseline glycogen and fluid.
func (m *Model) LeanFromFatFree(fatFreeKg float64) float64 { return fatFreeKg - m.referenceWaterKg() }

func (m *Model) referenceWaterKg() float64 {
	return (1+GlycogenWaterKgPerKg)*m.GlycogenBaselineKg + m.FluidBaselineKg
}

// WaterKg is how much the glycogen, its water and the extracellular fluid weigh
// above baseline.
func (m *Model) WaterKg(s *State) float64 { return m.waterKg(s.GlycogenKg, s.FluidKg) }

func (m *Model) waterKg(glycogenKg, fluidKg float64) float64 {
	return (1+GlycogenWaterKgPerKg)*(glycogenKg-m.GlycogenBaselineKg) + fluidKg - m.FluidBaselineKg
}

// Fresh is a state of a fat mass and a reference fat-free mass with glycogen
// and fluid at baseline.
func (m *Model) Fresh(fatKg, fatFreeKg, adaptationKcal float64) State {
	return State{
		FatKg:          fatKg,
		LeanKg:         m.LeanFromFatFree(fatFreeKg),
		GlycogenKg:     m.GlycogenBaselineKg,
		FluidKg:        m.FluidBaselineKg,
		AdaptationKcal: adaptationKcal,
		IntakeMeanKcal: m.IntakeBaselineKcal,
	}
}

// MaintenanceKcal is the expenditure at which nothing is stored or drawn: what
// this body would spend today at an intake of intakeKcal, without the cost of
// tissue change (Hall 2011, expenditure equation without its last two terms).
func (m *Model) MaintenanceKcal(s *State, intakeKcal, activityKcalPerKg float64) float64 {
	return m.RestKcal + FatRestingKcalPerKg*s.FatKg + LeanRestingKcalPerKg*s.LeanKg +
		(m.ActivityKcalPerKg+m.ActivityYield*activityKcalPerKg)*s.WeightKg() +
		m.ThermicEffect*(intakeKcal-m.IntakeBaselineKcal) + s.AdaptationKcal
}

// BalanceKcal is the intake that equals expenditure at today's adaptation: the
// fixed point of MaintenanceKcal in its own intake.
func (m *Model) BalanceKcal(s *State, activityKcalPerKg float64) float64 {
	at0 := m.MaintenanceKcal(s, 0, activityKcalPerKg)
	return at0 / (1 - m.ThermicEffect)
}
