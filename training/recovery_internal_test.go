package training

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// dense conditions the joint normal of every day's state and baselines on every
// value at once, by inverting full matrices with gonum, and gives the mean and
// variance of each week's mean and the log likelihood up to a constant.
func (m *factorModel) dense(days [][]float64) (weeks []moment, fit float64) {
	n, k := len(days), len(m.markers)
	size := n * (2 + k) // passing, slow and the baselines, day by day
	at := func(t, part int) int { return t*(2+k) + part }
	prior := mat.NewSymDense(size, nil)
	for s := range n {
		for t := s; t < n; t++ {
			// AR(1) of variance 1; a random walk; a random walk for each baseline.
			prior.SetSym(at(s, 0), at(t, 0), math.Pow(m.keeps, float64(t-s)))
			prior.SetSym(at(s, 1), at(t, 1), m.slowVariance+m.wander*float64(s))
			for j, b := range m.markers {
				prior.SetSym(at(s, 2+j), at(t, 2+j), b.spread+b.drift*float64(s))
			}
		}
	}
	var rows [][]float64
	var values, noise []float64
	for t, day := range days {
		for j, v := range day {
			if math.IsNaN(v) {
				continue
			}
			row := make([]float64, size)
			row[at(t, 0)], row[at(t, 1)], row[at(t, 2+j)] = m.markers[j].loading, m.markers[j].loading, 1
			rows, values, noise = append(rows, row), append(values, v-m.markers[j].baseline), append(noise, m.markers[j].noise)
		}
	}
	if m.anchor > 0 {
		row := make([]float64, size)
		for t := m.usualFrom; t <= m.usualTo; t++ {
			row[at(t, 0)], row[at(t, 1)] = 1/float64(m.usualTo-m.usualFrom+1), 1/float64(m.usualTo-m.usualFrom+1)
		}
		rows, values, noise = append(rows, row), append(values, 0), append(noise, m.anchor)
	}
	h := mat.NewDense(len(rows), size, nil)
	for i, row := range rows {
		h.SetRow(i, row)
	}
	var cross, whole mat.Dense // prior times H', and the covariance of the values
	cross.Mul(prior, h.T())
	whole.Mul(h, &cross)
	for i := range noise {
		whole.Set(i, i, whole.At(i, i)+noise[i])
	}
	y := mat.NewVecDense(len(values), values)
	var solved mat.VecDense
	if err := solved.SolveVec(&whole, y); err != nil {
		panic(err)
	}
	logDet, _ := mat.LogDet(&whole)
	fit = -0.5 * (logDet + mat.Dot(y, &solved))
	for t := 0; t < n; t += 7 {
		w := mat.NewVecDense(size, nil)
		for s := t; s < t+7; s++ {
			w.SetVec(at(s, 0), 1.0/7)
			w.SetVec(at(s, 1), 1.0/7)
		}
		var pw, g, pg mat.VecDense
		pw.MulVec(prior, w)
		g.MulVec(cross.T(), w)
		if err := pg.SolveVec(&whole, &g); err != nil {
			panic(err)
		}
		weeks = append(weeks, moment{mat.Dot(&g, &solved), mat.Dot(w, &pw) - mat.Dot(&g, &pg)})
	}
	return weeks, fit
}

func someModel() (*factorModel, [][]float64) {
	m := &factorModel{
		keeps: 0.8, wander: 0.03, slowVariance: 0.9, usualFrom: 3, usualTo: 16, anchor: 0.04,
		markers: []factorMarker{
			{loading: -0.7, noise: 0.8, baseline: 4, spread: 2, drift: 0.002},
			{loading: 0.4, noise: 0.5, baseline: 7, spread: 0.6, drift: 0},
			{loading: -0.8, noise: 9, baseline: 58, spread: 60, drift: 0.4},
		},
	}
	r := rand.New(rand.NewPCG(1, 2))
	days := make([][]float64, 42)
	for t := range days {
		days[t] = []float64{5 + r.NormFloat64(), 6.5 + r.NormFloat64(), 55 + 3*r.NormFloat64()}
		for k := range days[t] {
			if r.Float64() < 0.4 || t > 24 && t < 33 {
				days[t][k] = math.NaN()
			}
		}
	}
	return m, days
}

// The filter and the smoother give what conditioning the joint normal of all days
// gives (gonum v0.17, dense).
func TestRecoveryFilterAgainstDenseConditioning(t *testing.T) {
	m, days := someModel()
	for _, anchor := range []float64{0.04, 0} {
		m.anchor = anchor
		p := m.run(days)
		want, fit := m.dense(days)
		got := p.weeks()
		if len(got) != len(want) {
			t.Fatalf("%d weeks, want %d", len(got), len(want))
		}
		for i := range got {
			if math.Abs(got[i].mean-want[i].mean) > 1e-9 || math.Abs(got[i].variance-want[i].variance) > 1e-9 {
				t.Errorf("anchor %v, week %d: %+v, want %+v", anchor, i, got[i], want[i])
			}
		}
		if math.Abs(p.fit-fit) > 1e-9 {
			t.Errorf("log likelihood %.12f, want %.12f", p.fit, fit)
		}
	}
}

// What the markers add to the last week sums to it, and is nothing for a marker that
// stands where it was expected.
func TestContributionsSumToTheState(t *testing.T) {
	m, days := someModel()
	for i := range days {
		if !math.IsNaN(days[i][1]) {
			days[i][1] = m.markers[1].baseline
		}
	}
	p := m.run(days)
	var sum float64
	parts := p.contributions()
	for _, c := range parts {
		sum += c
	}
	if math.Abs(sum-p.mean[weekSum]) > 1e-12 || parts[1] != 0 || parts[0] == 0 {
		t.Errorf("%v sum to %v, want %v", parts, sum, p.mean[weekSum])
	}
}
