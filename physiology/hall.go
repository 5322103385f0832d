package physiology

import (
	"errors"
	"math"

	"glidepath/athlete"
)

// KcalPerKJ turns kilojoules into thermochemical kilocalories, exactly.
const KcalPerKJ = 1 / 4.184

// Constants of the adult body-weight model (Hall et al. 2011, Lancet 378:826,
// and its web appendix; second-hand where no remark stands).
const (
	// Energy of the tissues, kcal/kg: 39.5, 7.6 and 17.6 MJ/kg. That of glycogen
	// is verified (appendix, page 1).
	FatEnergyKcalPerKg      = 39500 * KcalPerKJ
	LeanEnergyKcalPerKg     = 7600 * KcalPerKJ
	GlycogenEnergyKcalPerKg = 17600 * KcalPerKJ

	// What a kg of tissue spends at rest, kcal/kg/day: 13 and 92 kJ.
	FatRestingKcalPerKg  = 13 * KcalPerKJ
	LeanRestingKcalPerKg = 92 * KcalPerKJ

	// The cost of laying down a kg of tissue, kcal/kg: 750 and 960 kJ.
	FatSynthesisKcalPerKg  = 750 * KcalPerKJ
	LeanSynthesisKcalPerKg = 960 * KcalPerKJ

	// Shares of a change in intake that go to the thermic effect of food at once
	// and to adaptive thermogenesis in time; the time constant is from memory.
	ThermicShare   = 0.10
	AdaptiveShare  = 0.14
	AdaptationDays = 14

	// Glycogen at the start, kg, and the water that each kg binds, kg (verified).
	GlycogenInitialKg = 0.5
	WaterPerGlycogen  = 2.7

	// Sodium and extracellular fluid: mg/L in the fluid, mg/L/day excreted for
	// each litre too many, mg/day retained per relative change of carbohydrate (all
	// from memory).
	SodiumMgPerL             = 3220
	SodiumExcretedMgPerLDay  = 3000
	SodiumCarbohydrateMgADay = 4000

	// ForbesKg is the fat mass, kg, at which a weight change is half fat-free
	// (Forbes 1987).
	ForbesKg = 10.4
	// PartitionKg is the same as a share of energy: 10.4 rho_L / rho_F.
	PartitionKg = ForbesKg * LeanEnergyKcalPerKg / FatEnergyKcalPerKg
)

// InitialActivityKcalPerKg is the cost of moving about, kcal/kg/day, that closes
// the energy balance of a weight-stable adult: ((1 - 0.10) PAL - 1) RMR / weight
// (Hall et al. 2011). pal is total over resting expenditure, 1.2 to 3.0;
// restingKcal 600 to 4000 a day; weight 35 to 220 kg.
func InitialActivityKcalPerKg(pal, restingKcal, weightKg float64) (float64, error) {
	err := errors.Join(
		within("pal", pal, 1.2, 3.0, "times resting"),
		within("resting_kcal", restingKcal, 600, 4000, "kcal a day"),
		within("weight_kg", weightKg, 35, 220, "kg"),
	)
	if err != nil {
		return 0, err
	}
	return ((1-ThermicShare)*pal - 1) * restingKcal / weightKg, nil
}

// InitialFatKg is the fat mass of an average sedentary adult, kg: per cent fat =
// 0.14 age + 37.31 ln BMI - 103.94 for men; 39.96 and -102.01 for women (Jackson
// et al. 2002, Int J Obes 26:789, as used by Hall et al. 2011; second-hand).
//
// WARNING: never use it for a trained athlete. It reads muscle as fat: a lean
// man of 90 kg, 180 cm and 30 years comes out at 24 %. It is here so that the
// adult model can be checked against its published cases. For an athlete start
// from BodyFatFromMeasurement.
func InitialFatKg(b Body) (float64, error) {
	if err := b.check(); err != nil {
		return 0, err
	}
	bmi := b.WeightKg / square(b.HeightCm/100)
	pct := 0.14*b.AgeYears + bySex(b.Sex, 37.31, 39.96)*math.Log(bmi) + bySex(b.Sex, -103.94, -102.01)
	if err := within("body_fat_pct", pct, 1, 70, "per cent"); err != nil {
		return 0, err
	}
	return b.WeightKg * pct / 100, nil
}

// InitialExtracellularL is extracellular fluid, litres, from age, height and
// weight (Silva et al. 2007, as used by Hall et al. 2011; from memory).
func InitialExtracellularL(b Body) (float64, error) {
	if err := b.check(); err != nil {
		return 0, err
	}
	heightM := b.HeightCm / 100
	if b.Sex == athlete.Male {
		return 0.025*b.AgeYears + 9.57*heightM + 0.191*b.WeightKg - 12.4, nil
	}
	return 5.98*heightM + 0.167*b.WeightKg - 4.0, nil
}
