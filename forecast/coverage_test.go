package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/civil"
	"glidepath/dynamics"
	"glidepath/numeric"
	"glidepath/physiology"
	"glidepath/reading"
	"glidepath/scenario"
)

// activityOf is what a day's steps and cardio cost with the mean of the lifting.
func activityOf(t *testing.T, a *athlete.Athlete, d *athlete.Day, lifts bool) float64 {
	t.Helper()
	l := cardio.Lifting{}
	if lifts {
		l.Minutes = max(a.TrainingMinutes, 70)
	}
	c, err := cardio.DayEnergy(d, cardio.Body{Sex: a.Sex, WeightKg: a.WeightKg, HeightCm: a.HeightCm}, l)
	if err != nil {
		t.Fatal(err)
	}
	return c.TotalKcal() / a.WeightKg
}

// week is the activity of a mean day under a plan of steps and cardio.
func week(t *testing.T, a *athlete.Athlete, steps, cardioMinutes float64) float64 {
	t.Helper()
	sum := 0.0
	for w := range 7 {
		d := athlete.Day{Steps: &steps}
		if cardioMinutes > 0 {
			d.Cardio = []athlete.CardioBout{{Kind: a.Cardio[0], Minutes: cardioMinutes / 7}}
		}
		sum += activityOf(t, a, &d, slices.Contains(a.TrainingDays, athlete.Weekday(w))) / 7
	}
	return sum
}

// errorsOf are the errors that package scenario draws a series from (tester.go
// there).
func errorsOf(series string) (biasSD, readingSD float64) {
	switch {
	case strings.HasPrefix(series, string(athlete.Calipers7)):
		return 2.2, 0.9
	case strings.HasPrefix(series, string(athlete.Scan)):
		return 1.5, 0.6
	}
	return 2, 1.3 // the eye
}

// known is what is known of a simulated season on a morning.
func known(t *testing.T, s *scenario.Season, asOf civil.Date) reading.Input {
	t.Helper()
	u := s.Until(asOf)
	a := &s.Athlete
	in := reading.Input{
		Athlete: a, AsOf: asOf, Prescriptions: u.Prescriptions, Days: u.Days,
		HabitKcalPerKg: week(t, a, a.StepsPerDay, a.CardioMinutesPerWeek),
	}
	for i := range u.Days {
		d, v := &u.Days[i], math.NaN()
		if d.Steps != nil {
			v = activityOf(t, a, d, slices.Contains(a.TrainingDays, athlete.Weekday(d.Date.Weekday())))
		}
		in.Activity = append(in.Activity, v)
	}
	for _, m := range u.Measurements {
		v, err := physiology.BodyFatFromMeasurement(m, a.Sex, float64(a.BirthDate.YearsUntil(m.Date)), a.HeightCm, a.WeightKg)
		if err != nil {
			continue
		}
		c := reading.Composition{Date: m.Date, Series: m.Series(), BodyFatPct: v.Value}
		c.BiasSD, c.ReadingSD = errorsOf(c.Series)
		in.Composition = append(in.Composition, c)
	}
	return in
}

// standing is the prescription on a date.
func standing(ps []athlete.Prescription, on civil.Date) *athlete.Prescription {
	var found *athlete.Prescription
	for i := range ps {
		if ps[i].From <= on {
			found = &ps[i]
		}
	}
	return found
}

// ahead states the forecast of a season's own prescriptions from a reading of it,
// as the use cases do.
func ahead(t *testing.T, s *scenario.Season, r *reading.Reading, to civil.Date, seed uint64) Problem {
	t.Helper()
	p := Problem{From: r.Now, AsOf: r.AsOf, Futures: 400, Seed: seed}
	if ad := r.Adherence; ad.Days >= 7 {
		p.RatioMean, p.RatioSD, p.DaySD = ad.MeanRatio, math.Hypot(ad.SERatio, 0.02), max(0.03, ad.SDRatio)
	}
	now := standing(s.Prescriptions, r.AsOf)
	usual := week(t, &s.Athlete, now.Steps, now.CardioMinutes())
	for on := r.AsOf; on < to; on++ {
		q := standing(s.Prescriptions, on)
		p.Plan = append(p.Plan, Day{
			EnergyKcal: q.MeanEnergyKcal(), CarbohydrateKcal: r.Now.CarbohydrateShare * q.MeanEnergyKcal(),
			ActivityKcalPerKg: r.Now.ActivityKcalPerKg * week(t, &s.Athlete, q.Steps, q.CardioMinutes()) / usual,
		})
	}
	return p
}

