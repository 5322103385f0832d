package cardio

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/physiology"
)

// BoutEnergy is what a bout took over rest.
type BoutEnergy struct {
	NetKcal float64 `json:"net_kcal"`
	SEKcal  float64 `json:"se_kcal"` // standard error for this person
	Source  string  `json:"source"`
	Note    string  `json:"note,omitempty"` // a sentence where something was set aside
}

// sharedLogSD is the part of every estimate's error that is the person's own
// economy: neither an equation nor a display knows it, so that two of them agree on
// more than they know (judgement: economy differs by some 10 % between people).
const sharedLogSD = 0.10

// farSDs is how far a claim may be from the estimate, in SDs of their difference,
// before it is taken for a slip (judgement).
const farSDs = 3.0

// display is how what a machine or a watch shows compares with the truth.
type display struct {
	over  float64 // shown over true, at the median
	logSD float64 // of the display's own, besides the shared part
}

// displayOf is the display that made a claim; an unnamed one is a watch, which is
// believed least.
//
//   - A watch: no device of seven came within 20 % and the best had a median error of
//     27 %, in either direction (Shcherbina et al. 2017, J Pers Med 7:3; the 27 % is
//     second-hand).
//   - An elliptical trainer: five models showed 33, 25, about 9 and -3 % too much and,
//     the last, 100 kcal in half an hour (an abstract in Med Sci Sports Exerc on 15
//     people; two in the conference proceedings of Int J Exerc Sci 2; Glave et al. 2018,
//     Exerc Med 2, with 215 kcal supposed to be true): 1.2 in the geometric mean, with
//     an SD of 0.17 between models.
//   - Other machines: judgement. Most reckon from speed, grade or watts as we do.
func displayOf(b athlete.CardioBout) display {
	switch {
	case b.ClaimedBy != athlete.ByMachine:
		return display{1, 0.34} // ln 1.27 over 0.6745, less the shared part
	case b.Kind == athlete.Elliptical:
		return display{1.2, 0.18}
	}
	return display{1.1, 0.18}
}

// EnergyOf is the energy of a bout over rest for a body weight of 35 to 220 kg.
//
// A claim of a machine or a watch, taken as gross, is put right by how much such
// displays show too much and weighed with the estimate of RateOf: on the scale of
// logarithms, each by the inverse of its variance, but for the shared part. A claim
// three SDs from the estimate is taken for a slip and set aside. Where there is no
// estimate, since the bout is outside what the equations hold for, the claim stands
// alone. Energy is never below rest.
//
// The error is that of RateOf where nothing is claimed.
func EnergyOf(b athlete.CardioBout, weightKg float64) (BoutEnergy, error) {
	rate, err := RateOf(b, weightKg)
	claimed := b.ClaimedKcal != nil && *b.ClaimedKcal > 0 && b.Minutes > 0
	if err != nil && (!claimed || checkWeight(weightKg) != nil) {
		return BoutEnergy{}, err
	}
	est := estimate{math.Log((rate.NetKcalPerMin + rate.RestKcalPerMin) * b.Minutes), math.Sqrt(sq(rate.LogSD) - sq(sharedLogSD))}
	if !claimed {
		return est.over(rate.RestKcalPerMin*b.Minutes, BoutEnergy{Source: rate.Source}), nil
	}
	d := displayOf(b)
	by := b.ClaimedBy
	if by == "" {
		by = "display"
	}
	claim := estimate{math.Log(*b.ClaimedKcal / d.over), d.logSD}
	if err != nil {
		rest := physiology.MET(1).GrossKcal(weightKg, b.Minutes)
		return claim.over(rest, BoutEnergy{
			Source: fmt.Sprintf("the %s's claim", by),
			Note:   fmt.Sprintf("%s: %v The %s's claim stands alone.", b.Kind, err, by),
		}), nil
	}
	rest := rate.RestKcalPerMin * b.Minutes
	if math.Abs(claim.ln-est.ln) > farSDs*math.Hypot(claim.own, est.own) {
		return est.over(rest, BoutEnergy{
			Source: rate.Source,
			Note: fmt.Sprintf("%s: the %s's %.0f kcal are too far from the %.0f of %s and are left out.",
				b.Kind, by, *b.ClaimedKcal, math.Exp(est.ln), rate.Source),
		}), nil
	}
	return est.with(claim).over(rest, BoutEnergy{Source: fmt.Sprintf("%s, weighed with the %s's claim", rate.Source, by)}), nil
}

// estimate is the logarithm of a gross energy with the SD that is its own, besides
// the shared part.
type estimate struct{ ln, own float64 }

// with is the mean of two estimates, each weighed by the inverse of its variance.
func (e estimate) with(other estimate) estimate {
	a, b := 1/sq(e.own), 1/sq(other.own)
	return estimate{(a*e.ln + b*other.ln) / (a + b), 1 / math.Sqrt(a+b)}
}

// over fills in the energy over rest. The error is that of the gross energy: rest
// is a convention and has none.
func (e estimate) over(restKcal float64, out BoutEnergy) BoutEnergy {
	gross := math.Exp(e.ln)
	out.NetKcal = math.Max(0, gross-restKcal)
	out.SEKcal = gross * math.Hypot(e.own, sharedLogSD)
	return out
}

func sq(v float64) float64 { return v * v }
