package training

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/numeric"
)

// Usual is the stretch of a log that stands for what is usual of an athlete.
type Usual struct {
	From civil.Date `json:"from"`
	To   civil.Date `json:"to"`
	// OffSeason: no diet was on. Else it is the first weeks of the log, which may
	// have been hard already.
	OffSeason bool `json:"off_season"`
}

// How far below usual the mean of a week is short of recovery, and deeply short, in
// the SDs of the state (judgement: in usual times one week in 20 to 40 is short).
const (
	ShortRecovery = -1.5
	DeepRecovery  = -3.0
)

// RecoveryState is what the markers of a log tell of how an athlete recovers: one
// hidden state, 0 where it is as usual for this athlete, negative where it is worse,
// in the SDs by which it passes up and down from day to day in usual times.
type RecoveryState struct {
	AsOf  civil.Date       `json:"as_of"`
	Usual Usual            `json:"usual"`
	Today numeric.Interval `json:"today"`
	Week  numeric.Interval `json:"week"`    // mean of the seven days to the date
	Short float64          `json:"p_short"` // chance that the week's mean is below ShortRecovery
	Deep  float64          `json:"p_deep"`  // below DeepRecovery
	// Logged is on how many of the last 14 days any marker is logged.
	Logged   int            `json:"logged_days"`
	Weeks    []RecoveryWeek `json:"weeks"` // counted back from the date, in order
	Markers  []MarkerSign   `json:"markers"`
	Sentence string         `json:"sentence"`
	Cannot   []string       `json:"cannot,omitempty"`
}

// RecoveryWeek is the mean of the state over seven days, given the whole log.
type RecoveryWeek struct {
	To     civil.Date       `json:"to"` // the last of them
	Logged int              `json:"logged_days"`
	State  numeric.Interval `json:"state"`
	Short  float64          `json:"p_short"`
}

// MarkerSign is what one marker says.
type MarkerSign struct {
	Marker string   `json:"marker"`
	Usual  float64  `json:"usual"`            // of this athlete, as it is learned by now
	Lately *float64 `json:"lately,omitempty"` // mean of the last seven days; nil is not logged
	Days   int      `json:"days"`             // of them logged
	// Effect is what it adds to Week; all markers' effects sum to it.
	Effect float64 `json:"effect"`
	Words  string  `json:"words"`
}

// slowRates are how far the slow part may move in a week, equally likely beforehand
// (judgement).
var slowRates = [...]float64{0.3, 0.8}

const (
	// passingDays is how long a passing change lasts (judgement).
	passingDays = 3.5
	slowAtFirst = 1.0 // SD of the slow part on the first day
	// anchorOffSeason and anchorFirst are the SDs of the state's mean over the usual
	// weeks about 0. By definition it is 0 in an off-season; the first weeks of a log
	// may have been hard already.
	anchorOffSeason, anchorFirst = 0.05, 0.5
	// unitDoubt is the doubt about the unit itself, as a share of the state: the
	// loadings are not known for one athlete.
	unitDoubt = 0.25
)

// Recovery reads the state of recovery from a log up to a date. Days without a
// marker are as good as any: what is not logged widens the interval. A marker
// with fewer than 5 values is left out. The log before the usual weeks is not
// looked at.
func Recovery(days []athlete.Day, usual Usual, asOf civil.Date) RecoveryState {
	l := readMarkers(days, usual.From, asOf)
	keeps := math.Exp(-1 / passingDays)
	scatter := make([]float64, len(l.signs))
	for k := range l.signs {
		scatter[k] = l.scatter(k, keeps)
		l.bound(k, scatter[k])
	}
	var runs []*pass
	best := math.Inf(-1)
	for _, rate := range slowRates {
		p := l.model(usual, scatter, keeps, rate).run(l.days)
		best = math.Max(best, p.fit)
		runs = append(runs, p)
	}
	mix := newRecoveryMix(len(l.days)/7, len(l.signs))
	for _, p := range runs {
		mix.add(p, math.Exp(p.fit-best))
	}
	return mix.state(l, usual, asOf)
}

