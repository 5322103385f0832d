package validation

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// sample is a weight on a day of the series.
type sample struct {
	day    int
	weight float64
}

// prediction is a forecast of one weigh-in with its central 90 % interval.
type prediction struct{ mean, low, high float64 }

// rival forecasts weigh-ins on later days from those up to the last of seen.
type rival func(seen []sample, days []int) []prediction

func student(mean, sd, df float64) prediction {
	half := sd * distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.95)
	return prediction{mean, mean - half, mean + half}
}

// trend is the least-squares line through the last 28 days, with its textbook
// prediction interval.
func trend(seen []sample, days []int) []prediction {
	last := seen[len(seen)-1].day
	recent := seen[slices.IndexFunc(seen, func(s sample) bool { return s.day > last-28 }):]
	x, y := design(recent, func(t float64) []float64 { return []float64{1, t} })
	fit := leastSquares(x, y)
	out := make([]prediction, len(days))
	for i, d := range days {
		out[i] = fit.at([]float64{1, float64(d)})
	}
	return out
}

// exponential is Venables & Ripley's curve for these data, b0 + b1 2^(-t/th):
// non-linear least squares (a search over th, linear in the rest) and the
// interval of its linearisation.
func exponential(seen []sample, days []int) []prediction {
	fit, th := exponentialFit(seen)
	out := make([]prediction, len(days))
	for i, d := range days {
		out[i] = fit.at(exponentialRow(float64(d), th, fit.b.AtVec(1)))
		f := math.Exp2(-float64(d) / th)
		shift := fit.b.AtVec(0) + fit.b.AtVec(1)*f - out[i].mean
		out[i] = prediction{out[i].mean + shift, out[i].low + shift, out[i].high + shift}
	}
	return out
}

// exponentialRow is the gradient in (b0, b1, th).
func exponentialRow(t, th, b1 float64) []float64 {
	f := math.Exp2(-t / th)
	return []float64{1, f, b1 * f * math.Ln2 * t / (th * th)}
}

// exponentialFit gives the fit with the covariance of all three parameters; the
// third coefficient is th itself.
func exponentialFit(seen []sample) (*fitted, float64) {
	rest := func(th float64) (*fitted, float64) {
		x, y := design(seen, func(t float64) []float64 { return []float64{1, math.Exp2(-t / th)} })
		fit := leastSquares(x, y)
		return fit, fit.residual
	}
	// Golden section on ln th; beyond 3000 days the curve is a line here.
	low, high := math.Log(10), math.Log(3000)
	const g = 0.6180339887498949
	a, b := high-g*(high-low), low+g*(high-low)
	_, fa := rest(math.Exp(a))
	_, fb := rest(math.Exp(b))
	for range 80 {
		if fa < fb {
			high, b, fb = b, a, fa
			a = high - g*(high-low)
			_, fa = rest(math.Exp(a))
		} else {
			low, a, fa = a, b, fb
			b = low + g*(high-low)
			_, fb = rest(math.Exp(b))
		}
	}
	th := math.Exp((low + high) / 2)
	linear, _ := rest(th)
	b1 := linear.b.AtVec(1)
	x, y := design(seen, func(t float64) []float64 { return exponentialRow(t, th, b1) })
	full := leastSquares(x, y) // only its covariance is used: the gradient at the optimum
	full.b = mat.NewVecDense(3, []float64{linear.b.AtVec(0), b1, th})
	full.residual = linear.residual
	full.variance = linear.residual / float64(len(seen)-3)
	return full, th
}

func design(seen []sample, row func(t float64) []float64) (*mat.Dense, *mat.VecDense) {
	x := mat.NewDense(len(seen), len(row(0)), nil)
	y := mat.NewVecDense(len(seen), nil)
	for i, s := range seen {
		x.SetRow(i, row(float64(s.day)))
		y.SetVec(i, s.weight)
	}
	return x, y
}

// fitted is an ordinary least-squares fit.
type fitted struct {
	b                  *mat.VecDense
	inverse            *mat.Dense // of X'X
	residual, variance float64    // sum of squares, and over the degrees of freedom
	df                 float64
}

