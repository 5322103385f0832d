package physiology

import (
	"errors"
	"math"

	"glidepath/numeric"
)

// Forbes's partition describes untrained, free-living adults. Athletes who lift
// and eat enough protein lose far less fat-free mass: observed losses in
// published preparations are 0.16 to 0.84 of it. The dynamics scale it.

// LeanShareOfEnergy is the share of an energy imbalance that goes to lean
// tissue: C/(C + F), C = 2.001 kg (Forbes 1987 in the form of Hall 2007, Br J
// Nutr 97:1059). fatKg from 0; it panics below.
func LeanShareOfEnergy(fatKg float64) float64 { return forbesShare(PartitionKg, fatKg) }

// LeanShareOfMass is dFFM/dBW for a small change: 10.4/(10.4 + F) (Forbes 1987).
// fatKg from 0; it panics below.
func LeanShareOfMass(fatKg float64) float64 { return forbesShare(ForbesKg, fatKg) }

func forbesShare(c, fatKg float64) float64 {
	if !(fatKg >= 0) {
		panic("physiology: negative fat mass")
	}
	return c / (c + fatKg)
}

// TissueKcalPerKg is the energy held in a kg of weight change at a fat mass by
// Forbes's partition, kcal/kg. It is far below 7700 in the lean: 4292 at 5 kg of
// fat. fatKg from 0; it panics below.
func TissueKcalPerKg(fatKg float64) float64 {
	lean := LeanShareOfMass(fatKg)
	return lean*LeanEnergyKcalPerKg + (1-lean)*FatEnergyKcalPerKg
}

// DepositKcalPerKg is TissueKcalPerKg with the cost of laying the tissue down,
// kcal/kg: what a kg of gain asks for. fatKg from 0; it panics below.
func DepositKcalPerKg(fatKg float64) float64 {
	lean := LeanShareOfMass(fatKg)
	return TissueKcalPerKg(fatKg) + lean*LeanSynthesisKcalPerKg + (1-lean)*FatSynthesisKcalPerKg
}

// AfterWeightChange is the fat mass, kg, after a tissue weight change of any size
// and the change of fat-free mass that goes with it, kg, by Forbes's curve
// integrated (Hall 2007, Br J Nutr 97:1059): F = 10.4 W(Fi/10.4 exp((Fi +
// dBW)/10.4)), W being Lambert's function; dFFM is the rest of the change. Initial
// fat 0.5 to 200 kg, change -150 to 150 kg and less than the fat and lean there
// is. Forbes's curve loses too little fat-free mass when losses are very large.
func AfterWeightChange(fatKg, changeKg float64) (fatAfterKg, ffmChangeKg float64, err error) {
	err = errors.Join(
		within("fat_kg", fatKg, 0.5, 200, "kg"),
		within("change_kg", changeKg, -150, 150, "kg"),
	)
	if err != nil {
		return 0, 0, err
	}
	after := ForbesKg * numeric.LambertW0(fatKg/ForbesKg*math.Exp((fatKg+changeKg)/ForbesKg))
	return after, changeKg - (after - fatKg), nil
}
