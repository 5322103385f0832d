package training

import "math"

// A state-space model of the logarithm of strength. The level wanders; a session
// shows it with heavy-tailed noise, moved by what is learned of the lifter: how a
// repetition counts, how strength rides on body weight and, where one exercise took
// over from another, how far apart the two are.
//
// Kalman filter and fixed-interval smoother (Durbin & Koopman 2012, Time Series
// Analysis by State Space Methods, 2nd ed., chapter 4). Student t noise is a scale
// mixture of normals, whose weights are found by iteration (Lange, Little & Taylor
// 1989, J Am Stat Assoc 84:881), so that a bad day is down-weighted rather than
// believed or thrown out. How much the level wanders is not known for a lifter, so a
// few rates are run and averaged by how well each foretold the sessions.

// The states, in order. All but the level are constants that are learned.
const (
	level   = iota // log of the maximum at the usual repetitions and at the weight of reference
	curve          // what one repetition to failure more adds to the log of a reckoned maximum
	ride           // exponent of body weight
	novelty        // how far below its maximum an exercise that took over begins, as a logarithm
	offset         // log of the second exercise of a chain over the first, and then of the third

	chainMost = 3 // exercises in a chain
	// states counts one more, which comes after those in use: the mean level over
	// the baseline's sessions, remembered as they go by.
	states = offset + chainMost
)

const (
	// tailFreedom is the degrees of freedom of the noise (judgement; Lange et al.
	// use 4 as a robust default).
	tailFreedom = 4.0
	// noiseWorth is how many sessions the assumed size of the noise weighs against
	// what a lifter's own sessions show (judgement).
	noiseWorth = 8.0
	// openSD is the standard deviation of a level or an offset before anything is
	// seen: 100 %.
	openSD = 1.0
	// rounds is the most iterations for the weights, and settled the change of a
	// weight that no longer matters.
	rounds  = 40
	settled = 1e-3
)

// wanderRates are the standard deviations of the level's change over a week, as
// shares, equally likely beforehand. Judgement: rates that hold calibration both
// for a lifter who wanders by 0.75 % a week and for one who loses 0.4 % every week;
// for the latter the level still lags by about a point (see the coverage test).
// Slower rates, and a step on an unknown day beside them, were tried: they find no
// more of the true drops at the same false alarms (docs/training.md).
var wanderRates = [...]float64{0.01, 0.017, 0.03}

type vector [states]float64

// only is the vector of one state.
func only(state int) *vector {
	var v vector
	v[state] = 1
	return &v
}

// observation is a day of one lift; a variance of 0 is a day without a session.
type observation struct {
	day      int // days count
	log      float64
	variance float64
	reps     float64 // to failure, above the usual
	mass     float64 // log of body weight over that of reference
	offset   int     // state of the exercise's offset, 0 for the first of a chain
	novel    float64 // share of the novelty that is left, negative
	memory   float64 // share of this day's level in the mean of the baseline, 0 outside it
	change   float64 // variance of what may have changed before this day besides wandering
}

// shows is the observation as a function of the states.
func (o *observation) shows() vector {
	h := vector{level: 1, curve: o.reps, ride: o.mass}
	if o.offset > 0 {
		h[o.offset], h[novelty] = 1, o.novel
	}
	return h
}

// belief is normal, about the first n states and the one after them.
type belief struct {
	n int
	x vector
	p [states]vector
}

// about is the mean and variance of a linear function of the states.
func (b *belief) about(c *vector) (mean, variance float64) {
	for i := range b.n + 1 {
		mean += c[i] * b.x[i]
		row := 0.0
		for j := range b.n + 1 {
			row += c[j] * b.p[i][j]
		}
		variance += c[i] * row
	}
	return mean, math.Max(0, variance)
}

// see updates with an observation of a noise variance: the gain, the surprise and
// its variance.
func (b *belief) see(o *observation, noise float64) (gain vector, v, f float64) {
	var with vector // covariance of the states with what is seen
	v = o.log - b.x[level] - o.reps*b.x[curve] - o.mass*b.x[ride]
	for i := range b.n + 1 {
		p := &b.p[i]
		with[i] = p[level] + o.reps*p[curve] + o.mass*p[ride]
	}
	f = noise
	if j := o.offset; j > 0 {
		v -= b.x[j] + o.novel*b.x[novelty]
		for i := range b.n + 1 {
			with[i] += b.p[i][j] + o.novel*b.p[i][novelty]
		}
		f += with[j] + o.novel*with[novelty]
	}
	f += with[level] + o.reps*with[curve] + o.mass*with[ride]
	for i := range b.n + 1 {
		g := with[i] / f
		gain[i] = g
		b.x[i] += g * v
		p := &b.p[i]
		for j := range b.n + 1 {
			p[j] -= g * with[j]
		}
	}
	return gain, v, f
}

