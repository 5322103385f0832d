package training

import (
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/numeric"
)

// MuscleStrength is the strength kept by the lifts that train a muscle directly.
type MuscleStrength struct {
	Muscle    athlete.Muscle `json:"muscle"`
	Retention Retention      `json:"retention"`
	Beyond    *Retention     `json:"beyond_body_weight,omitempty"` // without what body weight explains
	From      []string       `json:"from"`
}

// Two parts of a day's noise (judgement, and simulation:
// docs/training.md).
const (
	// sharedDay is the day's error that all lifts of a lifter have in common: sleep,
	// food, mood.
	sharedDay = 0.01
	// leastOwn is the least error that a lift has of its own.
	leastOwn = 0.01
)

// deviation is a day of a lift against its baseline, as a logarithm, at the usual
// repetitions; the variance is of the lift's own error.
type deviation struct {
	date          civil.Date
	log, variance float64
	baseline      bool
}

// standing are the lifts that strength as a whole is told from: the big ones;
// without any, every lift that tells.
func (r *StrengthReport) standing() []*Lift {
	for _, wantBig := range []bool{true, false} {
		var told []*Lift
		for i := range r.Lifts {
			if l := &r.Lifts[i]; l.Retention != nil && l.stands == wantBig {
				told = append(told, l)
			}
		}
		if len(told) > 0 {
			return told
		}
	}
	return nil
}

// overall tells strength as a whole.
func (r *reader) overall() {
	out := r.out
	told := out.standing()
	if len(told) == 0 {
		out.Cannot = append(out.Cannot, "How much strength is kept cannot be told: no lift has enough sessions both in the baseline weeks and of late.")
		return
	}
	if !told[0].stands {
		out.Cannot = append(out.Cannot, "No big lift tells how much strength is kept; smaller ones stand in, which say less.")
	}
	for _, l := range told {
		out.OverallFrom = append(out.OverallFrom, l.Exercise)
	}
	t := r.together(told)
	out.Overall, out.Beyond, out.path, out.earlier = t.kept, t.beyond, t.path, t.earlier
	if t.beyond != nil {
		out.Relative = relativeOf(t.kept, t.weights)
	}
}

// muscles tells, for each muscle, of the lifts that train it directly.
func (r *reader) muscles() {
	for _, m := range athlete.Muscles() {
		var told []*Lift
		out := MuscleStrength{Muscle: m}
		for i := range r.out.Lifts {
			l := &r.out.Lifts[i]
			if l.Retention != nil && l.trains(m) {
				told = append(told, l)
				out.From = append(out.From, l.Exercise)
			}
		}
		if len(told) == 0 {
			continue
		}
		t := r.together(told)
		out.Retention, out.Beyond = *t.kept, t.beyond
		r.out.Muscles = append(r.out.Muscles, out)
	}
}

func (l *Lift) trains(m athlete.Muscle) bool {
	return slices.ContainsFunc(l.muscles, func(s athlete.Share) bool { return s.Muscle == m && s.Share >= Direct })
}

// several is what lifts tell together.
type several struct {
	kept    *Retention
	beyond  *Retention  // without what body weight explains; nil where that is not known of every lift
	earlier *Retention  // without the last day of training; nil from one lift
	weights [2]float64  // log of body weight now and over the baseline
	path    []pathPoint // from the first day by which every lift has begun
}

// together runs the days of several lifts, each against its own baseline, as one
// series: of a day, the mean of the lifts trained, weighted by precision, with the
// error that they share. That follows a change sooner than the mean of the lifts'
// levels would, and a bad day counts as one, not once for each lift. How much the
// lifts differ among themselves widens the interval (random effects).
func (r *reader) together(lifts []*Lift) several {
	out := several{kept: lifts[0].Retention, beyond: lifts[0].Beyond, weights: lifts[0].weights, path: lifts[0].path}
	if len(lifts) == 1 {
		return out
	}
	n := float64(len(lifts))
	values, variances := make([]float64, len(lifts)), make([]float64, len(lifts))
	var doubt, ride, rideSD float64
	weighed := true
	out.weights = [2]float64{}
	for i, l := range lifts {
		values[i], variances[i] = l.Retention.log.Mean, l.Retention.log.SD*l.Retention.log.SD
		doubt += l.doubt / (n * n)
		ride += l.ride.Mean / n
		rideSD += l.ride.SD / n
		out.weights[0] += l.weights[0] / n
		out.weights[1] += l.weights[1] / n
		weighed = weighed && l.Beyond != nil
	}
	doubt += spread(values, variances) / n
	r.share(lifts)
	f := &r.filter
	f.run()
	change := vector{level: 1, level + 1: -1}
	mean, variance := f.about(&change)
	out.kept = retentionOf(mean, variance+doubt)
	before, beforeVariance := f.aboutBefore(&change)
	out.earlier = retentionOf(before, beforeVariance+doubt)
	out.beyond = nil
	if weighed {
		// The exponent belongs to the athlete: what is not known of it does not average out.
		lighter := out.weights[0] - out.weights[1]
		out.beyond = retentionOf(mean-ride*lighter, variance+doubt+rideSD*rideSD*lighter*lighter)
	}
	out.path = r.sharedPath(lifts, doubt)
	return out
}

