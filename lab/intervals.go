package lab

import (
	"math"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/forecast"
	"glidepath/numeric"
	"glidepath/scenario"

	"gonum.org/v1/gonum/stat/distuv"
)

// Quantity is what an interval is about.
type Quantity string

// The quantities.
const (
	WeightIn4Weeks Quantity = "weight in 4 weeks"               // on the scale
	ShowWeight     Quantity = "show-day weight"                 // on the scale
	ShowBodyFat    Quantity = "show-day body fat"               // true
	ShowMethod     Quantity = "show-day body fat by the method" // on the scale of the athlete's method, where that has a lasting bias
	Expenditure    Quantity = "expenditure"                     // mean of the week before, on the reporting scale
	OnTarget       Quantity = "chance to be on target"          // a chance, not an interval
	InsideClass    Quantity = "chance inside the class"         // likewise
)

// Quantities lists those with intervals.
func Quantities() []Quantity {
	return []Quantity{WeightIn4Weeks, ShowWeight, ShowBodyFat, ShowMethod, Expenditure}
}

// Check is a forecast against what came.
type Check struct {
	What      Quantity   `json:"what"`
	Asked     civil.Date `json:"asked"` // the review
	WeeksLeft float64    `json:"weeks_left"`
	// Of intervals: the forecast's probability of less than what came, and
	// whether it lay inside.
	Rank float64 `json:"rank,omitempty"`
	In50 bool    `json:"in_50,omitempty"`
	In90 bool    `json:"in_90,omitempty"`
	Off  float64 `json:"off,omitempty"` // what came less the forecast's centre
	// Of chances: what was said, and whether it came.
	Chance float64 `json:"chance,omitempty"`
	Came   bool    `json:"came,omitempty"`
}

// watch remembers forecasts until the day that they are about.
type watch struct {
	show    athlete.Show
	biasPct float64 // of the athlete's method
	biased  bool    // it may have one
	// unlogged: intake is never logged, so that there is no scale of the log, and
	// expenditure is held against what is asked.
	unlogged bool
	pending  []expectation
	done     []Check
}

// expectation is a forecast not yet answered.
type expectation struct {
	Check
	on     civil.Date
	spread spread
	truth  func(*scenario.TruthDay) float64
	came   func(*scenario.TruthDay) bool // for chances
}

// ask takes the forecasts of a review. truth is of the days before it.
func (w *watch) ask(d *app.Dossier, truth []scenario.TruthDay) {
	check := func(what Quantity) Check {
		return Check{What: what, Asked: d.AsOf, WeeksLeft: float64(w.show.Date.DaysSince(d.AsOf)) / 7}
	}
	if mean, ok := w.spent(d.Current, truth); ok {
		last := d.Reading.Daily[len(d.Reading.Daily)-1]
		e := expectation{Check: check(Expenditure), spread: ofInterval(last.ExpenditureKc)}
		w.done = append(w.done, e.answered(mean))
	}
	f := d.Forecast
	if f == nil || f.Fan[len(f.Fan)-1].Date != w.show.Date {
		return
	}
	if f.InFourWeeks != nil {
		const ahead = 28
		w.pending = append(w.pending, expectation{
			Check: check(WeightIn4Weeks), on: d.AsOf.AddDays(ahead), spread: ofInterval(*f.InFourWeeks),
			truth: func(t *scenario.TruthDay) float64 { return t.ScaleKg },
		})
	}
	w.pending = append(w.pending, expectation{
		Check: check(ShowWeight), on: w.show.Date, spread: ofInterval(f.Weight),
		truth: func(t *scenario.TruthDay) float64 { return t.ScaleKg },
	}, expectation{
		Check: check(ShowBodyFat), on: w.show.Date, spread: ofInterval(f.BodyFat),
		truth: func(t *scenario.TruthDay) float64 { return 100 * t.FatKg / t.WeightKg },
	})
	if w.biased {
		w.pending = append(w.pending, expectation{
			Check: check(ShowMethod), on: w.show.Date, spread: ofInterval(f.MethodPct), truth: w.byMethod,
		})
	}
	w.askChances(check, &f.Chances)
}

