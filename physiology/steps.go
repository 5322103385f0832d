package physiology

import (
	"errors"

	"glidepath/athlete"
)

// Net cost of going on the level, kcal per kg and km (American College of Sports
// Medicine: 0.1 and 0.2 mL/kg/m at 5 kcal/L; second-hand).
const (
	WalkNetKcalPerKgKm = 0.5
	RunNetKcalPerKgKm  = 1.0
)

// StepLengthM is the length of a walking step, m: 0.415 of height in men, 0.413
// in women (second-hand). Height 120 to 230 cm.
func StepLengthM(sex athlete.Sex, heightCm float64) (float64, error) {
	if err := errors.Join(knownSex(sex), within("height_cm", heightCm, 120, 230, "cm")); err != nil {
		return 0, err
	}
	return bySex(sex, 0.415, 0.413) * heightCm / 100, nil
}

// StepsKm is the distance of a number of walking steps, km. Steps 0 to 100,000.
func StepsKm(sex athlete.Sex, heightCm, steps float64) (float64, error) {
	length, err := StepLengthM(sex, heightCm)
	if err = errors.Join(err, within("steps", steps, 0, 100000, "steps")); err != nil {
		return 0, err
	}
	return steps * length / 1000, nil
}

// StepsNetKcal is the energy over rest of a number of walking steps on the level,
// kcal. A counter's own error, 5 to 10 % at a normal pace and more when slow (from
// memory), comes on top. Weight 35 to 220 kg.
func StepsNetKcal(sex athlete.Sex, heightCm, weightKg, steps float64) (float64, error) {
	km, err := StepsKm(sex, heightCm, steps)
	if err = errors.Join(err, within("weight_kg", weightKg, 35, 220, "kg")); err != nil {
		return 0, err
	}
	return WalkNetKcalPerKgKm * weightKg * km, nil
}

// WalkStepsPerMile is the number of steps in a mile of walking: 63.4 pace - 14.1
// height in inches + 1916 for men, 1949 for women (Hoeger et al. 2008, ACSM's
// Health & Fitness J 12(1):14; coefficients from memory). Pace 15 to 20 minutes a
// mile, height 120 to 230 cm.
func WalkStepsPerMile(sex athlete.Sex, paceMinPerMile, heightCm float64) (float64, error) {
	err := errors.Join(
		knownSex(sex),
		within("pace", paceMinPerMile, 15, 20, "minutes a mile"),
		within("height_cm", heightCm, 120, 230, "cm"),
	)
	if err != nil {
		return 0, err
	}
	return bySex(sex, 1916.0, 1949) + 63.4*paceMinPerMile - 14.1*heightCm/athlete.CmPerInch, nil
}

// RunStepsPerMile is the number of steps in a mile of running: 1084 + 143.6 pace -
// 13.5 height in inches (same paper; coefficients from memory). Pace 6 to 12
// minutes a mile, height 120 to 230 cm.
func RunStepsPerMile(paceMinPerMile, heightCm float64) (float64, error) {
	err := errors.Join(
		within("pace", paceMinPerMile, 6, 12, "minutes a mile"),
		within("height_cm", heightCm, 120, 230, "cm"),
	)
	if err != nil {
		return 0, err
	}
	return 1084 + 143.6*paceMinPerMile - 13.5*heightCm/athlete.CmPerInch, nil
}
