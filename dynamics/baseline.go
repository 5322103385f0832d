package dynamics

// Baseline describes an adult in energy balance, from which the published model
// starts.
type Baseline struct {
	WeightKg           float64
	FatKg              float64
	FluidKg            float64 // extracellular, litre for litre
	RestingKcal        float64 // resting expenditure, a day
	ActivityLevel      float64 // total over resting expenditure (PAL)
	CarbohydrateShare  float64 // of intake energy; 0 is one half
	GlycogenBaselineKg float64 // 0 is 0.5 kg
}

// FromBaseline gives the published adult model and the state at balance: intake
// is PAL times resting, delta = ((1 - beta_TEF) PAL - 1) RMR / BW, and K closes
// the balance (Hall 2011, appendix).
func FromBaseline(b Baseline) (Model, State) {
	share := b.CarbohydrateShare
	if share == 0 {
		share = 0.5
	}
	intake := b.ActivityLevel * b.RestingKcal
	m := New(Model{
		ActivityKcalPerKg:        ((1-ThermicEffect)*b.ActivityLevel - 1) * b.RestingKcal / b.WeightKg,
		IntakeBaselineKcal:       intake,
		AdaptationGain:           AdaptationGain,
		ThermicEffect:            ThermicEffect,
		Partition:                Adult(),
		CarbohydrateBaselineKcal: share * intake,
		GlycogenBaselineKg:       b.GlycogenBaselineKg,
		FluidBaselineKg:          b.FluidKg,
	})
	s := m.Fresh(b.FatKg, b.WeightKg-b.FatKg, 0)
	m.RestKcal = intake - FatRestingKcalPerKg*s.FatKg - LeanRestingKcalPerKg*s.LeanKg -
		m.ActivityKcalPerKg*s.WeightKg()
	return m, s
}

// Linear is the published linearisation about a starting point,
// dBW/dt = dEI/rho - (BW - BW0)/tau (Hall 2011, appendix eq 14).
type Linear struct {
	KcalPerKg float64 // rho
	TauDays   float64
}

// Linearise gives the linear model of an adult in balance.
func Linearise(b Baseline) Linear {
	delta := ((1-ThermicEffect)*b.ActivityLevel - 1) * b.RestingKcal / b.WeightKg
	alpha := ForbesKg / b.FatKg
	const beta = ThermicEffect + AdaptationGain
	top := FatSynthesisKcalPerKg + FatEnergyKcalPerKg +
		alpha*(LeanSynthesisKcalPerKg+LeanEnergyKcalPerKg)
	return Linear{
		KcalPerKg: top / ((1 - beta) * (1 + alpha)),
		TauDays:   top / (FatRestingKcalPerKg + delta + alpha*(LeanRestingKcalPerKg+delta)),
	}
}

// KcalPerDayPerKg is the lasting change of intake that ends in 1 kg.
func (l Linear) KcalPerDayPerKg() float64 { return l.KcalPerKg / l.TauDays }
