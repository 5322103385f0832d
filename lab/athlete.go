// Package lab is the laboratory: virtual athletes from a truth that is not the
// engine's live whole seasons under the product and under other policies, in
// closed loop, so that what the product promises can be counted.
//
// It stands out of the product's way: nothing of the product imports it.
package lab

import (
	"fmt"
	"math"
	"math/rand/v2"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/civil"
	"glidepath/scenario"
)

// Measuring is how body fat is measured through a season.
type Measuring struct {
	Name      string
	Method    athlete.Method
	EveryDays int
	ReadingSD float64 // points, anew each time
	BiasSD    float64 // points, drawn once for a season and kept
}

// The ways of measuring that the cohorts use.
var (
	ScanGrade = Measuring{Name: "scan every 4 weeks", Method: athlete.Scan, EveryDays: 28, ReadingSD: 1}
	Calipers  = Measuring{Name: "calipers every 2 weeks", Method: athlete.Calipers7, EveryDays: 14, ReadingSD: 1.3, BiasSD: 2.5}
	EyeOnly   = Measuring{Name: "eye every 2 weeks", Method: athlete.Eye, EveryDays: 14, ReadingSD: 1.5, BiasSD: 2}
)

// Cohort draws virtual athletes.
type Cohort struct {
	Seed      uint64
	Athletes  int
	Measuring Measuring
	// NoIntake: intake is never logged.
	NoIntake bool
	// Lean and Adapt multiply the truth's loss of lean and its adaptation; 0 is 1.
	Lean, Adapt float64
	// CheckIntervals: the product's forecasts are held against what came. It
	// takes time, and changes no season.
	CheckIntervals bool
	Workers        int // 0 is all cores; the answer does not depend on it
}

// subject is one virtual athlete before the season.
type subject struct {
	spec    scenario.Spec
	seed    uint64
	show    athlete.Show
	limits  athlete.Limits
	biasPct float64
	rng     *rand.Rand // for the measurements
	cohort  *Cohort

	// Net costs per kg of body weight, as the product reckons them: of a step,
	// and of a mean day's lifting.
	stepKcalPerKg, liftingKcalPerKg float64
}

// hands are whose measurements they are.
const hands = "the lab"

// firstDay of every cohort's logs, a Monday.
var firstDay = civil.Of(2025, 1, 6)

// runIn is how long an athlete logs before the season is appraised.
const runInDays = 28

// draw makes athlete i of a cohort: a body, habits, and a show that asks for
// anything from an easy to an impossible descent. Somebody for whom no deficit
// may be planned without a clinician is no athlete of the cohort: another is
// drawn instead.
func (c *Cohort) draw(i int) subject {
	for again := uint64(0); ; again++ {
		s := c.drawSeed(i, c.Seed*1_000_003+uint64(i)+again<<40)
		if s.spec.Athlete.DeficitBlock(firstDay.AddDays(runInDays)) == nil {
			return s
		}
	}
}

func (c *Cohort) drawSeed(i int, seed uint64) subject {
	r := rand.New(rand.NewPCG(seed, 0x1ab))
	o := scenario.DrawOptions{ID: fmt.Sprintf("v%06d", i), Weeks: 60, Protocol: scenario.Holding, From: firstDay}
	spec := scenario.Draw(seed, o)
	if c.NoIntake {
		spec.Logging.IntakeShare = -1
	}
	spec.Measurements, spec.Plan = nil, nil
	a := &spec.Athlete
	a.BodyFat, a.Events = nil, nil
	a.CardioMinutesMax = math.Max(a.CardioMinutesMax, 240)
	a.StepsPerDayMax = a.StepsPerDay + 4000 + 3000*r.Float64()
	// The lasting error has a stream of its own, so that cohorts measured otherwise
	// are otherwise the same.
	m := c.Measuring
	biasPct := m.BiasSD * rand.New(rand.NewPCG(seed, 0xb1a5)).NormFloat64()
	fatPct := 100 * spec.FatKg / spec.WeightKg
	target := athlete.BodyFatFloorPct(a.Sex) + 1.5 + 3.5*r.Float64()
	// There is something to lose on the scale that the target is meant on.
	const least = 2.0
	if more := 6 * r.Float64(); fatPct+biasPct < target+least {
		fatPct = target + least - biasPct + more
		spec.FatKg = fatPct / 100 * spec.WeightKg
	}
	c.twist(&spec, seed)
	// Weeks from the appraisal to the show: about what a sensible pace takes,
	// times anything from far too little to plenty.
	lose := (fatPct + biasPct - target) / 100 * spec.WeightKg * 1.15
	weeks := lose / (0.0055 * spec.WeightKg) * (0.5 + 1.3*r.Float64())
	weeks = math.Max(5, math.Min(44, weeks))
	show := athlete.Show{
		ID: "show", Name: "the show", Date: firstDay.AddDays(runInDays + 7*int(math.Round(weeks))),
		TargetBodyFatPct: math.Round(10*target) / 10,
	}
	if r.Float64() < classShare {
		// Above what the lean mass of today would weigh at the target, as the method
		// will have it, by 1.5 % and more: a morning's water and noise are some 0.8 %,
		// and a limit that the target itself breaks is nobody's to keep.
		kg := (spec.WeightKg - spec.FatKg) / (1 - (target-biasPct)/100) * (1.015 + 0.04*r.Float64())
		show.ClassLimit = &athlete.ClassLimit{WeightKg: new(math.Round(10*kg) / 10)}
	}
	a.Shows = []athlete.Show{show}
	spec.To = show.Date
	happen(&spec, r)
	reading := athlete.Measurement{Method: m.Method, By: hands}
	a.MethodErrors = []athlete.MethodError{{Series: reading.Series(), BiasSD: m.BiasSD, ReadingSD: m.ReadingSD}}
	s := subject{
		spec: spec, seed: seed, show: show, cohort: c, limits: a.EffectiveLimits(),
		biasPct: biasPct, rng: r,
	}
	s.reckonCosts()
	return s
}

