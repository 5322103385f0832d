package cardio

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/physiology"
)

// Lifting is a day's lifting.
type Lifting struct {
	Minutes  float64 // 0 for none
	Vigorous bool    // short rests throughout; most sessions are not
}

// DayCost is the net energy of what somebody did in a day, kcal.
type DayCost struct {
	StepsKcal   float64 `json:"steps_kcal"` // of steps outside the bouts
	CardioKcal  float64 `json:"cardio_kcal"`
	LiftingKcal float64 `json:"lifting_kcal"`
	// SEKcal is the standard error of all of it for this person.
	SEKcal float64 `json:"se_kcal"`
	// StepsInBouts is how many of the day's steps the bouts were taken to hold.
	StepsInBouts float64  `json:"steps_in_bouts,omitempty"`
	Notes        []string `json:"notes,omitempty"`
}

// TotalKcal is everything.
func (c DayCost) TotalKcal() float64 { return c.StepsKcal + c.ExerciseKcal() }

// ExerciseKcal is cardio and lifting, without everyday steps: what energy
// availability takes off.
func (c DayCost) ExerciseKcal() float64 { return c.CardioKcal + c.LiftingKcal }

// DayEnergy is the energy over rest of a day's steps, cardio and lifting. Lifting
// is Compendium 02054 (3.5 MET over the whole session, rests included), or 02050
// (6.0 MET) where vigorous.
//
// Steps are not counted twice: a counter worn all day holds the steps of walks,
// incline walks and runs that are logged as cardio, so those steps, reckoned from
// the bout's distance, are taken off the day's first. Stairs, ellipticals and
// intervals take nothing off, since counters differ there.
//
// A bout outside what the equations hold for, of which nothing is claimed, is taken
// at the kind's default intensity, with a note; one with a code that there is not is
// not counted. The error is Invalid for a body outside the bounds, or an unknown
// kind.
func DayEnergy(d *athlete.Day, b Body, l Lifting) (DayCost, error) {
	var out DayCost
	if err := checkWeight(b.WeightKg); err != nil {
		return DayCost{}, err
	}
	var boutsSE float64
	for _, bout := range d.Cardio {
		e, err := out.bout(&bout, b.WeightKg)
		if err != nil {
			return DayCost{}, err
		}
		out.CardioKcal += e.NetKcal
		boutsSE += e.SEKcal // of one person, whose economy is in all of them
		steps, err := stepsIn(bout, b)
		if err != nil {
			return DayCost{}, err
		}
		out.StepsInBouts += steps
	}
	if d.Steps != nil {
		out.StepsInBouts = math.Min(out.StepsInBouts, *d.Steps)
		kcal, err := physiology.StepsNetKcal(b.Sex, b.HeightCm, b.WeightKg, *d.Steps-out.StepsInBouts)
		if err != nil {
			return DayCost{}, err
		}
		out.StepsKcal = kcal
	} else {
		out.StepsInBouts = 0
	}
	lifting, err := liftingKcal(l, b.WeightKg)
	out.LiftingKcal = lifting
	out.SEKcal = math.Hypot(math.Hypot(boutsSE, stepsLogSD*out.StepsKcal), codeLogSD*lifting)
	return out, err
}

// stepsLogSD is the error of the energy of steps: that of the walking equation, and
// of a counter, 5 to 10 % (from memory).
const stepsLogSD = 0.18

// bout is the energy of a bout. One that the equations cannot take is put at its
// usual intensity.
func (c *DayCost) bout(bout *athlete.CardioBout, weightKg float64) (BoutEnergy, error) {
	e, err := EnergyOf(*bout, weightKg)
	switch {
	case err == nil && e.Note == "":
	case err == nil:
		c.Notes = append(c.Notes, e.Note)
	case bout.Kind == athlete.OtherActivity:
		c.Notes = append(c.Notes, fmt.Sprintf("%v It is not counted.", err))
		return BoutEnergy{}, nil
	default:
		plain := athlete.CardioBout{Kind: bout.Kind, Minutes: bout.Minutes}
		usual, second := EnergyOf(plain, weightKg)
		if second != nil {
			return BoutEnergy{}, second
		}
		c.Notes = append(c.Notes, fmt.Sprintf("%s: %v The usual intensity is taken.", bout.Kind, err))
		*bout, e = plain, usual
	}
	return e, nil
}

func liftingKcal(l Lifting, weightKg float64) (float64, error) {
	code := "02054"
	if l.Vigorous {
		code = "02050"
	}
	rate, err := fromCode(code, weightKg)
	return rate.NetKcalPerMin * l.Minutes, err
}

// stepsIn is how many steps a bout on foot holds: its distance over the step
// length for walking, and by pace for running.
func stepsIn(bout athlete.CardioBout, b Body) (float64, error) {
	km := func(kmh float64) float64 { return orElse(bout.SpeedKmh, kmh) * bout.Minutes / 60 }
	switch bout.Kind {
	case athlete.Walking, athlete.InclineWalk:
		usual := walkKmh
		if bout.Kind == athlete.InclineWalk {
			usual = inclineKmh
		}
		length, err := physiology.StepLengthM(b.Sex, b.HeightCm)
		if err != nil {
			return 0, err
		}
		return 1000 * km(usual) / length, nil
	case athlete.Running:
		// The regression holds for 6 to 12 minutes a mile; its end is taken beyond.
		pace := 60 * athlete.KmPerMile / orElse(bout.SpeedKmh, runKmh)
		perMile, err := physiology.RunStepsPerMile(math.Max(6, math.Min(12, pace)), b.HeightCm)
		if err != nil {
			return 0, err
		}
		return perMile * km(runKmh) / athlete.KmPerMile, nil
	}
	return 0, nil
}
