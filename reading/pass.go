package reading

import (
	"math"
	"slices"

	"glidepath/dynamics"
)

// pass is one run of the filter over the days, kept for the smoother and, as far
// as the days stay as they are, for the next reading.
type pass struct {
	noise float64 // the factor it was run with
	known int     // leading days that still hold

	filtered    []float64 // means, n a day
	filteredCov []float64 // n*n a day
	moves       []move    // from each day to the next
	seen        []sighting
	upTo        []int     // how many are seen by the end of each day
	rows        []float64 // for each sighting, how it sees the state, and P times that
}

// sighting is one number taken in.
type sighting struct {
	innovation, variance float64
	weighIn              bool
}

// row is how sighting i sees the state, and P times that.
func (p *pass) row(i, n int) (h, ph []float64) {
	return p.rows[2*i*n : (2*i+1)*n], p.rows[(2*i+1)*n : (2*i+2)*n]
}

// look is the row of the next sighting, h clear.
func (p *pass) look(n int) (h, ph []float64) {
	i := len(p.seen)
	p.rows = slices.Grow(p.rows[:2*i*n], 2*n)[:2*(i+1)*n]
	h, ph = p.row(i, n)
	clear(h)
	return h, ph
}

// cut keeps the first days and makes room for all.
func (p *pass) cut(keep, days, n int) {
	seen := 0
	if keep > 0 {
		seen = p.upTo[keep-1]
	}
	p.filtered = slices.Grow(p.filtered[:keep*n], (days-keep)*n)[:days*n]
	p.filteredCov = slices.Grow(p.filteredCov[:keep*n*n], (days-keep)*n*n)[:days*n*n]
	p.moves = slices.Grow(p.moves[:keep], days-keep)[:days]
	p.upTo = slices.Grow(p.upTo[:keep], days-keep)[:days]
	p.seen = slices.Grow(p.seen[:seen], days-keep)
	p.rows = slices.Grow(p.rows[:2*seen*n], 2*(days-keep)*n)
}

// run filters the days with the present noise factor, from the first that the
// pass does not know yet.
func (f *filter) run() {
	n, p := f.n, f.pass
	keep := min(p.known, len(f.days))
	if p.noise != f.noise {
		keep = 0
	}
	p.cut(keep, len(f.days), n)
	p.noise = f.noise
	x, cov := slices.Clone(f.mean0), slices.Clone(f.cov0)
	if keep > 0 {
		copy(x, p.filtered[(keep-1)*n:])
		copy(cov, p.filteredCov[(keep-1)*n*n:])
	}
	for t := keep; t < len(f.days); t++ {
		if t > 0 {
			f.predict(&f.days[t-1], x, cov, &p.moves[t-1])
		}
		f.update(&f.days[t], x, cov, p)
		p.upTo[t] = len(p.seen)
		copy(p.filtered[t*n:], x)
		copy(p.filteredCov[t*n*n:], cov)
	}
	p.known = len(f.days)
}

// leastFatKg is held to be the least fat of a living body (judgement; essential
// fat is put at some 3 % of a man's weight).
const leastFatKg = 1.0

// advance runs the dynamics on the leading states.
func (f *filter) advance(d *day, v *[moved]float64, energy float64) (fat, fatFree, adaptation float64) {
	m := &f.model
	m.RestKcal = v[Rest]
	m.ActivityYield = v[Yield]
	m.Partition.LossScale = dynamics.Trained().LossScale * math.Exp(v[LossScale])
	s := d.water
	s.FatKg, s.LeanKg, s.AdaptationKcal = v[Fat], m.LeanFromFatFree(v[FatFree]), v[Adaptation]
	in := d.input
	in.EnergyKcal = energy
	m.Step(&s, in)
	return s.FatKg, m.ReferenceFatFreeKg(&s), s.AdaptationKcal
}

// jacobianStep is the finite difference taken in each leading state.
var jacobianStep = [moved]float64{1e-3, 1e-3, 0.1, 0.1, 1e-3, 1e-3}

