// Package forecast says where the athlete will stand: thousands of seeded
// futures drawn from the reading's posterior and flown through the dynamics,
// with the athlete's own way of following a plan, to the distribution of weight,
// body fat and lean on every day to the show.
//
// A future is a function of its own seed alone, so the answer is the same to the
// bit on any number of cores.
package forecast

import (
	"math"
	"slices"

	"glidepath/civil"
	"glidepath/numeric"
	"glidepath/reading"
)

// Problem is what to fly.
type Problem struct {
	From reading.Posterior
	AsOf civil.Date
	// Plan is what is meant to happen on each day from AsOf on; the last morning
	// is the day after the last entry.
	Plan []Day
	// Steered: a coach looks at the trend each week and corrects intake towards
	// the plan, within Least and Most. Otherwise the plan stands as it is.
	Steered bool

	// Execution of the plan on the reporting scale.
	RatioMean float64 // eaten over planned; 0 is 1
	RatioSD   float64 // how well that is known, and how it differs for good; 0 is 0.03
	DaySD     float64 // day-to-day scatter, share; 0 is 0.08

	Target     *Target
	ClassKg    float64 // class limit; 0 is none
	BodyFatPct float64 // floor of body fat; 0 is none
	LeanLossPc float64 // lean loss that counts as kept, per cent of lean; 0 is 3

	Futures int    // 0 is 4000
	Seed    uint64 // of the whole; a future adds its own number
	Workers int    // 0 is one; the answer does not depend on it
}

// Day is a day of the plan.
type Day struct {
	EnergyKcal        float64
	CarbohydrateKcal  float64
	ActivityKcalPerKg float64
	WeightKg          float64 // planned tissue weight on the morning, for steering
	LeastKcal         float64 // the least that the floors permit, as eaten: steering never asks for less; 0 is none
	MostKcal          float64 // maintenance: steering never asks for more
	ReserveKcal       float64 // what steps beyond the plan's could still take, once food is at its least
	Free              bool    // not steered: an event, the peak week
	// KnownShare is how much of what is not known of body fat today measurements will
	// have told by this day, 0 to 1: the coach steers a fatter body further down.
	KnownShare float64
}

// Target is the condition wanted on the last morning, on the scale of the method
// that the coach measures with (reading.Posterior.Series): body fat as that
// method would read it without the error of a single reading. Where nothing is
// measured it is true body fat.
type Target struct {
	BodyFatPct float64
	Tolerance  float64
}

// Forecast is the answer.
type Forecast struct {
	Fan []Fan `json:"fan"` // each morning from AsOf
	// InFourWeeks is weight on the scale 28 mornings on, the morning's noise in it;
	// nil where the last morning comes sooner.
	InFourWeeks *numeric.Interval `json:"weight_in_4_weeks_kg,omitempty"`

	Weight  numeric.Interval `json:"weight_kg"` // on the scale, the morning's noise in it
	BodyFat numeric.Interval `json:"body_fat_pct"`
	// MethodPct is body fat on the scale of the athlete's method, on which the
	// target is judged; the lasting bias of a method leaves BodyFat wider.
	MethodPct numeric.Interval `json:"method_pct"`
	Lean      numeric.Interval `json:"lean_kg"`
	LeanLost  numeric.Interval `json:"lean_lost_kg"`
	Chances   Chances          `json:"chances"`
	Futures   int              `json:"futures"`
}

// Fan is the distribution on a morning: quantiles of scale weight without the
// day's noise, and of true body fat.
type Fan struct {
	Date    civil.Date `json:"date"`
	Weight  Quantiles  `json:"weight_kg"`
	BodyFat Quantiles  `json:"body_fat_pct"`
}

// Quantiles are the steps of a fan: the central 50, 80 and 90 %.
type Quantiles struct {
	P05 float64 `json:"p05"`
	P10 float64 `json:"p10"`
	P25 float64 `json:"p25"`
	P50 float64 `json:"p50"`
	P75 float64 `json:"p75"`
	P90 float64 `json:"p90"`
	P95 float64 `json:"p95"`
}

// Chances are probabilities on the last morning, or NaN where the question does
// not arise.
type Chances struct {
	OnTarget    numeric.OrNull `json:"on_target"`    // within the tolerance, by the athlete's method
	AtOrUnder   numeric.OrNull `json:"at_or_under"`  // body fat by that method no more than target plus tolerance
	InsideClass numeric.OrNull `json:"inside_class"` // morning scale weight within the class limit
	EnergyKept  numeric.OrNull `json:"energy_kept"`  // no week's intake had to stand at the floor
	FatKept     numeric.OrNull `json:"fat_kept"`     // true body fat never under its floor
	LeanKept    numeric.OrNull `json:"lean_kept"`    // lean loss within LeanLossPc
}

func (p *Problem) withDefaults() Problem {
	q := *p
	if q.RatioMean == 0 {
		q.RatioMean = 1
	}
	if q.RatioSD == 0 {
		q.RatioSD = 0.03
	}
	if q.DaySD == 0 {
		q.DaySD = 0.08
	}
	if q.LeanLossPc == 0 {
		q.LeanLossPc = 3
	}
	if q.Futures == 0 {
		q.Futures = 4000
	}
	q.Workers = max(1, q.Workers)
	return q
}

// Run flies the futures.
func Run(problem Problem) *Forecast {
	p := problem.withDefaults()
	f := newFlight(&p)
	f.fly()
	out := &Forecast{
		Fan: f.fan, Futures: p.Futures,
		Weight: numeric.IntervalOf(f.ends.weight), BodyFat: numeric.IntervalOf(f.ends.bodyFat),
		MethodPct: numeric.IntervalOf(f.ends.method),
		Lean:      numeric.IntervalOf(f.ends.lean), LeanLost: numeric.IntervalOf(f.ends.lost),
		Chances: f.chances(),
	}
	if f.soon != nil {
		out.InFourWeeks = new(numeric.IntervalOf(f.soon))
	}
	return out
}

func (f *flight) chances() Chances {
	p, e := f.p, &f.ends
	unasked := numeric.OrNull(math.NaN())
	c := Chances{OnTarget: unasked, AtOrUnder: unasked, InsideClass: unasked, EnergyKept: unasked, FatKept: unasked}
	if t := p.Target; t != nil {
		c.OnTarget = share(e.method, func(pct float64) bool { return math.Abs(pct-t.BodyFatPct) <= t.Tolerance })
		c.AtOrUnder = share(e.method, func(pct float64) bool { return pct <= t.BodyFatPct+t.Tolerance })
	}
	if p.ClassKg > 0 {
		c.InsideClass = share(e.weight, func(kg float64) bool { return kg <= p.ClassKg })
	}
	if slices.ContainsFunc(p.Plan, func(d Day) bool { return d.LeastKcal > 0 }) {
		c.EnergyKept = share(e.atFloor, func(held bool) bool { return !held })
	}
	if p.BodyFatPct > 0 {
		c.FatKept = share(e.leanest, func(pct float64) bool { return pct >= p.BodyFatPct })
	}
	most := p.LeanLossPc / 100 * p.From.Mean[reading.FatFree]
	c.LeanKept = share(e.lost, func(kg float64) bool { return kg <= most })
	return c
}

// share is how many of all are ok.
func share[T any](all []T, ok func(T) bool) numeric.OrNull {
	n := 0
	for _, v := range all {
		if ok(v) {
			n++
		}
	}
	return numeric.OrNull(float64(n) / float64(len(all)))
}
