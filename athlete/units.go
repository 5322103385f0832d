package athlete

import "fmt"

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