// predict moves x and p over the day and writes down in m how.
func (f *filter) predict(d *day, x, p []float64, m *move) {
	n := f.n
	v := [moved]float64(x)
	v[Fat] = math.Max(v[Fat], leastFatKg) // here and not in advance, where it would leave no slope
	e := d.input.EnergyKcal
	fat, fatFree, adaptation := f.advance(d, &v, e)
	m.decay = math.Exp(-1 / f.set.SlowFluidDays)
	for j, h := range jacobianStep {
		w := v
		w[j] += h
		a, b, c := f.advance(d, &w, e)
		m.mix[Fat][j], m.mix[FatFree][j], m.mix[Adaptation][j] = (a-fat)/h, (b-fatFree)/h, (c-adaptation)/h
	}
	const kcal = 1.0
	a, b, _ := f.advance(d, &v, e+kcal)
	byFat, byLean := (a-fat)/kcal, (b-fatFree)/kcal

	x[Fat], x[FatFree], x[Adaptation] = fat, fatFree, adaptation
	x[SlowFluid] *= m.decay
	m.carry(p, n)

	q := d.intakeSD * d.intakeSD
	const each, exchange = 0.006 * 0.006, ExchangeKg * ExchangeKg
	p[Fat*n+Fat] += byFat*byFat*q + each + exchange
	p[Fat*n+FatFree] += byFat*byLean*q - exchange
	p[FatFree*n+Fat] += byFat*byLean*q - exchange
	p[FatFree*n+FatFree] += byLean*byLean*q + each + exchange
	p[Adaptation*n+Adaptation] += sq(2)
	p[Rest*n+Rest] += sq(f.set.RestDriftKcal) + sq(d.jumpSD)
	p[LossScale*n+LossScale] += sq(0.015)
	p[SlowFluid*n+SlowFluid] += (1 - m.decay*m.decay) * f.slowVariance()
	if f.cycle {
		p[cycleCos*n+cycleCos] += sq(0.02)
		p[cycleSin*n+cycleSin] += sq(0.02)
	}
}

// slowVariance is the variance of slow fluid; a cycle that is not logged hides
// in it.
func (f *filter) slowVariance() float64 {
	scale := f.startKg / 80
	v := sq(f.set.SlowFluidSD * scale * f.noise)
	if f.cycle && !f.cycleKnown {
		v += sq(0.3)
	}
	return v
}

// fastVariance is that of what is of one morning alone, its tails apart.
func (f *filter) fastVariance() float64 { return sq(f.set.WeighInSD * f.startKg / 80 * f.noise) }

// update takes in what the day tells of the body, one number at a time, and
// writes down in to what was seen.
func (f *filter) update(d *day, x, p []float64, to *pass) {
	n := f.n
	if !math.IsNaN(d.weight) {
		h, ph := to.look(n)
		f.weightRow(d, h)
		s := sighting{innovation: d.weight - dot(h, x), weighIn: true}
		fast := f.fastVariance()
		variance := project(ph, p, h)
		// Student-t tails: far from what is expected, a weigh-in counts less.
		z2 := s.innovation * s.innovation / (variance + fast)
		nu := f.set.TailDF
		fast *= math.Max(1, (nu+z2)/(nu+1))
		s.variance = variance + fast

		correct(x, p, ph, &s)
		to.seen = append(to.seen, s)
	}
	for _, c := range d.compositions {
		h, ph := to.look(n)
		w := x[Fat] + x[FatFree]
		h[Fat], h[FatFree] = 100*x[FatFree]/(w*w), -100*x[Fat]/(w*w)
		bias := f.series[c.Series]
		h[bias] = 1
		s := sighting{innovation: c.BodyFatPct - (100*x[Fat]/w + x[bias])}
		s.variance = project(ph, p, h) + c.ReadingSD*c.ReadingSD
		correct(x, p, ph, &s)
		to.seen = append(to.seen, s)
	}
}

// weightRow is how the scale sees the state; h comes clear.
func (f *filter) weightRow(d *day, h []float64) {
	h[Fat], h[FatFree], h[SlowFluid] = 1, 1, 1
	h[Gain] = d.waterKg
	h[cycleCos], h[cycleSin] = d.cycle[0], d.cycle[1]
	h[weekCos], h[weekSin] = d.weekday[0], d.weekday[1]
}

// project writes p h into ph, p being symmetric, and gives h p h.
func project(ph, p, h []float64) float64 {
	n := len(h)
	clear(ph)
	for i, v := range h {
		if v == 0 {
			continue
		}
		for j, c := range p[i*n : i*n+n] {
			ph[j] += v * c
		}
	}
	return dot(h, ph)
}

// correct is the Kalman update by one number; p stays symmetric to the bit.
func correct(x, p, ph []float64, s *sighting) {
	n := len(ph)
	for i, v := range ph {
		k := v / s.variance
		x[i] += k * s.innovation
		row := p[i*n : i*n+i+1]
		for j := range row {
			row[j] -= k * ph[j]
			p[j*n+i] = row[j]
		}
	}
	// What the floor takes back was believed: it is doubt now.
	if under := leastFatKg - x[Fat]; under > 0 {
		x[Fat] = leastFatKg
		p[Fat*n+Fat] += under * under
	}
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}
