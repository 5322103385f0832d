package training

import "math"

// A local-level model of the logarithm of strength: the level wanders, and each
// session shows it with heavy-tailed noise. Kalman filter and Rauch-Tung-Striebel
// smoother (Durbin & Koopman 2012, Time Series Analysis by State Space Methods,
// 2nd ed., chapter 2); Student t noise as a scale mixture of normals, whose
// weights are found by iteration (Lange, Little & Taylor 1989, J Am Stat Assoc
// 84:881), so that a bad day is down-weighted rather than believed or thrown out.
// How much the level wanders is not known for a lifter, so a few rates are run and
// averaged by how well each foretold the sessions.
const (
	// tailFreedom is the degrees of freedom of the noise (judgement; Lange et al.
	// use 4 as a robust default).
	tailFreedom = 4.0
	// dayNoise is the day-to-day error of a trained lifter's best effort, as a share
	// (judgement; test-retest variation of a tested maximum is some 2 to 4 %, from
	// memory of Grgic et al. 2020, Sports Med Open 6:31).
	dayNoise = 0.02
	// noiseWorth is how many sessions the assumed size of the noise weighs against
	// what a lifter's own sessions show (judgement).
	noiseWorth = 8.0
)

// wanderRates are the standard deviations of the level's change over a week, as
// shares, equally likely beforehand. Judgement: rates that hold calibration both
// for a lifter who wanders by 0.75 % a week and for one who loses 0.4 % every week;
// for the latter the level still lags by about a point (see the coverage test).
var wanderRates = [...]float64{0.01, 0.017, 0.03}

// observation is a day of one lift; a variance of 0 is a day without a session.
type observation struct {
	day      int // days count
	log      float64
	variance float64
}

// path is the smoothed level on each day observed, for one rate of wandering.
type path struct {
	wander   float64 // variance of the level's change over a day
	mean     []float64
	variance []float64
	gain     []float64 // smoother gain from each day to the one before
	weight   []float64 // of each observation, 1 is usual, near 0 is a day out of line
	scale    float64   // of the noise variance, against what was assumed
	fit      float64   // log likelihood of the sessions, each foretold from those before
}

// smooth runs the model over observations in order of day; there must be at
// least one, and the first must have a session.
func smooth(obs []observation, wanderPerWeek float64) path {
	n := len(obs)
	p := path{
		wander: wanderPerWeek * wanderPerWeek / 7,
		mean:   make([]float64, n), variance: make([]float64, n), gain: make([]float64, n),
		weight: make([]float64, n), scale: 1,
	}
	for i := range p.weight {
		p.weight[i] = 1
	}
	filtered := make([]float64, n)
	for range 200 {
		p.pass(obs, filtered)
		moved, squares, sessions := 0.0, 0.0, 0.0
		for i, o := range obs {
			if o.variance == 0 {
				continue
			}
			off := o.log - p.mean[i]
			z2 := (off*off + p.variance[i]) / (o.variance * p.scale)
			w := (tailFreedom + 1) / (tailFreedom + z2)
			moved = math.Max(moved, math.Abs(w-p.weight[i]))
			p.weight[i] = w
			squares += w * z2 * p.scale
			sessions++
		}
		p.scale = (noiseWorth + squares) / (noiseWorth + sessions)
		if moved < 1e-6 {
			break
		}
	}
	p.pass(obs, filtered)
	return p
}

// pass is one forward filter and backward smoother with the present weights.
func (p *path) pass(obs []observation, filtered []float64) {
	const diffuse = 1.0 // a standard deviation of 100 % before anything is seen
	level, variance := obs[0].log, diffuse
	p.fit = 0
	for i, o := range obs {
		if i > 0 {
			variance += p.wander * float64(o.day-obs[i-1].day)
		}
		if o.variance > 0 {
			if i > 0 {
				p.fit += logStudent(o.log-level, variance+o.variance*p.scale)
			}
			k := variance / (variance + o.variance*p.scale/p.weight[i])
			level += k * (o.log - level)
			variance *= 1 - k
		}
		p.mean[i], filtered[i] = level, variance
	}
	last := len(obs) - 1
	p.variance[last] = filtered[last]
	for i := last - 1; i >= 0; i-- {
		predicted := filtered[i] + p.wander*float64(obs[i+1].day-obs[i].day)
		g := filtered[i] / predicted
		p.gain[i+1] = g
		p.mean[i] += g * (p.mean[i+1] - p.mean[i])
		p.variance[i] = filtered[i] + g*g*(p.variance[i+1]-predicted)
	}
}

// logStudent is the log density of a Student t deviate, up to a constant, with
// tailFreedom degrees of freedom and a squared scale.
func logStudent(x, squaredScale float64) float64 {
	return -0.5*math.Log(squaredScale) - (tailFreedom+1)/2*math.Log1p(x*x/(squaredScale*tailFreedom))
}

// covariance of the level on two days, i <= j, given every session.
func (p *path) covariance(i, j int) float64 {
	c := p.variance[j]
	for k := j; k > i; k-- {
		c *= p.gain[k]
	}
	return c
}

// change is the mean and variance of the level at index last less the mean level
// over the indices in days.
func (p *path) change(days []int, last int) (mean, variance float64) {
	m := float64(len(days))
	mean, variance = p.mean[last], p.variance[last]
	for a, i := range days {
		mean -= p.mean[i] / m
		variance += (p.variance[i]/m - 2*p.covariance(i, last)) / m
		for _, j := range days[a+1:] {
			variance += 2 * p.covariance(i, j) / (m * m)
		}
	}
	return mean, math.Max(0, variance)
}

// paths are the smoothed levels for each rate of wandering, with what each is
// worth.
type paths struct {
	each  []path
	worth []float64 // sums to 1
}

func smoothAll(obs []observation) paths {
	var ps paths
	best := math.Inf(-1)
	for _, rate := range wanderRates {
		p := smooth(obs, rate)
		ps.each = append(ps.each, p)
		best = math.Max(best, p.fit)
	}
	var total float64
	for _, p := range ps.each {
		w := math.Exp(p.fit - best)
		ps.worth = append(ps.worth, w)
		total += w
	}
	for i := range ps.worth {
		ps.worth[i] /= total
	}
	return ps
}

// average mixes a mean and a variance over the paths.
func (ps *paths) average(of func(p *path) (mean, variance float64)) (mean, variance float64) {
	var squares float64
	for i := range ps.each {
		m, v := of(&ps.each[i])
		mean += ps.worth[i] * m
		squares += ps.worth[i] * (v + m*m)
	}
	return mean, math.Max(0, squares-mean*mean)
}

// at is the level at an index.
func (ps *paths) at(i int) (mean, variance float64) {
	return ps.average(func(p *path) (float64, float64) { return p.mean[i], p.variance[i] })
}

// weight is the weight of a session.
func (ps *paths) weight(i int) float64 {
	w, _ := ps.average(func(p *path) (float64, float64) { return p.weight[i], 0 })
	return w
}
