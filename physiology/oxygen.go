package physiology

import (
	"errors"
	"math"
)

// Conversions of the metabolic equations, as the American College of Sports
// Medicine rounds them.
const (
	MPerMinPerMph    = 26.8
	MPerMinPerKmh    = 1000.0 / 60
	KgMPerMinPerWatt = 6.12 // 6.118 unrounded
	RestingOxygen    = OxygenUptake(3.5)
	KcalPerLitreO2   = 5.0
)

// OxygenUptake is a rate of oxygen uptake per kg of body weight, mL/kg/min, resting
// uptake included (gross).
type OxygenUptake float64

// MET is the uptake in multiples of the conventional resting 3.5 mL/kg/min.
func (v OxygenUptake) MET() MET { return MET(v / RestingOxygen) }

// GrossKcal is the energy spent in the minutes, resting included, at 5 kcal/L.
func (v OxygenUptake) GrossKcal(weightKg, minutes float64) float64 {
	return float64(v) * weightKg * minutes / 1000 * KcalPerLitreO2
}

// NetKcal is the energy over rest: what may be added to a day's budget that
// already holds the resting expenditure.
func (v OxygenUptake) NetKcal(weightKg, minutes float64) float64 {
	return (v - RestingOxygen).GrossKcal(weightKg, minutes)
}

// The metabolic equations (American College of Sports Medicine; Bushman 2020,
// ACSM's Health & Fitness J 24(3) and 24(4)) hold for steady state. In treadmill
// work their error for one person has a median of 12 % (Kim et al. 2019).

// WalkOxygen is 3.5 + 0.1 S + 1.8 S G: speed S 50 to 100 m/min (3.0 to 6.0 km/h),
// grade G a fraction, 0 to 0.3.
func WalkOxygen(speedMPerMin, grade float64) (OxygenUptake, error) {
	err := errors.Join(
		within("speed", speedMPerMin, 50, 100, "m/min of walking"),
		within("grade", grade, 0, 0.3, "as a fraction"),
	)
	if err != nil {
		return 0, err
	}
	return OxygenUptake(3.5 + 0.1*speedMPerMin + 1.8*speedMPerMin*grade), nil
}

// RunOxygen is 3.5 + 0.2 S + 0.9 S G: speed S 80 to 400 m/min, grade G a fraction,
// 0 to 0.3. Between 80 and 134 m/min (4.8 and 8.0 km/h) it holds only for somebody
// who truly runs.
func RunOxygen(speedMPerMin, grade float64) (OxygenUptake, error) {
	err := errors.Join(
		within("speed", speedMPerMin, 80, 400, "m/min of running"),
		within("grade", grade, 0, 0.3, "as a fraction"),
	)
	if err != nil {
		return 0, err
	}
	return OxygenUptake(3.5 + 0.2*speedMPerMin + 0.9*speedMPerMin*grade), nil
}

// LegCycleOxygen is 3.5 + 3.5 + 1.8 W/M for leg ergometry: rate of work W in
// kg·m/min (KgMPerMinPerWatt times watts), 0 to 2500; body mass M 35 to 220 kg. Held
// against measurement in 60 women an older form of it was 172 mL/min off in all
// (Latin & Berg 1994, Med Sci Sports Exerc 26:642).
func LegCycleOxygen(workKgMPerMin, weightKg float64) (OxygenUptake, error) {
	if err := ergometer(workKgMPerMin, 2500, weightKg); err != nil {
		return 0, err
	}
	return OxygenUptake(7 + 1.8*workKgMPerMin/weightKg), nil
}

// ArmCycleOxygen is 3.5 + 3 W/M for arm ergometry (from memory): rate of work W in
// kg·m/min, 0 to 1250; body mass M 35 to 220 kg.
func ArmCycleOxygen(workKgMPerMin, weightKg float64) (OxygenUptake, error) {
	if err := ergometer(workKgMPerMin, 1250, weightKg); err != nil {
		return 0, err
	}
	return OxygenUptake(3.5 + 3*workKgMPerMin/weightKg), nil
}

func ergometer(work, most, weightKg float64) error {
	return errors.Join(
		within("work", work, 0, most, "kg·m/min"),
		within("weight_kg", weightKg, 35, 220, "kg"),
	)
}

// StepOxygen is 3.5 + 0.2 f + 1.33·1.8 h f for stepping up and down a bench: rate f
// 12 to 30 steps a minute, each up and down again, height h 0.04 to 0.40 m. Held
// against measurement in 55 people it was 0.6 mL/kg/min off in the mean and 1.9 in
// all (Latin et al. 2001, Med Sci Sports Exerc 33).
func StepOxygen(heightM, stepsPerMin float64) (OxygenUptake, error) {
	err := errors.Join(
		within("height", heightM, 0.04, 0.40, "m"),
		within("steps", stepsPerMin, 12, 30, "steps a minute"),
	)
	if err != nil {
		return 0, err
	}
	return OxygenUptake(3.5 + 0.2*stepsPerMin + 1.33*1.8*heightM*stepsPerMin), nil
}

// MET is an intensity in multiples of rest.
type MET float64

// GrossKcal is the energy spent in the minutes, resting included, by the form of 1
// kcal/kg/h. The form of 3.5 mL/kg/min (MET times 3.5 times kg over 200, a minute)
// gives 5 % more: it is m.Oxygen().GrossKcal.
func (m MET) GrossKcal(weightKg, minutes float64) float64 {
	return float64(m) * weightKg * minutes / 60
}

// NetKcal is the energy over rest, by the form of 1 kcal/kg/h; never negative.
func (m MET) NetKcal(weightKg, minutes float64) float64 {
	return MET(math.Max(0, float64(m-1))).GrossKcal(weightKg, minutes)
}

// Oxygen is the uptake that the intensity stands for, at 3.5 mL/kg/min a MET.
func (m MET) Oxygen() OxygenUptake { return OxygenUptake(m) * RestingOxygen }

// Corrected restates a MET of the tables in multiples of the person's own resting
// rate: MET times 3.5 over their resting uptake (Byrne et al. 2005, J Appl Physiol
// 99:1112; from memory). Resting 600 to 4000 kcal a day, weight 35 to 220 kg.
func (m MET) Corrected(restingKcal, weightKg float64) (MET, error) {
	err := errors.Join(
		within("resting_kcal", restingKcal, 600, 4000, "kcal a day"),
		within("weight_kg", weightKg, 35, 220, "kg"),
	)
	if err != nil {
		return 0, err
	}
	const minutesPerDay = 24 * 60
	own := OxygenUptake(restingKcal / minutesPerDay / KcalPerLitreO2 * 1000 / weightKg)
	return m * MET(RestingOxygen/own), nil
}
