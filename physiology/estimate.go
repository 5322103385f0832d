package physiology

import (
	"errors"
	"math"

	"glidepath/athlete"
	"glidepath/fault"
)

// Estimate is a value with its standard error (one standard deviation of the
// error for an individual, not for a group's mean), both in the unit that the
// function returning it names.
type Estimate struct {
	Value float64 `json:"value"`
	SE    float64 `json:"se"`
}

// Body is what the equations need to know of a person.
type Body struct {
	Sex      athlete.Sex
	AgeYears float64 // 14 to 90
	HeightCm float64 // 120 to 230
	WeightKg float64 // 35 to 220
	FatKg    float64 // 0 is not known
}

// FFMKg is the fat-free mass, kg. It means something only where FatKg is known.
func (b Body) FFMKg() float64 { return b.WeightKg - b.FatKg }

func (b Body) check() error {
	return errors.Join(
		knownSex(b.Sex),
		within("age_years", b.AgeYears, 14, 90, "years"),
		within("height_cm", b.HeightCm, 120, 230, "cm"),
		within("weight_kg", b.WeightKg, 35, 220, "kg"),
	)
}

func knownSex(s athlete.Sex) error {
	if s == athlete.Female || s == athlete.Male {
		return nil
	}
	return fault.New(fault.Invalid, "sex is %q; the published equations need female or male.", s).WithField("sex")
}

// within refuses a value outside the closed range; NaN is outside every range.
func within(field string, v, low, high float64, unit string) error {
	if v >= low && v <= high {
		return nil
	}
	return fault.New(fault.Invalid, "%.6g is outside %g to %g %s.", v, low, high, unit).
		WithField(field).WithHint("The equation holds only there; check the value and its unit.")
}

func bySex[T any](s athlete.Sex, male, female T) T {
	if s == athlete.Male {
		return male
	}
	return female
}

func square(x float64) float64 { return x * x }

// interpolate gives y at x on the broken line through (xs, ys), with xs
// increasing; beyond the ends it holds the end's value.
func interpolate(xs, ys []float64, x float64) float64 {
	for i, high := range xs {
		if x > high {
			continue
		}
		if i == 0 {
			return ys[0]
		}
		t := (x - xs[i-1]) / (high - xs[i-1])
		return ys[i-1] + t*(ys[i]-ys[i-1])
	}
	return ys[len(ys)-1]
}

// combine adds independent errors.
func combine(errs ...float64) float64 {
	var sum float64
	for _, e := range errs {
		sum += square(e)
	}
	return math.Sqrt(sum)
}