// tally counts how often the 50 and 90 % intervals hold the truth, and sums how
// far off they are, in their standard deviations.
type tally struct {
	n, in50, in90 int
	z, z2, sd     float64
}

func (c *tally) add(v numeric.Interval, truth float64) {
	c.n++
	if v.Low50 <= truth && truth <= v.High50 {
		c.in50++
	}
	if v.Low90 <= truth && truth <= v.High90 {
		c.in90++
	}
	z := (truth - v.Value) / v.SD()
	c.z -= z
	c.z2 += z * z
	c.sd += v.SD()
}

func (c *tally) String() string {
	n := float64(c.n)
	return fmt.Sprintf("%.1f and %.1f (off by %+.2f ± %.2f of its SD of %.2f)",
		100*float64(c.in50)/n, 100*float64(c.in90)/n, c.z/n, math.Sqrt(c.z2/n), c.sd/n)
}

// left is a season whose prescription stands from a morning on: the forecast of
// that morning and the truth of the last.
func left(t *testing.T, seed uint64, protocol scenario.Protocol, at, days int) (*Forecast, scenario.TruthDay) {
	t.Helper()
	spec := scenario.Draw(seed, scenario.DrawOptions{Weeks: (at+days)/7 + 1, Protocol: protocol})
	asOf := spec.From.AddDays(at)
	spec.Plan = slices.DeleteFunc(spec.Plan, func(p scenario.Step) bool { return p.From > asOf })
	s := scenario.Simulate(spec, seed)
	r, err := reading.Read(known(t, &s, asOf), reading.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return Run(ahead(t, &s, r, asOf.AddDays(days), seed)), s.Truth[at+days]
}

// coached lives a season with a plan that is laid out on a morning from what is
// known then, and a coach who corrects it weekly as steer.go says, from readings.
// It gives the forecast of that morning, the truth of the last and the bias of the
// hand that the first is told on the scale of.
func coached(t *testing.T, seed uint64, at, days int) (*Forecast, scenario.TruthDay, float64) {
	t.Helper()
	spec := scenario.Draw(seed, scenario.DrawOptions{Weeks: (at+days)/7 + 1, Protocol: scenario.Losing})
	asOf := spec.From.AddDays(at)
	spec.Plan = slices.DeleteFunc(spec.Plan, func(p scenario.Step) bool { return p.From > asOf })
	biases, draw := map[string]float64{}, rand.New(rand.NewPCG(seed, 8))
	for i := range spec.Measurements {
		m := &spec.Measurements[i]
		series := (&athlete.Measurement{Method: m.Method, By: m.By}).Series()
		lasting, _ := errorsOf(series)
		biases[series] = lasting * draw.NormFloat64()
		m.BiasPct = new(biases[series])
	}
	s := scenario.Season{Athlete: spec.Athlete}
	for i := range spec.Plan {
		s.Prescriptions = append(s.Prescriptions, spec.Plan[i].Prescription(&spec.Athlete, i+1))
	}
	person := scenario.New(spec, seed)
	live := func(to civil.Date) {
		for on := person.Next(); on < to; on++ {
			l := person.Live(on, standing(s.Prescriptions, on))
			s.Truth = append(s.Truth, l.Truth)
			s.Measurements = append(s.Measurements, l.Measurements...)
			if !l.Day.Empty() {
				s.Days = append(s.Days, l.Day)
			}
		}
	}
	read := func(on civil.Date) *reading.Reading {
		r, err := reading.Read(known(t, &s, on), reading.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	// A reading is of a morning, whose weight is part of the day then lived.
	live(asOf + 1)
	r := read(asOf)
	p := ahead(t, &s, r, asOf.AddDays(days), seed)
	body, now := r.Now.State(), r.Daily[len(r.Daily)-1]
	p.Steered, p.Plan = true, floored(p.Plan, 0.6*now.ExpenditureKc.Value)
	for i := range p.Plan {
		d := &p.Plan[i]
		d.WeightKg, d.MostKcal = body.FatKg+r.Now.Model.ReferenceFatFreeKg(&body), max(1.1*now.ExpenditureKc.Value, d.EnergyKcal+100)
		r.Now.Model.Step(&body, dynamics.Input{
			EnergyKcal: d.EnergyKcal, CarbohydrateKcal: d.CarbohydrateKcal, ActivityKcalPerKg: d.ActivityKcalPerKg,
		})
	}
	forecast := Run(p)
	full := p.withDefaults()
	flight := flight{p: &full}
	var coach steering
	step := spec.Plan[len(spec.Plan)-1]
	for day := weekDays; day < days; day += weekDays {
		on := asOf.AddDays(day)
		live(on + 1)
		r = read(on)
		flight.steer(&coach, &p.Plan[day], r.Now.Mean[reading.Fat]+r.Now.Mean[reading.FatFree], float64(days-day))
		next := step
		next.From, next.EnergyKcal = on+1, p.Plan[day].EnergyKcal+coach.correction
		s.Prescriptions = append(s.Prescriptions, next.Prescription(&spec.Athlete, len(s.Prescriptions)+1))
	}
	live(asOf.AddDays(days + 1))
	return forecast, s.Truth[at+days], biases[p.From.Series]
}

// The 50 and 90 % intervals hold what they say, of what somebody eats and weighs
// who shares no equation with the engine. These seeds were not looked at while
// anything was chosen (30000 to 30999 and 50000 to 50399 were). Of 400 seasons the
// standard errors are 2.5 and 1.5 %, and the bounds those of 47 to 53 and 87 to
// 93 % with two of them, wider where it is known why: weight is told a little wide,
// its errors having longer tails than its middle, and body fat of a long diet up to
// half a point too high, since the simulated athletes hold up to half a kilogram of
// water as they wear out, which passes for tissue.
func TestCoverage(t *testing.T) {
	const seasons, firstSeed = 400, 70000
	check := func(name string, c *tally) {
		t.Helper()
		t.Logf("%s: %s", name, c)
		if v := 100 * float64(c.in50) / float64(c.n); v < 38 || v > 61 {
			t.Errorf("%s: the 50 %% interval holds %.1f", name, v)
		}
		if v := 100 * float64(c.in90) / float64(c.n); v < 84 || v > 96 {
			t.Errorf("%s: the 90 %% interval holds %.1f", name, v)
		}
	}
	for _, protocol := range []scenario.Protocol{"", scenario.Losing} {
		var weight, fat tally
		for seed := range uint64(seasons) {
			f, end := left(t, firstSeed+seed, protocol, 84, 28)
			weight.add(f.Weight, end.ScaleKg)
			fat.add(f.BodyFat, 100*end.FatKg/end.WeightKg)
		}
		check(fmt.Sprintf("weight after 4 weeks of the standing prescription, protocol %q", protocol), &weight)
		check(fmt.Sprintf("body fat then, protocol %q", protocol), &fat)
	}
	for _, c := range []struct{ at, days int }{{84, 56}, {56, 84}} {
		var weight, fat, method tally
		for seed := range uint64(seasons) {
			f, end, bias := coached(t, firstSeed+seed, c.at, c.days)
			pct := 100 * end.FatKg / end.WeightKg
			weight.add(f.Weight, end.ScaleKg)
			fat.add(f.BodyFat, pct)
			method.add(f.MethodPct, pct+bias)
		}
		check(fmt.Sprintf("weight on show day in %d weeks, with a coach", c.days/7), &weight)
		check("body fat then", &fat)
		check("body fat then on the scale of the method", &method)
	}
}
