package physiology

import (
	"errors"

	"glidepath/fault"
)

// Landmarks of energy availability, kcal/kg FFM/day. A single threshold is
// disputed, and none is known for men.
const (
	// HealthyAvailability is about where healthy people stand (Burke et al. 2018).
	HealthyAvailability = 45.0
	// LoucksAvailability is where luteinising hormone, T3 and bone markers turned
	// in trials of five days in women (Loucks & Thuma 2003; Ihle & Loucks 2004).
	LoucksAvailability = 30.0
	// FagerbergAvailability is below what natural male bodybuilders should not stay
	// (Fagerberg 2018, Int J Sport Nutr Exerc Metab 28:385).
	FagerbergAvailability = 25.0
	// SevereAvailability is where muscle made up more than 40 % of the loss (same
	// review).
	SevereAvailability = 20.0
)

// EnergyAvailability is (intake - exercise energy)/FFM, kcal/kg FFM/day. The
// exercise energy is net of what would have been spent anyway, lifting included.
// Intake 0 to 15,000 and exercise 0 to 8,000 kcal a day, FFM 20 to 150 kg. It may
// be negative.
func EnergyAvailability(intakeKcal, exerciseNetKcal, ffmKg float64) (float64, error) {
	err := errors.Join(
		within("intake_kcal", intakeKcal, 0, 15000, "kcal a day"),
		within("exercise_kcal", exerciseNetKcal, 0, 8000, "kcal a day"),
		within("ffm_kg", ffmKg, 20, 150, "kg"),
	)
	if err != nil {
		return 0, err
	}
	return (intakeKcal - exerciseNetKcal) / ffmKg, nil
}

// WrestlingClass is a group for which a minimum weight is set by rule.
type WrestlingClass string

// The groups, with the body fat at the minimum: 5, 7 and 12 %.
const (
	CollegeMen WrestlingClass = "college men"
	SchoolBoys WrestlingClass = "school boys"
	Women      WrestlingClass = "women"
)

// WrestlingMinimumKg is the lowest weight at which a wrestler of a fat-free mass
// may compete in the United States, kg: FFM over 0.95 for college men, 0.93 for
// school boys (from memory), 0.88 for women. The rule came after three deaths
// from weight cutting within five weeks of 1997, and is taken with the athlete
// well hydrated. It is a reference for a floor, not a target. FFM 20 to 150 kg.
func WrestlingMinimumKg(class WrestlingClass, ffmKg float64) (float64, error) {
	if err := within("ffm_kg", ffmKg, 20, 150, "kg"); err != nil {
		return 0, err
	}
	switch class {
	case CollegeMen:
		return ffmKg / 0.95, nil
	case SchoolBoys:
		return ffmKg / 0.93, nil
	case Women:
		return ffmKg / 0.88, nil
	}
	return 0, fault.New(fault.Invalid, "the wrestling class %q is not college men, school boys or women.", class).WithField("class")
}
