package scenario

import (
	"fmt"
	"math"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
)

// DrawOptions shapes a random athlete. The zero value is a season of 20 weeks
// of either sex under any protocol, with the log's habits drawn.
type DrawOptions struct {
	ID          string      // "" is made from the seed
	Sex         athlete.Sex // "" is drawn
	From        civil.Date  // zero is 2025-01-06, a Monday
	Weeks       int         // 0 is 20
	Protocol    Protocol    // "" is drawn
	WeightShare float64     // as in Logging; 0 is drawn
	IntakeShare float64     // as in Logging; 0 is drawn
}

// Protocol is what a drawn athlete's plan is for.
type Protocol string

// The protocols.
const (
	Losing  Protocol = "losing"  // a deficit of 10 to 28 % that is adjusted as it goes
	Holding Protocol = "holding" // at maintenance, give or take
	Gaining Protocol = "gaining" // a surplus of 4 to 14 %
)

// Draw gives a random athlete of either sex with a sensible plan, for cohorts.
// The ranges are judgement: trained people from lean to off-season soft, 18 to
// 45 years old. The athlete and the plan are valid.
func Draw(seed uint64, opts DrawOptions) Spec {
	if opts.ID == "" {
		opts.ID = fmt.Sprintf("drawn-%d", seed)
	}
	if opts.From.IsZero() {
		opts.From = civil.Of(2025, time.January, 6)
	}
	if opts.Weeks == 0 {
		opts.Weeks = 20
	}
	s := newStream(seed, opts.ID, "draw")
	female, protocol := s.Float64() < 0.5, drawProtocol(s)
	if opts.Sex == "" {
		opts.Sex = athlete.Male
		if female {
			opts.Sex = athlete.Female
		}
	}
	if opts.Protocol == "" {
		opts.Protocol = protocol
	}
	spec := drawPerson(s, &opts)
	spec.Plan = drawPlan(s, &opts, &spec, New(spec, seed).ReportedMaintenanceKcal())
	return spec
}

func drawProtocol(s stream) Protocol {
	switch u := s.Float64(); {
	case u < 0.6:
		return Losing
	case u < 0.8:
		return Holding
	}
	return Gaining
}

// drawPerson draws the athlete and the first morning's body.
func drawPerson(s stream, o *DrawOptions) Spec {
	spec := Spec{From: o.From, To: o.From.AddDays(7*o.Weeks - 1)}
	spec.Logging.WeightShare, spec.Logging.IntakeShare = o.WeightShare, o.IntakeShare

	a := athlete.Athlete{
		ID: o.ID, Name: "Drawn athlete " + o.ID, Sex: o.Sex,
		BirthDate:            o.From.AddDays(-int(365.25 * s.normal(28, 6, 18.1, 45))),
		TrainingYears:        math.Round(s.lognormal(5, 0.6, 0.5, 20)),
		StepsPerDay:          roundTo(s.normal(8500, 2200, 4000, 14000), 500),
		TrainingMinutes:      roundTo(s.normal(72, 12, 45, 100), 5),
		CardioMinutesPerWeek: roundTo(s.uniform(0, 120), 10),
		CardioMinutesMax:     roundTo(s.uniform(200, 400), 20),
		Units:                athlete.Metric,
	}
	if s.Float64() < 0.3 {
		a.Units = athlete.Imperial
	}
	height, heightSD, ffmi, ffmiSD, fatPct, fatSD := 177.0, 7.0, 21.7, 1.4, 14.0, 3.5
	lowFat, highFat := 8.0, 24.0
	if o.Sex == athlete.Female {
		height, heightSD, ffmi, ffmiSD, fatPct, fatSD = 165, 6.5, 17.3, 1.1, 22, 4
		lowFat, highFat = 14, 33
		a.MenstrualCycle = true
		a.CycleLengthDays = math.Round(s.normal(28.5, 2, 24, 36))
	}
	a.HeightCm = roundTo(s.normal(height, heightSD, height-2.5*heightSD, height+2.5*heightSD), 0.5)
	lean := s.normal(ffmi, ffmiSD, ffmi-2.5*ffmiSD, ffmi+2.5*ffmiSD) * a.HeightCm * a.HeightCm / 1e4
	spec.FatKg = lean * odds(s.normal(fatPct, fatSD, lowFat, highFat)/100)
	spec.WeightKg = lean + spec.FatKg
	a.WeightKg, a.WeighedOn = roundTo(spec.WeightKg, 0.1), o.From

	kinds := athlete.CardioKinds()
	a.Cardio = []athlete.CardioKind{kinds[s.IntN(6)]}
	week := [][]time.Weekday{
		{time.Monday, time.Wednesday, time.Friday},
		{time.Monday, time.Tuesday, time.Thursday, time.Friday},
		{time.Monday, time.Tuesday, time.Wednesday, time.Friday, time.Saturday},
	}[s.IntN(3)]
	for _, d := range week {
		a.TrainingDays = append(a.TrainingDays, athlete.Weekday(d))
	}
	spec.Athlete = a
	drawMeasurements(&spec, s)
	return spec
}