// spent is the expenditure of the last week, on the scale that it is read on: that
// of the log or, where intake is never logged, that of the prescription, which is
// taken to be eaten; there is none without a prescription.
func (w *watch) spent(plan *athlete.Prescription, truth []scenario.TruthDay) (mean float64, ok bool) {
	if len(truth) < 7 || w.unlogged && plan == nil {
		return 0, false
	}
	for _, t := range truth[len(truth)-7:] {
		mean += t.ReportedScaleExpenditureKcal / 7
		if w.unlogged {
			mean -= (t.IntakeKcal*t.ReportingFactor - plan.MeanEnergyKcal()) / 7
		}
	}
	return mean, true
}

// byMethod is body fat as the athlete's method would read it, but for the error of
// one reading.
func (w *watch) byMethod(t *scenario.TruthDay) float64 { return 100*t.FatKg/t.WeightKg + w.biasPct }

func (w *watch) askChances(check func(Quantity) Check, c *forecast.Chances) {
	chance := func(what Quantity, said numeric.OrNull, came func(*scenario.TruthDay) bool) {
		if said.Known() {
			e := expectation{Check: check(what), on: w.show.Date, came: came}
			e.Chance = float64(said)
			w.pending = append(w.pending, e)
		}
	}
	chance(OnTarget, c.OnTarget, func(t *scenario.TruthDay) bool {
		return math.Abs(w.byMethod(t)-w.show.TargetBodyFatPct) <= w.show.Tolerance()
	})
	chance(InsideClass, c.InsideClass, func(t *scenario.TruthDay) bool {
		kg, _ := w.show.ClassLimit.LimitKg(0) // the laboratory's limits are weights
		return t.ScaleKg <= kg
	})
}

// morning gives the checks that a day's truth answers.
func (w *watch) morning(t *scenario.TruthDay) []Check {
	out := w.done
	w.done = nil
	kept := w.pending[:0]
	for _, e := range w.pending {
		switch {
		case e.on != t.Date:
			kept = append(kept, e)
		case e.came != nil:
			e.Came = e.came(t)
			out = append(out, e.Check)
		default:
			out = append(out, e.answered(e.truth(t)))
		}
	}
	w.pending = kept
	return out
}

func (e *expectation) answered(v float64) Check {
	c := e.Check
	c.Rank = e.spread.below(v)
	c.In50, c.In90 = e.spread.inside(v, 0.25), e.spread.inside(v, 0.05)
	c.Off = v - e.spread.at(0.5)
	return c
}

// spread is a distribution known by some of its quantiles, in order.
type spread struct{ p, x []float64 }

func ofInterval(v numeric.Interval) spread {
	return spread{[]float64{0.05, 0.25, 0.5, 0.75, 0.95}, []float64{v.Low90, v.Low50, v.Value, v.High50, v.High90}}
}

func (s *spread) at(p float64) float64 {
	for i := range s.p {
		if s.p[i] == p {
			return s.x[i]
		}
	}
	panic("lab: a quantile that is not known")
}

func (s *spread) inside(v, tail float64) bool { return s.at(tail) <= v && v <= s.at(1-tail) }

// below is the probability of less than v: between the known quantiles, and
// beyond them, along straight lines on normal paper.
func (s *spread) below(v float64) float64 {
	n := len(s.x)
	i := 1
	for i < n-1 && v > s.x[i] {
		i++
	}
	z0, z1 := distuv.UnitNormal.Quantile(s.p[i-1]), distuv.UnitNormal.Quantile(s.p[i])
	width := s.x[i] - s.x[i-1]
	if width <= 0 {
		if v < s.x[i] {
			return s.p[i-1]
		}
		return s.p[i]
	}
	return distuv.UnitNormal.CDF(z0 + (z1-z0)*(v-s.x[i-1])/width)
}