// remember adds a share of the level to the mean of the baseline.
func (b *belief) remember(share float64) {
	m := b.n
	b.x[m] += share * b.x[level]
	b.p[m][m] += share * (2*b.p[m][level] + share*b.p[level][level])
	for i := range m {
		b.p[m][i] += share * b.p[level][i]
		b.p[i][m] = b.p[m][i]
	}
}

// track is a lift's run through its sessions at one rate of wandering.
type track struct {
	wander float64 // variance of the level's change over a day
	weight []float64
	scale  float64 // of the noise variance, against what was assumed
	fit    float64 // log likelihood of the sessions, each foretold from those before
	worth  float64 // against the other rates; they sum to 1
	end    belief
	before belief // before the last session
	// mean and variance of the smoothed level on each day, at the usual repetitions
	// and the day's body weight, of the exercise of that day once it is familiar.
	mean, variance []float64
}

// filter runs tracks through the observations of one lift. Its slices are used
// again for the next lift.
type filter struct {
	obs    []observation
	start  belief
	tracks [len(wanderRates)]track

	gain        []vector
	v, f, noise []float64
	before      []belief // of each observation
}

// size makes room for as many observations as there are.
func (f *filter) size() {
	n := len(f.obs)
	if cap(f.v) < n {
		f.gain, f.before = make([]vector, n), make([]belief, n)
		f.v, f.f, f.noise = make([]float64, n), make([]float64, n), make([]float64, n)
	}
	f.gain, f.before, f.v, f.f, f.noise = f.gain[:n], f.before[:n], f.v[:n], f.f[:n], f.noise[:n]
	for i := range f.tracks {
		t := &f.tracks[i]
		if cap(t.weight) < n {
			t.weight, t.mean, t.variance = make([]float64, n), make([]float64, n), make([]float64, n)
		}
		t.weight, t.mean, t.variance = t.weight[:n], t.mean[:n], t.variance[:n]
	}
}

// run smooths with every rate of wandering and weighs the rates. The observations
// are in order of day; there is at least one, and the first has a session.
func (f *filter) run() {
	f.size()
	best := math.Inf(-1)
	for i := range f.tracks {
		t := &f.tracks[i]
		t.begin(i, f.tracks[:i])
		f.settle(t)
		f.smooth(t)
		best = math.Max(best, t.fit)
	}
	total := 0.0
	for i := range f.tracks {
		t := &f.tracks[i]
		t.worth = math.Exp(t.fit - best)
		total += t.worth
	}
	for i := range f.tracks {
		f.tracks[i].worth /= total
	}
}

// begin sets a track out, with the weights of the rate before, from which they will
// differ little.
func (t *track) begin(rate int, done []track) {
	t.wander, t.scale = wanderRates[rate]*wanderRates[rate]/7, 1
	if len(done) > 0 {
		copy(t.weight, done[len(done)-1].weight)
		t.scale = done[len(done)-1].scale
		return
	}
	for i := range t.weight {
		t.weight[i] = 1
	}
}

// settle finds the weights and the scale of the noise.
func (f *filter) settle(t *track) {
	for range rounds {
		f.forward(t, false)
		if f.reweigh(t) < settled {
			break
		}
	}
	f.forward(t, true)
}

// forward filters with the present weights. With keep, it keeps what is believed
// before each observation, and how well the sessions were foretold.
func (f *filter) forward(t *track, keep bool) {
	b := f.start
	t.fit = 0
	for i := range f.obs {
		o := &f.obs[i]
		if i > 0 {
			b.p[level][level] += t.wander*float64(o.day-f.obs[i-1].day) + o.change
		}
		if keep {
			f.before[i] = b
			if o.variance > 0 {
				t.before = b
			}
		}
		if o.variance > 0 {
			noise := o.variance * t.scale
			f.noise[i] = noise / t.weight[i]
			f.gain[i], f.v[i], f.f[i] = b.see(o, f.noise[i])
			if keep && i > 0 {
				t.fit += logStudent(f.v[i], f.f[i]-f.noise[i]+noise)
			}
		}
		if o.memory > 0 {
			b.remember(o.memory)
		}
	}
	t.end = b
}

