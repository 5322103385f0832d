package training

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// chained is a chain of two exercises with repetitions, body weight, a bad day, a gap
// and a day without a session.
func chained() *filter {
	f := &filter{obs: []observation{
		{day: 100, log: 4.60, variance: 0.0006, reps: -1, mass: 0.02, memory: 0.5},
		{day: 103, log: 4.62, variance: 0.0009, reps: 1, mass: 0.015, memory: 0.5},
		{day: 107, log: 4.45, variance: 0.0006, reps: 0, mass: 0.01},
		{day: 121, log: 4.21, variance: 0.0024, reps: 2, mass: -0.01, offset: offset, change: swapSD * swapSD},
		{day: 122, log: 4.60, variance: 0.0006, reps: -2, mass: -0.01},
		{day: 150, log: 4.25, variance: 0.0008, reps: 1, mass: -0.03, offset: offset},
		{day: 160},
	}}
	r := reader{weighed: true}
	f.start = r.outset(2, f.obs[0].log)
	return f
}

// The filter and smoother must give what conditioning the joint normal of all days and
// constants gives, here by inverting full matrices with gonum.
func TestFilterAgainstDenseConditioning(t *testing.T) {
	f := chained()
	f.size()
	k := &f.tracks[1]
	k.begin(1, nil)
	f.forward(k, true)
	f.smooth(k)

	// The variables: a level for each day, then the curve, the ride and the offset.
	n := len(f.obs)
	all := n + 3
	prior := mat.NewSymDense(all, nil)
	walked := 0.0
	for i := range n {
		if i > 0 {
			walked += k.wander*float64(f.obs[i].day-f.obs[i-1].day) + f.obs[i].change
		}
		for j := i; j < n; j++ {
			prior.SetSym(i, j, openSD*openSD+walked)
		}
	}
	prior.SetSym(n, n, curveSD*curveSD)
	prior.SetSym(n+1, n+1, rideSD*rideSD)
	prior.SetSym(n+2, n+2, openSD*openSD)
	mean0 := mat.NewVecDense(all, nil)
	for i := range n {
		mean0.SetVec(i, f.obs[0].log)
	}
	mean0.SetVec(n+1, rideMean)
	var precision mat.Dense
	if err := precision.Inverse(prior); err != nil {
		t.Fatal(err)
	}
	var pull mat.VecDense
	pull.MulVec(&precision, mean0)
	rows := make([]*mat.VecDense, n)
	for i, o := range f.obs {
		h := mat.NewVecDense(all, nil)
		h.SetVec(i, 1)
		h.SetVec(n, o.reps)
		h.SetVec(n+1, o.mass)
		if o.offset > 0 {
			h.SetVec(n+2, 1)
		}
		rows[i] = h
		if o.variance == 0 {
			continue
		}
		var outer mat.Dense
		outer.Outer(1/o.variance, h, h)
		precision.Add(&precision, &outer)
		pull.AddScaledVec(&pull, o.log/o.variance, h)
	}
	var covariance mat.Dense
	if err := covariance.Inverse(&precision); err != nil {
		t.Fatal(err)
	}
	var mean mat.VecDense
	mean.MulVec(&covariance, &pull)
	check := func(what string, c *mat.VecDense, gotMean, gotVariance float64) {
		t.Helper()
		near(t, what, gotMean, mat.Dot(c, &mean), 1e-8)
		near(t, "variance of "+what, gotVariance, mat.Inner(c, &covariance, c), 1e-9)
	}
	for i := range n {
		rows[i].SetVec(n, 0) // the level is told at the usual repetitions
		check("level", rows[i], k.mean[i], k.variance[i])
	}
	// The last level less the mean of the first two, which the filter remembers.
	change := mat.NewVecDense(all, nil)
	change.SetVec(n-1, 1)
	change.SetVec(0, -0.5)
	change.SetVec(1, -0.5)
	kept := vector{level: 1}
	kept[f.start.n] = -1
	m, v := k.end.about(&kept)
	check("change", change, m, v)
	for i, state := range []int{curve, ride, offset} {
		c := mat.NewVecDense(all, nil)
		c.SetVec(n+i, 1)
		m, v := k.end.about(only(state))
		check("constant", c, m, v)
	}
}

// A day out of line is believed less, and moves the others' weights little.
func TestABadDayIsBelievedLess(t *testing.T) {
	f := chained()
	f.run()
	if w := f.weight(2); w > 0.5 {
		t.Errorf("a day 15 %% down has weight %.2f", w)
	}
	for _, i := range []int{0, 1, 4, 5} {
		if w := f.weight(i); w < 0.7 {
			t.Errorf("day %d has weight %.2f", i, w)
		}
	}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// The trials of BCG vaccine against tuberculosis (Colditz et al. 1994, JAMA
// 271:698), cases and non-cases in the vaccinated and in the controls: by the method
// of DerSimonian & Laird the variance between trials is 0.3088 and the log relative
// risk -0.7141 with a standard error of 0.1787 (as the documentation of the R package
// metafor gives them; table and results from memory, and they agree).
func TestSpreadAgainstTheBCGTrials(t *testing.T) {
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
	between := spread(values, variances)
	near(t, "variance between trials", between, 0.3088, 5e-5)
	var sum, mean float64
	for i, v := range values {
		w := 1 / (variances[i] + between)
		sum += w
		mean += w * v
	}
	near(t, "log relative risk", mean/sum, -0.7141, 5e-5)
	near(t, "standard error", 1/math.Sqrt(sum), 0.1787, 5e-5)
	near(t, "variance between values that agree", spread([]float64{-0.01, -0.012}, []float64{1e-4, 3e-4}), 0, 0)
}
