package training

import (
	"fmt"
	"math"
	"slices"

	"glidepath/numeric"
	"glidepath/physiology"
)

// reader reads chains of exercises with one filter.
type reader struct {
	log     *LiftLog
	weights weighIns
	out     *StrengthReport
	filter  filter

	seen      []seen // what each observation is
	days      []deviation
	usualReps float64
	baseline  int        // sessions in it
	mass      [2]float64 // log of body weight now and its mean over the baseline's sessions
	weighed   bool       // both are known
}

// seen is the day behind an observation.
type seen struct {
	exercise int // in the chain
	day      *liftDay
	baseline bool
}

// curveSD is how much a repetition to failure more may add to the logarithm of a
// lifter's reckoned maximum, beyond the blend: from 5 to 10 repetitions the slopes of
// the seven published formulas lie about the blend's with a root mean square of
// 0.008 a repetition (from Lombardi's, 0.016 below, to Brzycki's, 0.004 above).
// Lifters differ as much: Nuzzo et al. 2024 (Sports Med 54:303) find the spread of
// repetitions at a given share of the maximum between people to be large.
const curveSD = 0.008

// read smooths a chain and makes a lift of each of its exercises.
func (r *reader) read(c chain, lifts map[*trained]Lift) {
	r.collect(c)
	r.countReps()
	r.filter.run()
	for i, t := range c {
		lifts[t] = r.lift(c, i)
	}
}

// collect makes observations of a chain's days.
func (r *reader) collect(c chain) {
	f := &r.filter
	f.obs, r.seen, r.baseline = f.obs[:0], r.seen[:0], 0
	for e, t := range c {
		for i := range t.days {
			d := &t.days[i]
			in := d.date >= r.log.BaselineFrom && d.date <= r.log.BaselineTo
			if in {
				r.baseline++
			}
			r.seen = append(r.seen, seen{e, d, in})
		}
	}
	slices.SortStableFunc(r.seen, func(a, b seen) int { return a.day.date.DaysSince(b.day.date) })
	r.weigh()
	var sessions [chainMost]int
	for i, s := range r.seen {
		o := observation{day: int(s.day.date), log: s.day.log, variance: s.day.variance}
		if s.exercise > 0 {
			o.offset = offset + s.exercise - 1
			o.novel = -noviceShare(sessions[s.exercise])
			if sessions[s.exercise] == 0 && s.day.date > c[s.exercise-1].last() {
				o.change = swapSD * swapSD
			}
		}
		sessions[s.exercise]++
		if s.baseline {
			o.memory = 1 / float64(r.baseline)
		}
		if r.weighed {
			kg, _ := r.weights.on(s.day.date)
			o.mass = math.Log(kg) - r.mass[1]
		}
		f.obs = append(f.obs, o)
		if i == 0 {
			f.start = r.outset(len(c), o.log)
		}
	}
	if last := r.seen[len(r.seen)-1].day.date; last < r.log.AsOf {
		f.obs = append(f.obs, observation{day: int(r.log.AsOf)})
	}
}

// weigh finds body weight now and over the baseline.
func (r *reader) weigh() {
	now, known := r.weights.on(r.log.AsOf)
	r.weighed = known && r.baseline > 0
	sum := 0.0
	for _, s := range r.seen {
		if s.baseline && r.weighed {
			kg, known := r.weights.on(s.day.date)
			sum += math.Log(kg)
			r.weighed = known
		}
	}
	if r.weighed {
		r.mass = [2]float64{math.Log(now), sum / float64(r.baseline)}
	}
}

// outset is what is believed of a chain before anything is seen.
func (r *reader) outset(exercises int, log float64) belief {
	b := belief{n: novelty}
	if exercises > 1 {
		b.n = offset + exercises - 1
		b.x[novelty], b.p[novelty][novelty] = noviceMean, noviceSD*noviceSD
	}
	b.x[level], b.p[level][level] = log, openSD*openSD
	b.p[curve][curve] = curveSD * curveSD
	if r.weighed {
		b.x[ride], b.p[ride][ride] = rideMean, rideSD*rideSD
	}
	for i := offset; i < b.n; i++ {
		b.p[i][i] = openSD * openSD
	}
	return b
}

