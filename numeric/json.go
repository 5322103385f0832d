package numeric

import (
	"encoding/json"
	"math"
)

// OrNull is a number that is null in JSON where it is not finite: a question
// that does not arise.
type OrNull float64

// MarshalJSON implements json.Marshaler.
func (v OrNull) MarshalJSON() ([]byte, error) {
	if !v.Known() {
		return []byte("null"), nil
	}
	return json.Marshal(float64(v))
}

// UnmarshalJSON implements json.Unmarshaler.
func (v *OrNull) UnmarshalJSON(b []byte) error {
	if string(b) == "null" {
		*v = OrNull(math.NaN())
		return nil
	}
	return json.Unmarshal(b, (*float64)(v))
}

// Known reports whether the number is finite.
func (v OrNull) Known() bool { return !math.IsNaN(float64(v)) && !math.IsInf(float64(v), 0) }
