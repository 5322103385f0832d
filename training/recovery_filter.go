package training

import "math"

// The state of recovery is the sum of a part that passes in days and one that
// wanders over weeks; every marker shows it with a loading, about a baseline of its
// own that may drift, with noise. That is linear and normal: a Kalman filter that
// takes one reading after another, and the fixed-interval smoother without inverses
// (Durbin & Koopman 2012, Time Series Analysis by State Space Methods, 2nd ed.,
// sections 4.4 and 6.4). Two sums are carried along in the state, so that the mean
// of a week is told with its own error, and so that the mean of the usual weeks can
// be set to 0.
const (
	passing  = iota // part that passes in days
	slow            // part that wanders over weeks
	weekSum         // of the state over the week so far, a seventh of each day
	usualSum        // of the state over the usual weeks so far, divided by their days
	firstBaseline
	mostStates = firstBaseline + int(signs)
)

type (
	stateVector [mostStates]float64
	stateMatrix [mostStates]stateVector
)

// factorModel is the model of one athlete's markers, for one rate of the slow part.
type factorModel struct {
	markers            []factorMarker
	keeps              float64 // share of the passing part that is left a day later
	wander             float64 // variance of the slow part's change over a day
	slowVariance       float64 // on the first day
	usualFrom, usualTo int     // days of the usual weeks, both included
	anchor             float64 // variance of the mean over the usual weeks about 0; 0 is no anchor
}

// factorMarker is one marker: value = baseline + loading x state + noise.
type factorMarker struct {
	loading, noise   float64 // noise is a variance
	baseline, spread float64 // before anything is seen: mean and variance
	drift            float64 // variance of the baseline's change over a day
}

// reading of the filter: the innovation of one value, or of the anchor.
type innovation struct {
	marker   int // anchorReading is the anchor
	off, was float64
	variance float64
	gain     stateVector
}

const anchorReading = -1

// weekEnd is the filtered state at the end of a week.
type weekEnd struct {
	day  int
	mean stateVector
	cov  stateMatrix
}

// pass is one run of the filter.
type pass struct {
	m     *factorModel
	n     int // states in use
	mean  stateVector
	cov   stateMatrix
	seen  []innovation
	until []int // innovations up to the end of each day
	ends  []weekEnd
	fit   float64 // log likelihood, up to a constant
}

// run filters whole weeks of values, one row a day, NaN where nothing is logged.
func (m *factorModel) run(days [][]float64) *pass {
	p := &pass{m: m, n: firstBaseline + len(m.markers)}
	p.seen = make([]innovation, 0, len(days)*len(m.markers)+1)
	p.until = make([]int, len(days))
	p.begin()
	for t, values := range days {
		p.advance(t)
		for k, v := range values {
			if !math.IsNaN(v) {
				p.read(k, v)
			}
		}
		if t == m.usualTo && m.anchor > 0 {
			p.read(anchorReading, 0)
		}
		p.until[t] = len(p.seen)
		if t%7 == 6 {
			p.ends = append(p.ends, weekEnd{t, p.mean, p.cov})
		}
	}
	return p
}

func (p *pass) begin() {
	p.cov[slow][slow] = p.m.slowVariance - p.m.wander
	for k := range p.m.markers {
		b := firstBaseline + k
		p.mean[b] = p.m.markers[k].baseline
		p.cov[b][b] = p.m.markers[k].spread - p.m.markers[k].drift
	}
	p.cov[passing][passing] = 1
}

// usualShare is what a day counts in the mean of the usual weeks.
func (m *factorModel) usualShare(t int) float64 {
	if t < m.usualFrom || t > m.usualTo {
		return 0
	}
	return 1 / float64(m.usualTo-m.usualFrom+1)
}

// advance moves the state to the next day.
func (p *pass) advance(t int) {
	if t%7 == 0 {
		p.scale(weekSum, 0)
	}
	p.scale(passing, p.m.keeps)
	p.cov[passing][passing] += 1 - p.m.keeps*p.m.keeps
	p.cov[slow][slow] += p.m.wander
	for k := range p.m.markers {
		p.cov[firstBaseline+k][firstBaseline+k] += p.m.markers[k].drift
	}
	p.sum(weekSum, 1.0/7)
	if share := p.m.usualShare(t); share > 0 {
		p.sum(usualSum, share)
	}
}

func (p *pass) scale(state int, factor float64) {
	p.mean[state] *= factor
	for j := range p.n {
		p.cov[state][j] *= factor
	}
	for j := range p.n {
		p.cov[j][state] *= factor
	}
}

// sum adds a share of the state of recovery to one of the sums.
func (p *pass) sum(to int, share float64) {
	p.mean[to] += share * (p.mean[passing] + p.mean[slow])
	for j := range p.n {
		p.cov[to][j] += share * (p.cov[passing][j] + p.cov[slow][j])
	}
	for j := range p.n {
		p.cov[j][to] += share * (p.cov[j][passing] + p.cov[j][slow])
	}
}

// read takes in one value.
func (p *pass) read(marker int, value float64) {
	in := innovation{marker: marker}
	noise := p.m.anchor
	if marker == anchorReading {
		in.gain = p.cov[usualSum]
		in.off, in.variance = value-p.mean[usualSum], p.cov[usualSum][usualSum]
	} else {
		k, b := &p.m.markers[marker], firstBaseline+marker
		noise = k.noise
		for j := range p.n {
			in.gain[j] = k.loading*(p.cov[passing][j]+p.cov[slow][j]) + p.cov[b][j]
		}
		in.off = value - k.loading*(p.mean[passing]+p.mean[slow]) - p.mean[b]
		in.variance = k.loading*(in.gain[passing]+in.gain[slow]) + in.gain[b]
		in.was = value - k.baseline
	}
	in.variance += noise
	for i := range p.n {
		g := in.gain[i] / in.variance
		p.mean[i] += g * in.off
		for j := range i + 1 {
			v := p.cov[i][j] - g*in.gain[j]
			p.cov[i][j], p.cov[j][i] = v, v
		}
	}
	for i := range p.n {
		in.gain[i] /= in.variance
	}
	p.fit -= 0.5 * (math.Log(in.variance) + in.off*in.off/in.variance)
	p.seen = append(p.seen, in)
}