// twist makes the truth lose lean, or adapt, as much more or less as the cohort
// asks.
func (c *Cohort) twist(spec *scenario.Spec, seed uint64) {
	if c.Lean == 0 && c.Adapt == 0 {
		return
	}
	spec.Body = scenario.New(*spec, seed).Body()
	scale := func(v *float64, factor float64) {
		if factor != 0 {
			*v *= factor
		}
	}
	scale(&spec.Body.LeanLossFactor, c.Lean)
	scale(&spec.Body.AdaptationGain, c.Adapt)
	scale(&spec.Body.SpontaneousDrop, c.Adapt)
}

// What happens to some on the way (judgement).
const (
	tripShare  = 0.4  // go on a trip
	scaleShare = 0.15 // take another scale
	scaleSD    = 0.6  // kg that it differs by
)

// happen sends some athletes on a trip of 4 to 10 days, which the coach knows
// of, and gives some another scale, which nobody speaks of.
func happen(spec *scenario.Spec, r *rand.Rand) {
	from, to := spec.From.AddDays(runInDays+7), spec.To.AddDays(-21)
	room := max(1, to.DaysSince(from))
	day := func() civil.Date { return from.AddDays(r.IntN(room)) }
	trip, away, scale, other, off := r.Float64(), 4+r.IntN(7), r.Float64(), day(), scaleSD*r.NormFloat64()
	if first := day(); trip < tripShare && to > from {
		spec.Trips = []scenario.Trip{{From: first, To: first.AddDays(away - 1)}}
		spec.Athlete.Events = []athlete.Event{{From: first, To: first.AddDays(away - 1), Kind: "travel"}}
	}
	if scale < scaleShare && to > from {
		spec.Scales = []scenario.Scale{{From: other, OffsetKg: off}}
	}
}

// classShare is how many athletes have a class limit.
const classShare = 0.25

// reckonCosts fills in what steps and lifting cost.
func (s *subject) reckonCosts() {
	a := &s.spec.Athlete
	body := cardio.Body{Sex: a.Sex, WeightKg: a.WeightKg, HeightCm: a.HeightCm}
	thousand := 1000.0
	walked, err := cardio.DayEnergy(&athlete.Day{Steps: &thousand}, body, cardio.Lifting{})
	if err != nil {
		panic(err) // a virtual athlete is within every equation's range
	}
	lifted, err := cardio.DayEnergy(&athlete.Day{}, body, cardio.Lifting{Minutes: a.TrainingMinutes})
	if err != nil {
		panic(err)
	}
	s.stepKcalPerKg = walked.TotalKcal() / thousand / a.WeightKg
	s.liftingKcalPerKg = lifted.TotalKcal() * float64(len(a.TrainingDays)) / 7 / a.WeightKg
}

// activity is the net cost of what is asked, kcal per kg of body weight a day.
func (s *subject) activity(steps, cardioMinutes float64) float64 {
	a := &s.spec.Athlete
	return steps*s.stepKcalPerKg + cardioMinutes/7*cardioKcalPerKgMin(a.Cardio[0], a.WeightKg) + s.liftingKcalPerKg
}

// cardioKcalPerKgMin is the net cost of a kind of cardio.
func cardioKcalPerKgMin(kind athlete.CardioKind, weightKg float64) float64 {
	rate, err := cardio.RateOf(athlete.CardioBout{Kind: kind}, weightKg)
	if err != nil {
		panic(err)
	}
	return rate.NetKcalPerMin / weightKg
}

// measure is a body-fat reading of the truth by the cohort's method.
func (s *subject) measure(on civil.Date, truth scenario.TruthDay) athlete.Measurement {
	m := s.cohort.Measuring
	pct := 100*truth.FatKg/truth.WeightKg + s.biasPct + m.ReadingSD*s.rng.NormFloat64()
	pct = math.Max(3, math.Round(10*pct)/10)
	return athlete.Measurement{Date: on, Method: m.Method, By: hands, BodyFatPct: &pct}
}
