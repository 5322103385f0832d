package scenario

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// stream is a random stream for one athlete and one purpose.
type stream struct{ *rand.Rand }

func newStream(seed uint64, id, purpose string) stream {
	h := fnv.New64a()
	_, _ = h.Write([]byte(id + "/" + purpose)) // a hash never fails to write
	return stream{rand.New(rand.NewPCG(seed, h.Sum64()))}
}

// normal draws from a normal distribution cut off at low and high.
func (s stream) normal(mean, sd, low, high float64) float64 {
	return clamp(mean+sd*s.NormFloat64(), low, high)
}

// lognormal draws with a given median and SD of the logarithm, cut off.
func (s stream) lognormal(median, sd, low, high float64) float64 {
	return clamp(median*math.Exp(sd*s.NormFloat64()), low, high)
}

func (s stream) uniform(low, high float64) float64 { return low + (high-low)*s.Float64() }

// tailDegrees of freedom give the fast noise its heavy tails.
const tailDegrees = 5

// heavy draws from Student's t with tailDegrees, scaled to SD 1.
func (s stream) heavy() float64 {
	var chi2 float64
	for range tailDegrees {
		z := s.NormFloat64()
		chi2 += z * z
	}
	t := s.NormFloat64() / math.Sqrt(chi2/tailDegrees)
	return t * math.Sqrt((tailDegrees-2.0)/tailDegrees)
}

// fill sets a parameter left at zero to the drawn value, and a negative one to
// none. The draw happens in any case, so that setting one parameter leaves the
// others as they were.
func fill(p *float64, drawn float64) {
	switch {
	case *p == 0:
		*p = drawn
	case *p < 0:
		*p = 0
	}
}

func clamp(v, low, high float64) float64 { return math.Max(low, math.Min(high, v)) }

func roundTo(v, unit float64) float64 { return math.Round(v/unit) * unit }

// approach is the share of the way to its target that a first-order lag covers
// in a day.
func approach(lagDays float64) float64 { return 1 - math.Exp(-1/lagDays) }
