package reading

import (
	"math"
	"slices"
	"testing"

	"glidepath/athlete"
	"glidepath/numeric"

	"gonum.org/v1/gonum/mat"
)

// linearSeason is a simulated season that is linear and Gaussian to the filter:
// Student-t weighting is off, and gaps in weight and intake, a cycle and two
// series of body-fat readings are in.
func linearSeason(t *testing.T) *filter {
	t.Helper()
	sim := simulate(11, 70)
	in := sim.in
	in.Athlete.Sex, in.Athlete.MenstrualCycle = athlete.Female, true
	for i := range in.Days {
		if i%5 == 3 || i > 30 && i < 38 {
			in.Days[i].WeightKg = nil
		}
		if i == 9 || i == 37 {
			in.Days[i].CycleDay = new(1)
		}
	}
	first := in.Days[0].Date
	for _, c := range []struct {
		day    int
		series string
		pct    float64
	}{{0, "calipers", 23}, {20, "calipers", 22.5}, {33, "scan", 24}, {60, "calipers", 20}, {60, "scan", 22}} {
		in.Composition = append(in.Composition, Composition{first.AddDays(c.day), c.series, c.pct, 1.2, 2.5})
	}
	f, err := newFilter(&in, Settings{TailDF: 1e15}.withDefaults())
	if err != nil {
		t.Fatal(err)
	}
	f.pass = new(pass)
	f.run()
	return f
}

// morning is the state and its covariance before a day's readings.
func (f *filter) morning(t int) (x, p []float64) {
	if t == 0 {
		return slices.Clone(f.mean0), slices.Clone(f.cov0)
	}
	n := f.n
	x, p = slices.Clone(f.pass.filtered[(t-1)*n:t*n]), slices.Clone(f.pass.filteredCov[(t-1)*n*n:t*n*n])
	f.predict(&f.days[t-1], x, p, new(move))
	return x, p
}

// dense is the whole matrix of a move.
func (m *move) dense(n int) []float64 {
	out := make([]float64, n*n)
	for i := range n {
		out[i*n+i] = 1
	}
	for r := range m.mix {
		copy(out[r*n:], m.mix[r][:])
	}
	out[SlowFluid*n+SlowFluid] = m.decay
	return out
}

// observation is one number seen: value = row . x + noise.
type observation struct {
	day             int
	row             []float64
	value, variance float64
}

// observations lays out what the season's readings are to a linear filter. The
// row of a body-fat reading is found here by central differences about the mean
// that the filter had when it took the reading in.
func (f *filter) observations() []observation {
	n := f.n
	var out []observation
	for t := range f.days {
		d := f.days[t]
		if !math.IsNaN(d.weight) {
			h := make([]float64, n)
			f.weightRow(&d, h)
			out = append(out, observation{t, h, d.weight, f.fastVariance()})
		}
		for k, c := range d.compositions {
			// What the filter knew: all that came before this reading.
			before := d
			before.compositions = d.compositions[:k]
			x, p := f.morning(t)
			f.update(&before, x, p, new(pass))
			pct := func(x []float64) float64 { return 100*x[Fat]/(x[Fat]+x[FatFree]) + x[f.series[c.Series]] }
			row := make([]float64, n)
			for j := range row {
				up, down := slices.Clone(x), slices.Clone(x)
				up[j] += 1e-4
				down[j] -= 1e-4
				row[j] = (pct(up) - pct(down)) / 2e-4
			}
			out = append(out, observation{t, row, c.BodyFatPct - pct(x) + dot(row, x), c.ReadingSD * c.ReadingSD})
		}
	}
	return out
}