// share makes the filter's observations of several lifts' days.
func (r *reader) share(lifts []*Lift) {
	all := r.days[:0]
	for _, l := range lifts {
		all = append(all, l.days...)
	}
	r.days = all
	slices.SortStableFunc(all, func(a, b deviation) int { return a.date.DaysSince(b.date) })
	f := &r.filter
	f.obs = f.obs[:0]
	baseline := 0
	for i := 0; i < len(all); {
		on := all[i].date
		worth, sum, in := 0.0, 0.0, 0.0
		for ; i < len(all) && all[i].date == on; i++ {
			w := 1 / all[i].variance
			worth, sum = worth+w, sum+w*all[i].log
			if all[i].baseline {
				in = 1
			}
		}
		baseline += int(in)
		f.obs = append(f.obs, observation{day: int(on), log: sum / worth, variance: sharedDay*sharedDay + 1/worth, memory: in})
	}
	for i := range f.obs {
		f.obs[i].memory /= float64(baseline)
	}
	f.start = belief{n: 1}
	f.start.x[level], f.start.p[level][level] = f.obs[0].log, openSD*openSD
	if last := f.obs[len(f.obs)-1].day; last < int(r.log.AsOf) {
		f.obs = append(f.obs, observation{day: int(r.log.AsOf)})
	}
}

// sharedPath is the smoothed level of several lifts, against the baseline.
func (r *reader) sharedPath(lifts []*Lift, doubt float64) []pathPoint {
	from := lifts[0].path[0].date
	for _, l := range lifts[1:] {
		from = max(from, l.path[0].date)
	}
	f := &r.filter
	base, _ := f.about(only(f.start.n))
	path := make([]pathPoint, 0, len(f.obs))
	for i := range f.obs {
		on := civil.Date(f.obs[i].day)
		if on < from || f.obs[i].variance == 0 {
			continue
		}
		mean, variance := f.at(i)
		path = append(path, pathPoint{on, numeric.Normal{Mean: mean - base, SD: math.Sqrt(variance + doubt)}})
	}
	return path
}

// spread is the variance of the true values behind some that are known with errors
// (DerSimonian & Laird 1986, Control Clin Trials 7:177); at least 0.
func spread(values, variances []float64) float64 {
	var sum, squares, mean, q float64
	for i, v := range variances {
		w := 1 / v
		sum += w
		squares += w * w
		mean += w * values[i]
	}
	mean /= sum
	for i, v := range variances {
		q += (values[i] - mean) * (values[i] - mean) / v
	}
	free := float64(len(values) - 1)
	if free == 0 {
		return 0
	}
	return math.Max(0, (q-free)/(sum-squares/sum))
}

// OverallPoint is strength as a whole on a day, % of the baseline.
type OverallPoint struct {
	Date civil.Date       `json:"date"`
	Pct  numeric.Interval `json:"pct"`
}

// OverallSeries is strength as a whole by week, counted back from AsOf: on each day
// the level, given all that is known on AsOf, of the last session of the lifts that
// Overall stands for, or of those they took over from. Days before every one of them
// has a session are left out. The interval counts the level's error and the spread
// between lifts, but not the baseline's own error; the last point is Overall, which
// counts both. Nil where Overall is.
func (r *StrengthReport) OverallSeries() []OverallPoint {
	if r.Overall == nil || len(r.path) == 0 {
		return nil
	}
	from := r.path[0].date
	var out []OverallPoint
	next := 0
	for on := from.AddDays(r.AsOf.DaysSince(from) % 7); on < r.AsOf; on = on.AddDays(7) {
		for next < len(r.path) && r.path[next].date <= on {
			next++
		}
		at := r.path[next-1].log
		out = append(out, OverallPoint{on, logInterval(at.Mean, at.SD*at.SD).Scale(100)})
	}
	return append(out, OverallPoint{r.AsOf, r.Overall.Pct})
}
