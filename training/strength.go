package training

import (
	"fmt"
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/numeric"
	"glidepath/physiology"
)

// What retention needs (judgement): sessions of a lift in the baseline weeks, and
// of late.
const (
	baselineLeast = 3
	recentLeast   = 2
	recentDays    = 28
)

// StrengthReport is how strong an athlete is on a date and how much is kept.
type StrengthReport struct {
	AsOf         civil.Date `json:"as_of"`
	BaselineFrom civil.Date `json:"baseline_from"`
	BaselineTo   civil.Date `json:"baseline_to"`
	Lifts        []Lift     `json:"lifts"`             // big lifts first, then by sessions
	Overall      *Retention `json:"overall,omitempty"` // nil where no lift tells
	OverallFrom  []string   `json:"overall_from,omitempty"`
	// Beyond is Overall without what a lighter or heavier body explains; nil where
	// body weight is not known.
	Beyond   *Retention       `json:"beyond_body_weight,omitempty"`
	Relative *Relative        `json:"relative,omitempty"` // of Overall
	Muscles  []MuscleStrength `json:"muscles,omitempty"`  // those that some lift tells of
	Bridges  []Bridge         `json:"bridges,omitempty"`
	Loss     *Loss            `json:"loss,omitempty"`   // nil where Overall is
	Cannot   []string         `json:"cannot,omitempty"` // what cannot be told and why

	path    []pathPoint // of Overall
	earlier *Retention  // Overall without the last day of training; nil from one lift
}

// Lift is one exercise's strength.
type Lift struct {
	Exercise string `json:"exercise"` // the catalogue's name, or the athlete's own
	Known    bool   `json:"known"`    // the catalogue knows it
	Big      bool   `json:"big"`
	Sessions int    `json:"sessions"`
	// BodyShare is the part of body weight that is lifted and counted in all weights
	// here but AsSetKg, 0 to 1.
	BodyShare float64 `json:"body_share,omitempty"`
	// E1RMKg is the level on the date, as an estimate of a tested maximum: its
	// interval includes the formulas' own error. It is read at the fewest repetitions
	// to failure trained of late, where the formulas err least.
	E1RMKg numeric.Interval `json:"e1rm_kg"`
	Series []StrengthPoint  `json:"series"`
	// BaselineKg is the mean level over the baseline's sessions; of an exercise that
	// took over from another, what it would have been.
	BaselineKg *float64   `json:"baseline_kg,omitempty"`
	Retention  *Retention `json:"retention,omitempty"`
	// Beyond is Retention without what a lighter or heavier body explains.
	Beyond   *Retention `json:"beyond_body_weight,omitempty"`
	Relative *Relative  `json:"relative,omitempty"`
	// BridgedFrom are the exercises that it took over from, the first one first. They
	// have no retention of their own.
	BridgedFrom []string `json:"bridged_from,omitempty"`

	muscles []athlete.Share
	stands  bool // for strength as a whole: it is big, or took over from one that is
	path    []pathPoint
	days    []deviation
	doubt   float64        // variance of the change, from what is not known of the lifter's curve
	ride    numeric.Normal // exponent of body weight
	weights [2]float64     // log of body weight now and over the baseline
}

// pathPoint is the level of a lift, or of those it took over from, or of several lifts,
// over the mean of the baseline, as a logarithm.
type pathPoint struct {
	date civil.Date
	log  numeric.Normal
}

// StrengthPoint is a day of a lift. The level's interval leaves out the formulas'
// own error, which is the same along the series.
type StrengthPoint struct {
	Date civil.Date `json:"date"`
	// BestKg is from the day's best set, as the lifter's own repetitions count.
	BestKg   float64          `json:"best_kg"`
	LevelKg  numeric.Interval `json:"level_kg"`
	Weight   float64          `json:"weight"`    // of the day: 1 and above as usual, near 0 out of line
	Reps     float64          `json:"reps"`      // to failure, of the best set
	AsSetKg  float64          `json:"as_set_kg"` // weight of the best set, as logged
	BodyKg   float64          `json:"body_kg,omitempty"`
	PerKg    float64          `json:"per_kg,omitempty"` // level over body weight
	Baseline bool             `json:"baseline,omitempty"`
}

// Retention is strength now against the baseline.
type Retention struct {
	Pct numeric.Interval `json:"pct"` // 100 is all kept
	// LossOver2p5 and LossOver5 are the chances that more than 2.5 and 5 % is
	// really lost.
	LossOver2p5 float64 `json:"p_loss_over_2_5"`
	LossOver5   float64 `json:"p_loss_over_5"`
	Lost        bool    `json:"lost"` // a real loss is found: LossOver2p5 is at least 0.7

	log numeric.Normal // of the ratio's logarithm
}

// Relative is strength against body weight, now and in the baseline.
type Relative struct {
	BodyKg         float64 `json:"body_kg"`
	BaselineBodyKg float64 `json:"baseline_body_kg"`
	// PerKg is the level over body weight; 0 for several lifts together.
	PerKg         float64 `json:"per_kg,omitempty"`
	BaselinePerKg float64 `json:"baseline_per_kg,omitempty"`
	// Pct is strength over body weight against the baseline's, and ScaledPct strength
	// over body weight to the power of 2/3, which is fair to a lighter body: both
	// stand above 100 where strength falls less than they do.
	Pct       numeric.Interval `json:"pct"`
	ScaledPct numeric.Interval `json:"scaled_pct"`
}