// A day's repetitions to failure are looked up among days of like load and near in
// time (judgement).
const (
	likeLoad   = 0.02 // as a logarithm
	likeDays   = 28.0
	likeReach  = 2 * likeDays
	ownTelling = 0.25 // what the day itself weighs against another of the same load
)

// countReps finds at how many repetitions to failure each day stood: the mean of what
// the lifter told on days of like load. The day's own telling hardly counts beside
// the maximum reckoned from it: a reserve that is judged too great, or a good day at
// a set load, raises both, which would be taken for the lifter's curve.
func (r *reader) countReps() {
	f := &r.filter
	total, from := 0.0, 0
	for i, s := range r.seen {
		sum, worth := 0.0, 0.0
		for float64(s.day.date.DaysSince(r.seen[from].day.date)) > likeReach {
			from++
		}
		for j := from; j < len(r.seen); j++ {
			d, apart := r.seen[j].day, float64(r.seen[j].day.date.DaysSince(s.day.date))
			if apart > likeReach {
				break
			}
			if r.seen[j].exercise != s.exercise {
				continue
			}
			x, y := (d.load-s.day.load)/likeLoad, apart/likeDays
			w := math.Exp(-(x*x + y*y) / 2)
			if i == j {
				w = ownTelling
			}
			sum, worth = sum+w*d.reps, worth+w
		}
		f.obs[i].reps = sum / worth
		total += f.obs[i].reps
	}
	r.usualReps = total / float64(len(r.seen))
	for i := range r.seen {
		f.obs[i].reps -= r.usualReps
	}
}

// lift is what the filter tells of one exercise of a chain.
func (r *reader) lift(c chain, exercise int) Lift {
	t, f := c[exercise], &r.filter
	out := Lift{
		Exercise: t.name, Known: t.known, Big: t.big, Sessions: len(t.days), muscles: t.exercise.Muscles, stands: t.big,
	}
	if t.exercise.BodyLoad {
		out.BodyShare = bodyShares[keyOf(t.exercise.Name)]
	}
	fewest := r.fewestReps(exercise)
	each, _ := f.about(only(curve))
	now := vector{level: 1, curve: fewest}
	if r.weighed {
		now[ride] = r.mass[0] - r.mass[1]
	}
	then := vector{curve: fewest}
	then[f.start.n] = 1
	if exercise > 0 {
		now[offset+exercise-1], then[offset+exercise-1] = 1, 1
	}
	mean, variance := f.about(&now)
	own := formulaSE(fewest + r.usualReps)
	out.E1RMKg = logInterval(mean, variance+own*own)
	r.series(&out, exercise, each, fewest)
	if r.baseline >= baselineLeast {
		mean, _ := f.about(&then)
		out.BaselineKg = new(math.Exp(mean))
	}
	if exercise == len(c)-1 {
		for _, before := range c[:exercise] {
			out.BridgedFrom = append(out.BridgedFrom, before.name)
			out.stands = out.stands || before.big
		}
		r.compare(c, &out)
	}
	return out
}

// fewestReps is the fewest repetitions to failure of late, above the usual.
func (r *reader) fewestReps(exercise int) float64 {
	fewest, found := 0.0, false
	for i := len(r.seen) - 1; i >= 0; i-- {
		s := &r.seen[i]
		if s.exercise != exercise {
			continue
		}
		if found && s.day.date <= r.log.AsOf.AddDays(-recentDays) {
			break
		}
		if reps := r.filter.obs[i].reps; !found || reps < fewest {
			fewest, found = reps, true
		}
	}
	return fewest
}

// formulaSE is the formulas' error as a share.
func formulaSE(reps float64) float64 {
	const kg = 100
	e, err := physiology.OneRM(blend[0], kg, math.Max(1, math.Min(reps, physiology.MostReps)))
	if err != nil {
		panic("training: repetitions outside the formulas: " + err.Error())
	}
	return e.SE / e.Value
}