// joint is the prior of all days' states at once: means and covariance, from
// the filter's own transitions, offsets and noises. Day t's state is at t*n.
func (f *filter) joint() (*mat.VecDense, *mat.Dense) {
	n, T := f.n, len(f.days)
	m, c := mat.NewVecDense(n*T, nil), mat.NewDense(n*T, n*T, nil)
	block := func(s, t int) *mat.Dense { return c.Slice(s*n, (s+1)*n, t*n, (t+1)*n).(*mat.Dense) }
	for i, v := range f.mean0 {
		m.SetVec(i, v)
	}
	block(0, 0).Copy(mat.NewDense(n, n, slices.Clone(f.cov0)))
	for t := range T - 1 {
		// predict from no doubt at all leaves the day's own noise.
		x, noise := slices.Clone(f.pass.filtered[t*n:(t+1)*n]), make([]float64, n*n)
		from := mat.NewVecDense(n, slices.Clone(x))
		var day move
		f.predict(&f.days[t], x, noise, &day)
		move := mat.NewDense(n, n, day.dense(n))

		var offset, next mat.VecDense // x' = phi x + offset
		offset.MulVec(move, from)
		offset.SubVec(mat.NewVecDense(n, x), &offset)
		next.MulVec(move, m.SliceVec(t*n, (t+1)*n))
		next.AddVec(&next, &offset)
		m.SliceVec((t+1)*n, (t+2)*n).(*mat.VecDense).CopyVec(&next)

		for s := range t + 1 {
			block(t+1, s).Mul(move, block(t, s))
			block(s, t+1).Copy(block(t+1, s).T())
		}
		var now mat.Dense
		now.Mul(block(t+1, t), move.T())
		now.Add(&now, mat.NewDense(n, n, noise))
		block(t+1, t+1).Copy(&now)
	}
	return m, c
}

// condition gives means and covariance of the states from..to (indices) given
// observations: the formula of the multivariate normal, nothing recursive.
func condition(m *mat.VecDense, c *mat.Dense, n int, seen []observation, from, to int) (*mat.VecDense, *mat.Dense) {
	size, _ := c.Dims()
	k := len(seen)
	h := mat.NewDense(k, size, nil)
	gap := mat.NewVecDense(k, nil)
	for i, o := range seen {
		for j, v := range o.row {
			h.Set(i, o.day*n+j, v)
		}
		gap.SetVec(i, o.value)
	}
	var expected mat.VecDense
	expected.MulVec(h, m)
	gap.SubVec(gap, &expected)
	var ch, s mat.Dense // C H' and H C H' + R
	ch.Mul(c, h.T())
	s.Mul(h, &ch)
	for i, o := range seen {
		s.Set(i, i, s.At(i, i)+o.variance)
	}
	part := ch.Slice(from, to, 0, k)
	var weighted mat.Dense // S^-1 (C H')'
	if err := weighted.Solve(&s, part.T()); err != nil {
		panic(err)
	}
	var mean mat.VecDense
	mean.MulVec(weighted.T(), gap)
	mean.AddVec(&mean, m.SliceVec(from, to))
	var taken, cov mat.Dense
	taken.Mul(part, &weighted)
	cov.Sub(c.Slice(from, to, from, to), &taken)
	return &mean, &cov
}

