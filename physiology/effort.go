package physiology

import "math"

// The scale of effort by repetitions in reserve (Zourdos et al. 2016, J Strength
// Cond Res 30:267): 10 is none left; 9.5 none left but more load; 9, 8 and 7 are
// one, two and three left; 5 to 6 are four to six left (the last from memory).
// Below 5 the scale has words, not repetitions.
var (
	scaleRPE = []float64{5, 6, 7, 8, 9, 10}
	scaleRIR = []float64{6, 4, 3, 2, 1, 0}
)

// InReserve is the repetitions in reserve at a rating of perceived exertion from
// 5 to 10, straight between the lines of the scale, except that 9.5 and above is
// none.
func InReserve(rpe float64) (Estimate, error) {
	if err := within("rpe", rpe, 5, 10, "on the scale of effort"); err != nil {
		return Estimate{}, err
	}
	rir := 0.0
	if rpe < 9.5 {
		rir = interpolate(scaleRPE, scaleRIR, rpe)
	}
	return Estimate{Value: rir, SE: InReserveSE(rir)}, nil
}

// Exertion is the rating of perceived exertion at 0 to 6 repetitions in reserve.
func Exertion(rir float64) (float64, error) {
	if err := within("rir", rir, 0, 6, "repetitions in reserve"); err != nil {
		return 0, err
	}
	rising, ratings := []float64{0, 1, 2, 3, 4, 6}, []float64{10, 9, 8, 7, 6, 5}
	return interpolate(rising, ratings, rir), nil
}

// InReserveSE is the error of a judged number of repetitions in reserve: below one
// repetition up to three from failure and worse beyond (Zourdos et al. 2016 and
// later work); 0.8, and 0.3 more for each repetition past three, is a judgement.
func InReserveSE(rir float64) float64 { return 0.8 + 0.3*math.Max(0, rir-3) }