// model is the model of a log for one rate of the slow part.
func (l *markerLog) model(usual Usual, scatter []float64, keeps, rate float64) *factorModel {
	m := &factorModel{
		keeps: keeps, wander: rate * rate / 7, slowVariance: slowAtFirst * slowAtFirst,
		usualFrom: max(0, usual.From.DaysSince(l.from)), usualTo: min(usual.To.DaysSince(l.from), len(l.days)-1),
		anchor: anchorFirst * anchorFirst,
	}
	if usual.OffSeason {
		m.anchor = anchorOffSeason * anchorOffSeason
	}
	for k, s := range l.signs {
		drift := s.drift * scatter[k]
		m.markers = append(m.markers, factorMarker{
			loading: s.better * s.tells * scatter[k], noise: (1 - s.tells*s.tells) * scatter[k] * scatter[k],
			baseline: s.baseline, spread: s.spread * s.spread, drift: drift * drift / 7,
		})
	}
	return m
}

// recoveryMix is the average over the rates, by what each is worth.
type recoveryMix struct {
	worth       float64
	weeks       []moment // weighted sums of means and second moments
	today       moment
	short, deep []float64
	effects     []float64
	usual       []float64
}

func newRecoveryMix(weeks, signs int) *recoveryMix {
	return &recoveryMix{
		weeks: make([]moment, weeks), short: make([]float64, weeks), deep: make([]float64, weeks),
		effects: make([]float64, signs), usual: make([]float64, signs),
	}
}

func (x *recoveryMix) add(p *pass, worth float64) {
	x.worth += worth
	for i, w := range p.weeks() {
		w = inDoubt(w)
		x.weeks[i].add(w, worth)
		n := numeric.Normal{Mean: w.mean, SD: math.Sqrt(w.variance)}
		x.short[i] += worth * n.Below(ShortRecovery)
		x.deep[i] += worth * n.Below(DeepRecovery)
	}
	x.today.add(inDoubt(moment{
		p.mean[passing] + p.mean[slow],
		p.cov[passing][passing] + 2*p.cov[passing][slow] + p.cov[slow][slow],
	}), worth)
	for k, e := range p.contributions() {
		x.effects[k] += worth * e
		x.usual[k] += worth * p.mean[firstBaseline+k]
	}
}

// inDoubt adds the doubt about the unit.
func inDoubt(m moment) moment {
	m.variance += unitDoubt * unitDoubt * m.mean * m.mean
	return m
}

func (m *moment) add(o moment, worth float64) {
	m.mean += worth * o.mean
	m.variance += worth * (o.variance + o.mean*o.mean)
}

// of is the interval of a weighted sum of moments.
func (x *recoveryMix) of(m moment) numeric.Interval {
	mean := m.mean / x.worth
	return numeric.Normal{Mean: mean, SD: math.Sqrt(math.Max(0, m.variance/x.worth-mean*mean))}.Interval()
}

func (x *recoveryMix) state(l *markerLog, usual Usual, asOf civil.Date) RecoveryState {
	last := len(x.weeks) - 1
	out := RecoveryState{
		AsOf: asOf, Usual: usual, Today: x.of(x.today), Week: x.of(x.weeks[last]),
		Short: x.short[last] / x.worth, Deep: x.deep[last] / x.worth,
	}
	for i := range x.weeks {
		w := RecoveryWeek{To: l.from.AddDays(7*i + 6), State: x.of(x.weeks[i]), Short: x.short[i] / x.worth}
		for _, logged := range l.logged[7*i : 7*i+7] {
			if logged {
				w.Logged++
			}
		}
		out.Weeks = append(out.Weeks, w)
	}
	out.Logged = out.Weeks[last].Logged + out.Weeks[last-1].Logged
	for k, s := range l.signs {
		out.Markers = append(out.Markers, s.sign(l, k, x.usual[k]/x.worth, x.effects[k]/x.worth))
	}
	out.tell()
	return out
}