// series adds an exercise's days, read at the fewest repetitions. each is what the
// lifter's curve adds with one more.
func (r *reader) series(out *Lift, exercise int, each, fewest float64) {
	f := &r.filter
	out.Series = make([]StrengthPoint, 0, out.Sessions)
	for i, s := range r.seen {
		if s.exercise != exercise {
			continue
		}
		mean, variance := f.at(i)
		p := StrengthPoint{
			Date: s.day.date, BestKg: s.day.best.Kg * math.Exp(each*(fewest-f.obs[i].reps)), LevelKg: logInterval(mean+each*fewest, variance),
			Weight: f.weight(i), Reps: s.day.best.Reps, AsSetKg: s.day.best.weightKg, Baseline: s.baseline,
		}
		if kg, known := r.weights.on(s.day.date); known {
			p.BodyKg, p.PerKg = kg, p.LevelKg.Value/kg
		}
		out.Series = append(out.Series, p)
	}
}

// compare sets a chain's last exercise against the baseline.
func (r *reader) compare(c chain, out *Lift) {
	t, f := c.now(), &r.filter
	if r.baseline < baselineLeast {
		r.cannot("%s: %d sessions from %s to %s; a baseline takes at least %d.", t.name, r.baseline, r.log.BaselineFrom, r.log.BaselineTo, baselineLeast)
		return
	}
	if recent := t.since(r.log.AsOf.AddDays(-recentDays)); recent < recentLeast {
		r.cannot("%s: %d sessions in the %d days to %s; a comparison takes at least %d.", t.name, recent, recentDays, r.log.AsOf, recentLeast)
		return
	}
	change := vector{level: 1}
	change[f.start.n] = -1
	beyond := change
	if r.weighed {
		change[ride] = r.mass[0] - r.mass[1]
	}
	out.Retention = retentionOf(f.about(&change))
	r.trace(out)
	if !r.weighed {
		return
	}
	out.Beyond = retentionOf(f.about(&beyond))
	mean, variance := f.about(only(ride))
	out.ride, out.weights = numeric.Normal{Mean: mean, SD: math.Sqrt(variance)}, r.mass
	out.Relative = relativeOf(out.Retention, r.mass)
	out.Relative.PerKg = out.E1RMKg.Value / out.Relative.BodyKg
	out.Relative.BaselinePerKg = *out.BaselineKg / out.Relative.BaselineBodyKg
}

// trace keeps, of a lift that tells, its path and its days as they stand against the
// baseline, for strength as a whole.
func (r *reader) trace(out *Lift) {
	f := &r.filter
	scale := f.scale()
	base, _ := f.about(only(f.start.n))
	each, eachVariance := f.about(only(curve))
	var thenReps, then, nowReps, now float64
	out.path, out.days = make([]pathPoint, 0, len(r.seen)), make([]deviation, 0, len(r.seen))
	for i, s := range r.seen {
		o := &f.obs[i]
		level, variance := f.at(i)
		apart, fresh, freshVariance := base, 0.0, 0.0
		if o.offset > 0 {
			extra, _ := f.about(only(o.offset))
			apart += extra
			fresh, freshVariance = f.about(only(novelty))
		}
		out.path = append(out.path, pathPoint{s.day.date, numeric.Normal{Mean: level - apart, SD: math.Sqrt(variance)}})
		own := math.Max(o.variance*scale-sharedDay*sharedDay, leastOwn*leastOwn)
		out.days = append(out.days, deviation{
			date: s.day.date, baseline: s.baseline,
			log: o.log - each*o.reps - apart - o.novel*fresh, variance: own/math.Min(1, f.weight(i)) + o.novel*o.novel*freshVariance,
		})
		if s.baseline {
			thenReps, then = thenReps+o.reps, then+1
		}
		if s.day.date > r.log.AsOf.AddDays(-recentDays) {
			nowReps, now = nowReps+o.reps, now+1
		}
	}
	turn := nowReps/now - thenReps/then
	out.doubt = eachVariance * turn * turn
}

func (r *reader) cannot(format string, args ...any) {
	r.out.Cannot = append(r.out.Cannot, fmt.Sprintf(format, args...))
}