// Strength reads the sets up to a date. For each exercise the working sets of a day
// are one observation of a level that wanders slowly; a bad day is down-weighted, and
// what is peculiar to the lifter, how repetitions count and how strength goes with
// body weight, is learned beside it. Retention is the level on the date against the
// mean level of the sessions from BaselineFrom to BaselineTo. The formulas' error
// cancels in retention, but for what is not known of how repetitions count where they
// have changed.
//
// An exercise that took over from one with a baseline carries that one's retention
// on (see Bridge).
//
// Sets after AsOf are not looked at. Left out, and named in Cannot: exercises that
// lift an unknown part of the body, sets without weight, and sets of more than 12
// repetitions to failure.
func (c *Catalogue) Strength(l LiftLog) StrengthReport {
	out := StrengthReport{AsOf: l.AsOf, BaselineFrom: l.BaselineFrom, BaselineTo: l.BaselineTo}
	weights := weighInsOf(l.BodyWeights, l.AsOf)
	book := c.gather(&l, weights)
	r := reader{log: &l, weights: weights, out: &out}
	lifts := map[*trained]Lift{}
	chains := book.chains(&l)
	for _, ch := range chains {
		r.read(ch, lifts)
	}
	for _, t := range book.lifts {
		out.Lifts = append(out.Lifts, lifts[t])
	}
	for _, ch := range chains {
		out.Bridges = append(out.Bridges, ch.bridges()...)
	}
	out.Cannot = append(out.Cannot, book.leftOut()...)
	r.overall()
	r.muscles()
	out.reckonLoss()
	return out
}

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
			o.variance += unfamiliar(sessions[s.exercise])
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
	b := belief{n: offset + exercises - 1}
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
	likeLoad   = 0.03 // as a logarithm
	likeDays   = 14.0
	likeReach  = 3 * likeDays
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
	e, err := physiology.OneRM(blend[0], kg, math.Min(reps, physiology.MostReps))
	if err != nil {
		panic("training: repetitions outside the formulas: " + err.Error())
	}
	return e.SE / e.Value
}

// series adds an exercise's days, read at the fewest repetitions. each is what the
// lifter's curve adds with one more.
func (r *reader) series(out *Lift, exercise int, each, fewest float64) {
	f := &r.filter
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
	base, _ := f.about(only(f.start.n))
	each, eachVariance := f.about(only(curve))
	var thenReps, then, nowReps, now float64
	for i, s := range r.seen {
		o := &f.obs[i]
		level, variance := f.at(i)
		apart := base
		if o.offset > 0 {
			extra, _ := f.about(only(o.offset))
			apart += extra
		}
		out.path = append(out.path, pathPoint{s.day.date, numeric.Normal{Mean: level - apart, SD: math.Sqrt(variance)}})
		own := math.Max(o.variance*f.scale()-sharedDay*sharedDay, leastOwn*leastOwn)
		out.days = append(out.days, deviation{
			date: s.day.date, baseline: s.baseline,
			log: o.log - each*o.reps - apart, variance: own / math.Min(1, f.weight(i)),
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

// relativeOf is retention against body weight, the logs of which are now and over
// the baseline.
func relativeOf(kept *Retention, mass [2]float64) *Relative {
	lighter := mass[1] - mass[0]
	return &Relative{
		BodyKg: math.Exp(mass[0]), BaselineBodyKg: math.Exp(mass[1]),
		Pct: kept.Pct.Scale(math.Exp(lighter)), ScaledPct: kept.Pct.Scale(math.Exp(scaling * lighter)),
	}
}

// sureLost is the chance of more than 2.5 % lost at which a loss counts as found, from
// one lift or for a muscle. In simulation it finds a true drop of 5 % in one lift
// within three weeks of two sessions in four of five lifters, and fewer than one in
// twenty are told of one in such a time who have lost nothing
// (docs/training.md; for strength as a whole see Loss).
const sureLost = 0.7

func retentionOf(change, variance float64) *Retention {
	n := numeric.Normal{Mean: change, SD: math.Sqrt(variance)}
	r := Retention{
		Pct:         logInterval(change, variance).Scale(100),
		LossOver2p5: n.Below(math.Log(0.975)),
		LossOver5:   n.Below(math.Log(0.95)),
		log:         n,
	}
	r.Lost = r.LossOver2p5 >= sureLost
	return &r
}

// logInterval turns the normal distribution of a logarithm into its median and
// central intervals.
func logInterval(mean, variance float64) numeric.Interval {
	i := numeric.Normal{Mean: mean, SD: math.Sqrt(variance)}.Interval()
	return numeric.Interval{
		Value: math.Exp(i.Value), Low50: math.Exp(i.Low50), High50: math.Exp(i.High50),
		Low90: math.Exp(i.Low90), High90: math.Exp(i.High90),
	}
}
