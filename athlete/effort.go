package athlete

// EffortScale is how a person says how close a set came to failure. The log keeps
// repetitions in reserve.
type EffortScale string

// The scales. Exertion is 10 less the repetitions in reserve, in half points
// (Zourdos et al. 2016, J Strength Cond Res 30:267).
const (
	InReserve EffortScale = "rir"
	Exertion  EffortScale = "rpe"
)

// OfRIR is repetitions in reserve on the scale, and the other way round: it is its
// own inverse.
func (s EffortScale) OfRIR(v float64) float64 {
	if s == Exertion {
		const failure = 10
		return failure - v
	}
	return v
}
