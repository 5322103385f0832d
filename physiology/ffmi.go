package physiology

import "errors"

// KouriSlope is what normalising adds to the fat-free mass index per metre below
// 1.80 m, as in the abstract of Kouri et al. 1995, Clin J Sport Med 5:223. The
// 6.1 that is widely copied is not in it.
const KouriSlope = 6.3

// KouriCeiling is the highest normalised index among the non-users of steroids
// whom Kouri et al. measured, kg/m2. It is a limit of their sample of men, not a
// law: champions before steroids averaged 25.4 in the same paper.
const KouriCeiling = 25.0

// FFMI is the fat-free mass index, kg/m2. FFM 20 to 150 kg, height 120 to 230 cm.
func FFMI(ffmKg, heightCm float64) (float64, error) {
	err := errors.Join(
		within("ffm_kg", ffmKg, 20, 150, "kg"),
		within("height_cm", heightCm, 120, 230, "cm"),
	)
	if err != nil {
		return 0, err
	}
	return ffmKg / square(heightCm/100), nil
}

// NormalisedFFMI is FFMI brought to a height of 1.80 m (Kouri et al. 1995), kg/m2.
// The normalising was fitted on men. Ranges as for FFMI.
func NormalisedFFMI(ffmKg, heightCm float64) (float64, error) {
	raw, err := FFMI(ffmKg, heightCm)
	if err != nil {
		return 0, err
	}
	return raw + KouriSlope*(1.80-heightCm/100), nil
}