// odds turns a share of the whole into a ratio to the rest.
func odds(share float64) float64 { return share / (1 - share) }

// drawMeasurements appoints a coach's calipers for most and a scan for some.
func drawMeasurements(spec *Spec, s stream) {
	calipers, scan := s.Float64() < 0.8, s.Float64() < 0.35
	every, first := 14*(1+s.IntN(3)), s.IntN(7)
	if calipers {
		spec.Measurements = append(spec.Measurements, Appointment{
			Method: athlete.Calipers7, By: coachName, First: spec.From.AddDays(first), EveryDays: every,
		})
	}
	if scan {
		spec.Measurements = append(spec.Measurements, Appointment{Method: athlete.Scan, First: spec.From.AddDays(first + 3)})
	}
	spec.Measurements = append(spec.Measurements, Appointment{Method: athlete.Eye, By: coachName, First: spec.From, EveryDays: 28})
}

// drawPlan lays out a protocol: a first prescription from what the athlete logs
// at maintenance, known to the coach within some 4 %, and a small change every
// few weeks.
func drawPlan(s stream, o *DrawOptions, spec *Spec, maintenance float64) []Step {
	a := &spec.Athlete
	guess := maintenance * s.normal(1, 0.04, 0.9, 1.1)
	deficit, surplus := s.uniform(0.10, 0.28), s.uniform(0.04, 0.14)
	refeeds, cut := s.IntN(3), s.uniform(0.02, 0.05)
	step := Step{
		From: spec.From, EnergyKcal: guess, Steps: a.StepsPerDay,
		CardioMinutes: a.CardioMinutesPerWeek, Phase: athlete.OffSeason, Reason: "first prescription",
	}
	switch o.Protocol {
	case Losing:
		step.Phase = athlete.Prep
		step.EnergyKcal = guess * (1 - deficit)
		step.Refeeds = []athlete.Weekday{athlete.Weekday(time.Saturday), athlete.Weekday(time.Wednesday)}[:refeeds]
	case Gaining:
		step.EnergyKcal = guess * (1 + surplus)
	}
	floor := math.Max(leastKcalPerKgLean*(spec.WeightKg-spec.FatKg), guess-mostDeficitPerKgFat*spec.FatKg)
	var plan []Step
	for step.From <= spec.To {
		step.EnergyKcal = roundTo(math.Max(step.EnergyKcal, floor), 5)
		plan = append(plan, step)
		step.From = step.From.AddDays(7 * (3 + s.IntN(3)))
		lever, size := s.IntN(3), s.uniform(0.7, 1.3)
		if o.Protocol == Losing {
			step.adjust(lever, size, cut, a)
		}
	}
	return plan
}

// mostDeficitPerKgFat holds down what lean athletes' food is cut by, kcal/kg/day.
const mostDeficitPerKgFat = 45.0

// leastKcalPerKgLean keeps drawn plans off the floors of energy availability.
const leastKcalPerKgLean = 29.0

// adjust makes the small change of a losing plan: food, steps or cardio.
func (s *Step) adjust(lever int, size, cut float64, a *athlete.Athlete) {
	switch lever {
	case 0:
		s.EnergyKcal *= 1 - cut*size
		s.Reason = "a little less food"
	case 1:
		s.Steps = math.Min(roundTo(s.Steps+1500*size, 500), a.StepsPerDay+5000)
		s.Reason = "more steps"
	case 2:
		s.CardioMinutes = math.Min(roundTo(s.CardioMinutes+45*size, 5), a.CardioMinutesMax)
		s.Reason = "more cardio"
	}
}
