package numeric

import (
	"errors"
	"math"
)

// Derivative writes dy/dt at (t, y) into dst.
type Derivative func(dst []float64, t float64, y []float64)

// ErrStep is returned when an adaptive integration cannot meet its tolerance.
var ErrStep = errors.New("numeric: the step size fell below what the tolerance needs")

// The Dormand-Prince 5(4) pair (Dormand JR, Prince PJ. J Comput Appl Math
// 1980;6:19-26).
var (
	dpC = [7]float64{0, 1. / 5, 3. / 10, 4. / 5, 8. / 9, 1, 1}
	dpA = [7][6]float64{
		{},
		{1. / 5},
		{3. / 40, 9. / 40},
		{44. / 45, -56. / 15, 32. / 9},
		{19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
		{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
		{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84},
	}
	dpE = [7]float64{71. / 57600, 0, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40}
)

// Integrate carries y from t0 to t1 in place, with the local error of each step
// held below tolerance * (1 + |y|). Discontinuities of f belong at the ends of
// an interval.
func Integrate(f Derivative, t0, t1 float64, y []float64, tolerance float64) error {
	n := len(y)
	var k [7][]float64
	buffer := make([]float64, 9*n)
	for i := range k {
		k[i] = buffer[i*n : (i+1)*n]
	}
	stage, next := buffer[7*n:8*n], buffer[8*n:]
	t, h := t0, (t1-t0)/16
	f(k[0], t, y)
	for t < t1 {
		h = math.Min(h, t1-t)
		for s := 1; s < 7; s++ {
			for i := range y {
				sum := 0.0
				for j := range s {
					sum += dpA[s][j] * k[j][i]
				}
				stage[i] = y[i] + h*sum
			}
			f(k[s], t+dpC[s]*h, stage)
		}
		copy(next, stage) // the seventh stage is the fifth-order solution
		worst := 0.0
		for i := range y {
			e := 0.0
			for s := range k {
				e += dpE[s] * k[s][i]
			}
			worst = math.Max(worst, math.Abs(h*e)/(tolerance*(1+math.Abs(y[i]))))
		}
		if worst <= 1 {
			t += h
			copy(y, next)
			copy(k[0], k[6])
		}
		h *= math.Min(5, math.Max(0.2, 0.9*math.Pow(math.Max(worst, 1e-10), -0.2)))
		if h < 1e-12*math.Max(1, math.Abs(t)) && t < t1 {
			return ErrStep
		}
	}
	return nil
}
