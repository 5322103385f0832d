package training

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// dense is the joint normal of the levels on all days and of the constants, given the
// sessions, by solving with full matrices of gonum.
type dense struct {
	days int
	mean mat.VecDense
	cov  mat.Dense
}

// The constants come after the levels, in the order of the states after the level.
func (d *dense) at(state int) int { return d.days + state - 1 }

func condition(t *testing.T, f *filter, tr *track) *dense {
	t.Helper()
	n := f.start.n
	d := &dense{days: len(f.obs)}
	size := d.days + n - 1
	prior, priorMean := mat.NewSymDense(size, nil), mat.NewVecDense(size, nil)
	walked := 0.0
	for i := range f.obs {
		if i > 0 {
			walked += tr.wander*float64(f.obs[i].day-f.obs[i-1].day) + f.obs[i].change
		}
		for j := i; j < d.days; j++ { // a random walk
			prior.SetSym(i, j, f.start.p[level][level]+walked)
		}
		priorMean.SetVec(i, f.start.x[level])
	}
	for s := 1; s < n; s++ {
		prior.SetSym(d.at(s), d.at(s), f.start.p[s][s])
		priorMean.SetVec(d.at(s), f.start.x[s])
	}
	var seen []*mat.VecDense
	var noise, surprise []float64
	for i, o := range f.obs {
		if o.variance > 0 {
			h := d.row(f, i, o.shows())
			seen = append(seen, h)
			noise = append(noise, o.variance*tr.scale/tr.weight[i])
			surprise = append(surprise, o.log-mat.Dot(h, priorMean))
		}
	}
	h := mat.NewDense(len(seen), size, nil)
	for i, row := range seen {
		h.SetRow(i, row.RawVector().Data)
	}
	var across, of, gain mat.Dense // covariance of all with what is seen, and of that
	across.Mul(prior, h.T())
	of.Mul(h, &across)
	for i, v := range noise {
		of.Set(i, i, of.At(i, i)+v)
	}
	if err := gain.Solve(&of, across.T()); err != nil {
		t.Fatal(err)
	}
	d.mean.MulVec(gain.T(), mat.NewVecDense(len(surprise), surprise))
	d.mean.AddVec(&d.mean, priorMean)
	d.cov.Mul(&across, &gain)
	d.cov.Sub(prior, &d.cov)
	return d
}

// row is a function of the states on a day as one of all levels and constants; the
// state after those in use is the mean of the baseline.
func (d *dense) row(f *filter, day int, c vector) *mat.VecDense {
	n := f.start.n
	h := mat.NewVecDense(d.days+n-1, nil)
	h.SetVec(day, c[level])
	for s := 1; s < n; s++ {
		h.SetVec(d.at(s), c[s])
	}
	for i, o := range f.obs {
		h.SetVec(i, h.AtVec(i)+c[n]*o.memory)
	}
	return h
}

func (d *dense) about(h *mat.VecDense) (mean, variance float64) {
	return mat.Dot(h, &d.mean), mat.Inner(h, &d.cov, h)
}

// chained is a chain of two exercises, with both on one day; more and fewer
// repetitions, a lighter body, a day out of line and one without a session.
func chained() *filter {
	f := &filter{obs: []observation{
		{day: 100, log: 4.60, variance: 0.0006, reps: -2, memory: 1. / 3},
		{day: 103, log: 4.62, variance: 0.0009, reps: 1, memory: 1. / 3},
		{day: 107, log: 4.45, variance: 0.0006, mass: -0.01},
		{day: 121, log: 4.61, variance: 0.0004, reps: 3, mass: -0.02, memory: 1. / 3},
		{day: 122, log: 4.33, variance: 0.0012, reps: 2, mass: -0.02, offset: offset, novel: -1, change: swapSD * swapSD},
		{day: 122, log: 4.63, variance: 0.0012, reps: 2, mass: -0.02},
		{day: 150, log: 4.28, variance: 0.0006, reps: -1, mass: -0.07, offset: offset, novel: -0.8},
		{day: 153, log: 4.31, variance: 0.0007, reps: -1, mass: -0.08, offset: offset, novel: -0.6},
		{day: 160},
	}}
	r := reader{weighed: true}
	f.start = r.outset(2, f.obs[0].log)
	f.size()
	return f
}

// uneven is chained with weights and a scale that are not 1.
func uneven() (*filter, *track) {
	f := chained()
	tr := &f.tracks[0]
	tr.begin(0, nil)
	tr.weight[2], tr.scale = 0.2, 1.3
	f.forward(tr, true)
	return f, tr
}

func TestFilterAgainstDenseConditioning(t *testing.T) {
	const tolerance = 1e-9
	f, tr := uneven()
	f.smooth(tr)
	d := condition(t, f, tr)
	n, last := f.start.n, len(f.obs)-1
	change := vector{level: 1, ride: -0.07}
	change[n] = -1 // against the baseline
	functions := []vector{{level: 1}, {curve: 1}, {ride: 1}, {novelty: 1}, {offset: 1}, *only(n), change}
	for _, c := range functions {
		mean, variance := tr.end.about(&c)
		wantMean, wantVariance := d.about(d.row(f, last, c))
		near(t, "mean at the end", mean, wantMean, tolerance)
		near(t, "variance at the end", variance, wantVariance, tolerance)
	}
	for i, o := range f.obs {
		c := o.shows()
		c[curve], c[novelty] = 0, 0 // the level is told at the usual repetitions, once familiar
		wantMean, wantVariance := d.about(d.row(f, i, c))
		near(t, "smoothed level", tr.mean[i], wantMean, tolerance)
		near(t, "its variance", tr.variance[i], wantVariance, tolerance)
	}
	f.obs[7].variance = 0 // without the last session
	before := condition(t, f, tr)
	for _, c := range functions {
		mean, variance := tr.before.about(&c)
		wantMean, wantVariance := before.about(before.row(f, 7, c))
		near(t, "mean before the last session", mean, wantMean, tolerance)
		near(t, "its variance", variance, wantVariance, tolerance)
	}
}

// One step of the weights: each is (freedom + 1) over (freedom + the expected square
// of the session's noise), and the scale is their weighted mean square, drawn to 1
// (Lange, Little & Taylor 1989, J Am Stat Assoc 84:881).
func TestWeightsFromTheSmoothedNoise(t *testing.T) {
	f, tr := uneven()
	d := condition(t, f, tr)
	squares, sessions := 0.0, 0.0
	want := make([]float64, len(f.obs))
	for i, o := range f.obs {
		if o.variance == 0 {
			continue
		}
		mean, variance := d.about(d.row(f, i, o.shows()))
		z2 := ((o.log-mean)*(o.log-mean) + variance) / (o.variance * 1.3)
		want[i] = 5 / (4 + z2)
		squares += want[i] * z2 * 1.3
		sessions++
	}
	f.reweigh(tr)
	for i, o := range f.obs {
		if o.variance > 0 {
			near(t, "weight", tr.weight[i], want[i], 1e-9)
		}
	}
	near(t, "scale", tr.scale, (8+squares)/(8+sessions), 1e-9)
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
