package physiology

import (
	"errors"
	"math"

	"glidepath/athlete"
	"glidepath/fault"
)

// Girths are what the tape equations need. Men: abdomen at the navel and neck.
// Women: waist at the narrowest, hip and neck.
type Girths struct {
	NeckCm, AbdomenCm, WaistCm, HipCm float64
}

// In women the neck is subtracted, as in men; some texts add it, which gives
// figures above 50 %.
func (g Girths) differenceCm(sex athlete.Sex) float64 {
	if sex == athlete.Male {
		return g.AbdomenCm - g.NeckCm
	}
	return g.WaistCm + g.HipCm - g.NeckCm
}

func (g Girths) check(sex athlete.Sex, heightCm float64) error {
	errs := []error{
		knownSex(sex),
		within("height_cm", heightCm, 120, 230, "cm"),
		within("girths_cm.neck", g.NeckCm, 20, 70, "cm"),
	}
	if sex == athlete.Male {
		errs = append(errs, within("girths_cm.abdomen", g.AbdomenCm, 45, 200, "cm"))
	} else {
		errs = append(errs, within("girths_cm.waist", g.WaistCm, 40, 200, "cm"),
			within("girths_cm.hip", g.HipCm, 60, 200, "cm"))
	}
	if g.differenceCm(sex) < 15 {
		errs = append(errs, fault.New(fault.Invalid,
			"the girths leave only %.1f cm once the neck of %.1f cm is taken off; the tape equation needs 15.",
			g.differenceCm(sex), g.NeckCm).WithField("girths_cm").WithHint("Check them and their unit, which is cm."))
	}
	return errors.Join(errs...)
}

// TapeBodyFat is per cent fat from girths and height, by the form in cm (Hodgdon
// & Beckett 1984, Naval Health Research Center reports 84-11 and 84-29: SE 3.52
// points in men, R 0.90; 3.72 in women, R 0.85). Neck 20 to 70 cm, men's abdomen
// 45 to 200 cm and at least 15 cm above the neck, women's waist 40 to 200 cm and
// hip 60 to 200 cm, height 120 to 230 cm. A fault too where the answer is not
// above zero, which a lean athlete with a thick neck can bring about.
func TapeBodyFat(sex athlete.Sex, g Girths, heightCm float64) (Estimate, error) {
	if err := g.check(sex, heightCm); err != nil {
		return Estimate{}, err
	}
	diff, height := math.Log10(g.differenceCm(sex)), math.Log10(heightCm)
	density, se := 1.0324-0.19077*diff+0.15456*height, 3.52
	if sex == athlete.Female {
		density, se = 1.29579-0.35004*diff+0.22100*height, 3.72
	}
	return aboveZero(Estimate{siri(Estimate{Value: density}).Value, se})
}

// TapeBodyFatInchForm is the later form, fitted directly to per cent fat in
// inches (Hodgdon & Friedl 1999; SE 3.61 points in women; that of the cm form is
// taken for men). It takes cm all the same. It differs from TapeBodyFat by a few
// tenths of a point, so a series keeps to one. Ranges as there.
func TapeBodyFatInchForm(sex athlete.Sex, g Girths, heightCm float64) (Estimate, error) {
	if err := g.check(sex, heightCm); err != nil {
		return Estimate{}, err
	}
	diff := math.Log10(g.differenceCm(sex) / athlete.CmPerInch)
	height := math.Log10(heightCm / athlete.CmPerInch)
	if sex == athlete.Male {
		return aboveZero(Estimate{86.010*diff - 70.041*height + 36.76, 3.52})
	}
	return aboveZero(Estimate{163.205*diff - 97.684*height - 78.387, 3.61})
}

// aboveZero refuses what the equations make of a lean waist under a thick neck.
func aboveZero(fat Estimate) (Estimate, error) {
	if fat.Value > 0 {
		return fat, nil
	}
	return Estimate{}, fault.New(fault.Invalid, "the tape equation makes %.1f %% body fat of these girths.", fat.Value).
		WithField("girths_cm").WithHint("It does not reach very lean athletes with a thick neck; take skinfolds.")
}
