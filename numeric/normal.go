package numeric

import (
	"math"
)

// Normal is a normal distribution.
type Normal struct {
	Mean float64 `json:"mean"`
	SD   float64 `json:"sd"`
}

// z90 and z50 are the half-widths of the central 90 and 50 % of a standard
// normal distribution.
const (
	z90 = 1.6448536269514722
	z50 = 0.6744897501960817
)

// Interval is an estimate with its central 50 and 90 % intervals.
type Interval struct {
	Value  float64 `json:"value"`
	Low50  float64 `json:"low_50"`
	High50 float64 `json:"high_50"`
	Low90  float64 `json:"low_90"`
	High90 float64 `json:"high_90"`
}

// Interval gives the central intervals of the distribution.
func (n Normal) Interval() Interval {
	return Interval{
		Value: n.Mean,
		Low50: n.Mean - z50*n.SD, High50: n.Mean + z50*n.SD,
		Low90: n.Mean - z90*n.SD, High90: n.Mean + z90*n.SD,
	}
}

// Scale multiplies every value; a negative factor turns the intervals round.
func (v Interval) Scale(factor float64) Interval {
	out := Interval{v.Value * factor, v.Low50 * factor, v.High50 * factor, v.Low90 * factor, v.High90 * factor}
	if factor < 0 {
		out.Low50, out.High50 = out.High50, out.Low50
		out.Low90, out.High90 = out.High90, out.Low90
	}
	return out
}

// SD is the standard deviation of the normal distribution whose central 90 % the
// interval is.
func (v Interval) SD() float64 { return (v.High90 - v.Low90) / 2 / z90 }

// Below is the probability of a value under x.
func (n Normal) Below(x float64) float64 {
	if n.SD <= 0 {
		if n.Mean < x {
			return 1
		}
		return 0
	}
	return 0.5 * math.Erfc((n.Mean-x)/(n.SD*math.Sqrt2))
}

// Above is the probability of a value over x.
func (n Normal) Above(x float64) float64 { return 1 - n.Below(x) }

// Quantile of sorted values by linear interpolation between order statistics
// (type 7 of Hyndman & Fan 1996, Am Stat 50:361). sorted must not be empty;
// p is clamped to 0..1.
func Quantile(sorted []float64, p float64) float64 {
	at := math.Max(0, math.Min(1, p)) * float64(len(sorted)-1)
	i := int(at)
	if i >= len(sorted)-1 {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// IntervalOf gives the median and central intervals of sorted values.
func IntervalOf(sorted []float64) Interval {
	return Interval{
		Value: Quantile(sorted, 0.5),
		Low50: Quantile(sorted, 0.25), High50: Quantile(sorted, 0.75),
		Low90: Quantile(sorted, 0.05), High90: Quantile(sorted, 0.95),
	}
}