// retrace is what later sessions say of a day: r and c are r and N in section 4.4
// of Durbin & Koopman.
type retrace struct {
	n int
	r vector
	c [states]vector
}

// tell adds a session to what is carried back. Its smoothed noise has the mean
// noise u and the variance noise - noise^2 d.
func (k *retrace) tell(o *observation, gain *vector, v, f float64) (u, d float64) {
	var cg vector
	gcg, gr := 0.0, 0.0
	for i := range k.n {
		s := 0.0
		for j := range k.n {
			s += k.c[i][j] * gain[j]
		}
		cg[i] = s
		gcg += gain[i] * s
		gr += gain[i] * k.r[i]
	}
	u, d = v/f-gr, 1/f+gcg
	h := o.shows()
	for i := range k.n {
		k.r[i] += h[i] * u
		for j := range k.n {
			k.c[i][j] += h[i]*h[j]*d - h[i]*cg[j] - cg[i]*h[j]
		}
	}
	return u, d
}

// reweigh takes weights and scale from the smoothed noise of each session, and
// reports the greatest change of a weight.
func (f *filter) reweigh(t *track) (moved float64) {
	k := retrace{n: f.start.n}
	squares, sessions := 0.0, 0.0
	for i := len(f.obs) - 1; i >= 0; i-- {
		o := &f.obs[i]
		if o.variance == 0 {
			continue
		}
		u, d := k.tell(o, &f.gain[i], f.v[i], f.f[i])
		noise := f.noise[i]
		z2 := (noise*noise*u*u + math.Max(0, noise-noise*noise*d)) / (o.variance * t.scale)
		w := (tailFreedom + 1) / (tailFreedom + z2)
		moved = math.Max(moved, math.Abs(w-t.weight[i]))
		t.weight[i] = w
		squares += w * z2 * t.scale
		sessions++
	}
	t.scale = (noiseWorth + squares) / (noiseWorth + sessions)
	return moved
}

// smooth finds the level of each day, given every session.
func (f *filter) smooth(t *track) {
	k := retrace{n: f.start.n}
	for i := len(f.obs) - 1; i >= 0; i-- {
		o, b := &f.obs[i], &f.before[i]
		if o.variance > 0 {
			k.tell(o, &f.gain[i], f.v[i], f.f[i])
		}
		c := o.shows()
		c[curve], c[novelty] = 0, 0
		mean, variance := b.about(&c)
		var pc vector
		for a := range k.n {
			for j := range k.n {
				pc[a] += b.p[a][j] * c[j]
			}
			mean += pc[a] * k.r[a]
		}
		for a := range k.n {
			for j := range k.n {
				variance -= pc[a] * k.c[a][j] * pc[j]
			}
		}
		t.mean[i], t.variance[i] = mean, math.Max(0, variance)
	}
}

// logStudent is the log density of a Student t deviate, up to a constant, with
// tailFreedom degrees of freedom and a squared scale.
func logStudent(x, squaredScale float64) float64 {
	return -0.5*math.Log(squaredScale) - (tailFreedom+1)/2*math.Log1p(x*x/(squaredScale*tailFreedom))
}

// about mixes a linear function of the states, at the end, over the tracks.
func (f *filter) about(c *vector) (mean, variance float64) {
	return f.mix(func(t *track) (float64, float64) { return t.end.about(c) })
}

// aboutBefore is about before the last session.
func (f *filter) aboutBefore(c *vector) (mean, variance float64) {
	return f.mix(func(t *track) (float64, float64) { return t.before.about(c) })
}

// at is the smoothed level on a day.
func (f *filter) at(i int) (mean, variance float64) {
	return f.mix(func(t *track) (float64, float64) { return t.mean[i], t.variance[i] })
}

// weight is the weight of a session.
func (f *filter) weight(i int) float64 {
	w, _ := f.mix(func(t *track) (float64, float64) { return t.weight[i], 0 })
	return w
}

// scale is the scale of the noise.
func (f *filter) scale() float64 {
	s, _ := f.mix(func(t *track) (float64, float64) { return t.scale, 0 })
	return s
}

// mix averages a mean and a variance over the tracks.
func (f *filter) mix(of func(t *track) (mean, variance float64)) (mean, variance float64) {
	var squares float64
	for i := range f.tracks {
		t := &f.tracks[i]
		m, v := of(t)
		mean += t.worth * m
		squares += t.worth * (v + m*m)
	}
	return mean, math.Max(0, squares-mean*mean)
}