func leastSquares(x *mat.Dense, y *mat.VecDense) *fitted {
	n, k := x.Dims()
	var f fitted
	var xx mat.Dense
	xx.Mul(x.T(), x)
	f.inverse = mat.NewDense(k, k, nil)
	// An ill-conditioned fit still has its best prediction, and a wide interval.
	_ = f.inverse.Inverse(&xx)
	f.b = mat.NewVecDense(k, nil)
	_ = f.b.SolveVec(x, y)
	var r mat.VecDense
	r.MulVec(x, f.b)
	r.SubVec(y, &r)
	f.residual = mat.Dot(&r, &r)
	f.df = float64(n - k)
	f.variance = f.residual / f.df
	return &f
}

// at predicts a new observation at a row of the design.
func (f *fitted) at(row []float64) prediction {
	v := mat.NewVecDense(len(row), row)
	return student(mat.Dot(v, f.b), math.Sqrt(f.variance*(1+math.Max(0, mat.Inner(v, f.inverse, v)))), f.df)
}

// localTrend is the local linear trend model (Durbin & Koopman 2012, Time Series
// Analysis by State Space Methods, 3.2), its three variances by maximum
// likelihood.
func localTrend(seen []sample, days []int) []prediction {
	v := localTrendFit(seen)
	_, mean, variance := v.filter(seen, days)
	out := make([]prediction, len(days))
	for i := range days {
		half := 1.6448536269514722 * math.Sqrt(variance[i])
		out[i] = prediction{mean[i], mean[i] - half, mean[i] + half}
	}
	return out
}

// variances of the observation, the level and the slope.
type variances struct{ seen, level, slope float64 }

// localTrendFit climbs the likelihood over the logarithms of the variances by
// compass search: a step each way along each axis, halved where none helps.
func localTrendFit(seen []sample) variances {
	of := func(x [3]float64) variances { return variances{math.Exp(x[0]), math.Exp(x[1]), math.Exp(x[2])} }
	var best variances
	most := math.Inf(-1)
	for _, x := range [][3]float64{{-1, -3, -8}, {-1, -8, -5}, {-1, -8, -11}} {
		here, _, _ := of(x).filter(seen, nil)
		for step := 2.0; step > 1e-4; {
			moved := false
			for axis := range x {
				for _, d := range []float64{step, -step} {
					y := x
					y[axis] = math.Max(-25, y[axis]+d) // e^-25 is nought in effect
					if l, _, _ := of(y).filter(seen, nil); l > here {
						x, here, moved = y, l, true
					}
				}
			}
			if !moved {
				step /= 2
			}
		}
		if here > most {
			best, most = of(x), here
		}
	}
	return best
}

// diffuse is the variance of the level and slope before the first day.
const diffuse = 1e6

// filter is the Kalman filter over days, some without a weight: the log
// likelihood without the first two observations, which only settle the diffuse
// start, and the mean and variance of weigh-ins on later days.
func (v variances) filter(seen []sample, days []int) (likelihood float64, mean, variance []float64) {
	level, slope := 0.0, 0.0
	p := [3]float64{diffuse, 0, diffuse} // level, both, slope
	at := seen[0].day
	advance := func(day int) {
		for ; at < day; at++ {
			level += slope
			p[0], p[1], p[2] = p[0]+2*p[1]+p[2]+v.level, p[1]+p[2], p[2]+v.slope
		}
	}
	for i, s := range seen {
		advance(s.day)
		f, gap := p[0]+v.seen, s.weight-level
		if i >= 2 {
			likelihood -= 0.5 * (math.Log(2*math.Pi*f) + gap*gap/f)
		}
		k0, k1 := p[0]/f, p[1]/f
		level, slope = level+k0*gap, slope+k1*gap
		p[0], p[1], p[2] = p[0]-k0*p[0], p[1]-k0*p[1], p[2]-k1*p[1]
	}
	for _, d := range days {
		advance(d)
		mean, variance = append(mean, level), append(variance, p[0]+v.seen)
	}
	return likelihood, mean, variance
}
