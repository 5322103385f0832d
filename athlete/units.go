package athlete

import (
	"fmt"
	"strings"
)

// KmPerMile is exact (International Yard and Pound Agreement, 1959).
const KmPerMile = 1.609344

// Weight writes a weight in the reader's unit, to a tenth.
func (u Units) Weight(kg float64) string {
	return fmt.Sprintf("%.1f %s", u.WeightNumber(kg), u.WeightUnit())
}

// WeightNumber is a weight in the reader's unit.
func (u Units) WeightNumber(kg float64) float64 {
	if u == Imperial {
		return kg / KgPerPound
	}
	return kg
}

// WeightUnit is the reader's unit of weight.
func (u Units) WeightUnit() string {
	if u == Imperial {
		return "lb"
	}
	return "kg"
}

// Pace writes how hard cardio is to be done, as "5.0 km/h at 8 %" or "110 W"; "" where
// nothing is told. Each may be nil.
func (u Units) Pace(speedKmh, gradePct, watts *float64) string {
	var parts []string
	switch {
	case speedKmh == nil:
	case u == Imperial:
		parts = append(parts, fmt.Sprintf("%.1f mph", *speedKmh/KmPerMile))
	default:
		parts = append(parts, fmt.Sprintf("%.1f km/h", *speedKmh))
	}
	if gradePct != nil {
		parts = append(parts, fmt.Sprintf("%.0f %%", *gradePct))
	}
	if watts != nil {
		parts = append(parts, fmt.Sprintf("%.0f W", *watts))
	}
	return strings.Join(parts, " at ")
}
