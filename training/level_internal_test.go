package training

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The filter and smoother must give what conditioning the joint normal of all
// days gives, here by inverting full matrices with gonum.
func TestSmootherAgainstDenseConditioning(t *testing.T) {
	obs := []observation{
		{100, 4.60, 0.0006},
		{103, 4.62, 0.0009},
		{107, 4.45, 0.0006}, // out of line
		{121, 4.61, 0.0004},
		{122, 4.63, 0.0012},
		{150, 4.58, 0.0006},
		{160, 0, 0}, // no session
	}
	const wander = 0.0075
	p := smooth(obs, wander)
	n := len(obs)
	precision, pull := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	prior := mat.NewSymDense(n, nil)
	for i := range obs {
		for j := i; j < n; j++ {
			// A random walk from a start of standard deviation 1.
			prior.SetSym(i, j, 1+wander*wander/7*float64(obs[i].day-obs[0].day))
		}
	}
	var inverse mat.Dense
	if err := inverse.Inverse(prior); err != nil {
		t.Fatal(err)
	}
	for i := range obs {
		for j := i; j < n; j++ {
			precision.SetSym(i, j, inverse.At(i, j))
		}
	}
	for i, o := range obs {
		var rowSum float64
		for j := range obs {
			rowSum += inverse.At(i, j)
		}
		pull.SetVec(i, rowSum*obs[0].log)
		if o.variance > 0 {
			w := p.weight[i] / (o.variance * p.scale)
			precision.SetSym(i, i, precision.At(i, i)+w)
			pull.SetVec(i, pull.AtVec(i)+w*o.log)
		}
	}
	var covariance mat.Dense
	if err := covariance.Inverse(precision); err != nil {
		t.Fatal(err)
	}
	var mean mat.VecDense
	mean.MulVec(&covariance, pull)
	for i := range obs {
		close(t, "mean", p.mean[i], mean.AtVec(i), 1e-8)
		for j := i; j < n; j++ {
			close(t, "covariance", p.covariance(i, j), covariance.At(i, j), 1e-9)
		}
	}
	// The last level less the mean of the first, second and fourth.
	contrast := mat.NewVecDense(n, []float64{-1. / 3, -1. / 3, 0, -1. / 3, 0, 0, 1})
	change, variance := p.change([]int{0, 1, 3}, n-1)
	close(t, "change", change, mat.Dot(contrast, &mean), 1e-8)
	close(t, "variance of the change", variance, mat.Inner(contrast, &covariance, contrast), 1e-9)
}

func close(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// The trials of BCG vaccine against tuberculosis (Colditz et al. 1994, JAMA
// 271:698), cases and non-cases in the vaccinated and in the controls: the log
// relative risk by the method of DerSimonian & Laird is -0.7141 with a standard
// error of 0.1787 (as the documentation of the R package metafor gives it; table
// and result from memory, and they agree).
func TestPoolAgainstTheBCGTrials(t *testing.T) {
	trials := [][4]float64{
		{4, 119, 11, 128},
		{6, 300, 29, 274},
		{3, 228, 11, 209},
		{62, 13536, 248, 12619},
		{33, 5036, 47, 5761},
		{180, 1361, 372, 1079},
		{8, 2537, 10, 619},
		{505, 87886, 499, 87892},
		{29, 7470, 45, 7232},
		{17, 1699, 65, 1600},
		{186, 50448, 141, 27197},
		{5, 2493, 3, 2338},
		{27, 16886, 29, 17825},
	}
	var values, variances []float64
	for _, r := range trials {
		treated, control := r[0]+r[1], r[2]+r[3]
		values = append(values, math.Log(r[0]/treated/(r[2]/control)))
		variances = append(variances, 1/r[0]-1/treated+1/r[2]-1/control)
	}
	mean, variance := pool(values, variances)
	close(t, "log relative risk", mean, -0.7141, 5e-5)
	close(t, "standard error", math.Sqrt(variance), 0.1787, 5e-5)
}

func TestPoolOfAgreeingValuesIsTheFixedMean(t *testing.T) {
	mean, variance := pool([]float64{-0.01, -0.012}, []float64{1e-4, 3e-4})
	close(t, "mean", mean, (-0.01/1e-4-0.012/3e-4)/(1/1e-4+1/3e-4), 1e-15)
	close(t, "variance", variance, 1/(1/1e-4+1/3e-4), 1e-15)
}