// The filter and the smoother against the same problem solved at once by dense
// Gaussian conditioning.
func TestFilterAgainstBatchConditioning(t *testing.T) {
	f := linearSeason(t)
	n, T := f.n, len(f.days)
	seen := f.observations()
	if len(seen) < 45 {
		t.Fatalf("only %d observations", len(seen))
	}
	filtered := slices.Clone(f.pass.filtered)
	filteredCov := slices.Clone(f.pass.filteredCov)
	m, c := f.joint()
	const tolerance = 1e-6

	worst := 0.0
	for day := range T {
		known := seen[:upTo(seen, day)]
		mean, cov := condition(m, c, n, known, day*n, (day+1)*n)
		worst = math.Max(worst, distance(mean, cov, filtered[day*n:(day+1)*n], filteredCov[day*n*n:(day+1)*n*n]))
	}
	t.Logf("filtered: greatest difference %.2g SD", worst)
	if !(worst < tolerance) {
		t.Errorf("the filter is %.2g of a standard deviation off", worst)
	}

	// The smoother's means and covariances come out as each day's estimate; the
	// rate of loss also needs the covariance of days two weeks apart.
	mean, cov := condition(m, c, n, seen, 0, n*T)
	daily := f.smooth()
	worst = 0
	compare := func(got numeric.Interval, want float64, row map[int]float64) {
		variance := 0.0
		for i, v := range row {
			for j, w := range row {
				variance += v * w * cov.At(i, j)
			}
		}
		sd := math.Sqrt(variance)
		gotSD := (got.High90 - got.Low90) / (2 * 1.6448536269514722)
		worst = math.Max(worst, math.Max(math.Abs(got.Value-want), math.Abs(gotSD-sd))/sd)
	}
	for day, e := range daily {
		at := day * n
		fat, lean := mean.AtVec(at+Fat), mean.AtVec(at+FatFree)
		w := fat + lean
		compare(e.FatKg, fat, map[int]float64{at + Fat: 1})
		compare(e.LeanKg, lean, map[int]float64{at + FatFree: 1})
		compare(e.BodyFatPct, 100*fat/w, map[int]float64{at + Fat: 100 * lean / (w * w), at + FatFree: -100 * fat / (w * w)})
		bias := at + f.series["calipers"]
		compare(e.MethodPct, 100*fat/w+mean.AtVec(bias),
			map[int]float64{at + Fat: 100 * lean / (w * w), at + FatFree: -100 * fat / (w * w), bias: 1})
		compare(e.TrendKg, w+mean.AtVec(at+Gain)*f.weekWater(day),
			map[int]float64{at + Fat: 1, at + FatFree: 1, at + Gain: f.weekWater(day)})
		if day == 0 {
			continue
		}
		back := max(0, day-rateDays)
		then := back * n
		perWeek := 100 * 7 / float64(day-back) / w
		compare(e.RatePct, (mean.AtVec(then+Fat)+mean.AtVec(then+FatFree)-w)*perWeek, map[int]float64{
			then + Fat: perWeek, then + FatFree: perWeek, at + Fat: -perWeek, at + FatFree: -perWeek,
		})
	}
	t.Logf("smoothed: greatest difference %.2g SD", worst)
	if !(worst < tolerance) {
		t.Errorf("the smoother is %.2g of a standard deviation off", worst)
	}
}

func upTo(seen []observation, day int) int {
	for i, o := range seen {
		if o.day > day {
			return i
		}
	}
	return len(seen)
}

// distance is the greatest difference of means in standard deviations and of
// covariances in products of them.
func distance(mean *mat.VecDense, cov *mat.Dense, x, p []float64) float64 {
	n := len(x)
	worst := 0.0
	for i := range n {
		si := math.Sqrt(math.Max(0, cov.At(i, i)))
		if si < 1e-9 {
			si = 1 // a state that is not used
		}
		worst = math.Max(worst, math.Abs(mean.AtVec(i)-x[i])/si)
		for j := range n {
			sj := math.Sqrt(math.Max(0, cov.At(j, j)))
			if sj < 1e-9 {
				sj = 1
			}
			worst = math.Max(worst, math.Abs(cov.At(i, j)-p[i*n+j])/(si*sj))
		}
	}
	return worst
}

// The transition that the covariance moves by, against central differences of
// the transition that the mean moves by. The filter takes forward differences,
// which may cost 0.1 % of what a state does in a day.
func TestTransitionAgainstCentralDifferences(t *testing.T) {
	f := linearSeason(t)
	n := f.n
	move := func(day int, x []float64) []float64 {
		x = slices.Clone(x)
		f.predict(&f.days[day], x, make([]float64, n*n), new(move))
		return x
	}
	worst := 0.0
	for day := range len(f.days) - 1 {
		x := f.pass.filtered[day*n : (day+1)*n]
		phi := f.pass.moves[day].dense(n)
		for j := range n {
			h := 1e-4
			if j == Rest || j == Adaptation {
				h = 0.5
			}
			up, down := slices.Clone(x), slices.Clone(x)
			up[j] += h
			down[j] -= h
			a, b := move(day, up), move(day, down)
			// Against the greatest change from staying put: next to the one on the
			// diagonal, what a kilocalorie does to fat would pass for nothing.
			scale, off := 0.0, 0.0
			for i := range n {
				want := (a[i] - b[i]) / (2 * h)
				off = math.Max(off, math.Abs(phi[i*n+j]-want))
				if i == j {
					want--
				}
				scale = math.Max(scale, math.Abs(want))
			}
			if scale < 1e-9 {
				scale = 1 // the state stays put
			}
			worst = math.Max(worst, off/scale)
		}
	}
	t.Logf("greatest difference %.2g of a column", worst)
	if !(worst < 1e-3) {
		t.Errorf("the transition is %.2g off its central difference", worst)
	}
}
