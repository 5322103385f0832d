package lab

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/physiology"
	"glidepath/reading"
	"glidepath/scenario"
	"glidepath/season"
)

// prescribe writes energy and activity out as the scenario's simple coach does.
func prescribe(s *subject, on civil.Date, in season.Instruction, phase athlete.PhaseKind) *athlete.Prescription {
	step := scenario.Step{
		From: on, Phase: phase, EnergyKcal: math.Round(in.EnergyKcal),
		Steps: math.Round(in.StepsPerDay), CardioMinutes: math.Round(in.CardioMinutes),
	}
	p := step.Prescription(&s.spec.Athlete, 1)
	return &p
}

// formula is a static deficit from a formula: Mifflin-St Jeor times 1.5, less
// what 7,700 kcal a kg makes of the weight to lose over the weeks there are, not
// under the floor of energy availability; never looked at again.
type formula struct {
	s    *subject
	done bool
}

// start is what a formula makes of an athlete from the first measurements.
func (s *subject) start(n news) (maintenance, fat, weight, floor float64) {
	a := &s.spec.Athlete
	weight = meanWeight(n.days, 7, a.WeightKg)
	pct := 18.0
	if len(n.measurements) > 0 {
		pct = *n.measurements[len(n.measurements)-1].BodyFatPct
	}
	fat = pct / 100 * weight
	rest, err := physiology.MifflinStJeor(physiology.Body{
		Sex: a.Sex, WeightKg: weight, HeightCm: a.HeightCm, AgeYears: float64(a.BirthDate.YearsUntil(firstDay)),
	})
	if err != nil {
		panic(err) // a virtual athlete is within every equation's range
	}
	limits := a.EffectiveLimits()
	floor = (limits.EnergyAvailabilityFloor + 4) * (weight - fat)
	return 1.5 * rest, fat, weight, floor
}

func meanWeight(days []athlete.Day, last int, otherwise float64) float64 {
	sum, n := 0.0, 0
	for i := len(days) - 1; i >= 0 && n < last; i-- {
		if days[i].WeightKg != nil {
			sum += *days[i].WeightKg
			n++
		}
	}
	if n == 0 {
		return otherwise
	}
	return sum / float64(n)
}

func (f *formula) week(on civil.Date, n news) (order, error) {
	if f.done {
		return order{}, nil
	}
	f.done = true
	maintenance, fat, weight, floor := f.s.start(n)
	target := f.s.show.TargetBodyFatPct / 100
	lose := weight - (weight-fat)/(1-target)
	days := float64(f.s.show.Date.DaysSince(on) - 7)
	energy := math.Max(floor, maintenance-7700*lose/math.Max(days, 7))
	in := season.Instruction{EnergyKcal: energy, StepsPerDay: f.s.spec.Athlete.StepsPerDay}
	return order{prescribe(f.s, on, in, athlete.Prep), weight, weight - fat}, nil
}

// thumb is the usual rule: aim at 0.7 % a week, compare 7-day means, take or
// give 100 kcal when off by 0.2 points, steps once food is at its floor;
// maintenance once the measurements say that the target is there.
type thumb struct {
	s       *subject
	now     season.Instruction
	last    float64
	lean    float64
	floor   float64
	keep    float64
	started bool
	latest  float64
}

func (t *thumb) week(on civil.Date, n news) (order, error) {
	a := &t.s.spec.Athlete
	for _, m := range n.measurements {
		t.latest = *m.BodyFatPct
	}
	if !t.started {
		t.started = true
		maintenance, fat, weight, floor := t.s.start(n)
		t.last, t.lean, t.floor, t.keep = weight, weight-fat, floor, maintenance
		t.now = season.Instruction{EnergyKcal: math.Max(floor, maintenance-0.007*weight*7700/7), StepsPerDay: a.StepsPerDay}
		return order{prescribe(t.s, on, t.now, athlete.Prep), t.last, t.lean}, nil
	}
	weight := meanWeight(n.days, 7, t.last)
	rate := 100 * (t.last - weight) / t.last
	t.last = weight
	was := t.now
	switch aim := 0.7; {
	case t.latest > 0 && t.latest <= t.s.show.TargetBodyFatPct:
		t.now.EnergyKcal = math.Min(t.keep, t.now.EnergyKcal+150)
	case rate < aim-0.2 && t.now.EnergyKcal-100 >= t.floor:
		t.now.EnergyKcal -= 100
	case rate < aim-0.2 && t.now.StepsPerDay+1500 <= a.StepsMax():
		t.now.StepsPerDay += 1500
	case rate > aim+0.2:
		t.now.EnergyKcal += 100
	}
	if t.now == was {
		return order{}, nil
	}
	return order{prescribe(t.s, on, t.now, athlete.Prep), t.last, t.lean}, nil
}

// knowing plans each week with the product's own planner from a better belief:
// the truth itself, or the truth of all but how fat the athlete began, which it
// learns from the same measurements.
type knowing struct {
	*product
	s *subject
	// all: body fat is known; otherwise only its changes are.
	all bool

	truth                          []scenario.TruthDay
	fat0, var0, bias, varBias, cov float64
}

func newKnowing(s *subject, all bool) (*knowing, error) {
	p, err := newProduct(s)
	if err != nil {
		return nil, err
	}
	k := &knowing{product: p, s: s, all: all}
	pct, sd := 16.0, 5.5
	if s.spec.Athlete.Sex == athlete.Female {
		pct, sd = 24, 6
	}
	k.fat0, k.var0 = pct, sd*sd
	k.varBias = s.cohort.Measuring.BiasSD * s.cohort.Measuring.BiasSD
	p.options.NoReview = true
	p.options.Believe = k.believe
	return k, nil
}

// learn takes a measurement in points of body fat: what it says of the start,
// after the known change since, with a bias that stays.
func (k *knowing) learn(m athlete.Measurement, truth scenario.TruthDay) {
	first := k.truth[0]
	// In points of body fat at that day's weight: the start's error in kg is the
	// same all along.
	scale := first.WeightKg / truth.WeightKg
	moved := 100 * (truth.FatKg - first.FatKg) / truth.WeightKg
	reading := k.s.cohort.Measuring.ReadingSD
	expected := scale*k.fat0 + moved + k.bias
	h0, h1 := scale, 1.0
	p0, p1 := k.var0*h0+k.cov*h1, k.cov*h0+k.varBias*h1
	v := h0*p0 + h1*p1 + reading*reading
	gap := *m.BodyFatPct - expected
	k.fat0 += p0 / v * gap
	k.bias += p1 / v * gap
	k.var0 -= p0 * p0 / v
	k.varBias -= p1 * p1 / v
	k.cov -= p0 * p1 / v
}

func (k *knowing) believe(r *reading.Reading) {
	now := k.truth[len(k.truth)-1]
	fat := now.FatKg
	if !k.all {
		first := k.truth[0]
		fat = now.FatKg + (k.fat0/100*first.WeightKg - first.FatKg)
	}
	fat = math.Max(2, fat)
	p := &r.Now
	p.Mean[reading.Fat], p.Mean[reading.FatFree] = fat, now.WeightKg-fat
	state := p.State()
	p.Model.RestKcal += now.ReportedScaleExpenditureKcal - p.Model.MaintenanceKcal(&state, p.IntakeKcal, p.ActivityKcalPerKg)
	p.Mean[reading.Rest] = p.Model.RestKcal
	last := &r.Daily[len(r.Daily)-1]
	last.BodyFatPct.Value = 100 * fat / now.WeightKg
	last.LeanKg.Value, last.FatKg.Value, last.TrendKg.Value = now.WeightKg-fat, fat, now.WeightKg
	last.ExpenditureKc.Value = now.ReportedScaleExpenditureKcal
}

func (k *knowing) week(on civil.Date, n news) (order, error) {
	k.truth = append(k.truth, n.truth...)
	for _, m := range n.measurements {
		k.learn(m, k.truth[m.Date.DaysSince(firstDay)])
	}
	n.sets, n.sessions = nil, nil // how training goes is known from the truth
	d, err := k.look(on, n, k.options)
	if err != nil || d.Season == nil || len(d.Season.Map.Weeks) == 0 {
		return order{}, err
	}
	w := d.Season.Map.Weeks[0]
	in := w.Asked
	if a := d.Reading.Adherence; a.Days >= 7 {
		in.EnergyKcal /= a.MeanRatio
	}
	next := prescribe(k.s, on, in, w.Phase)
	next.Origin, next.Author = athlete.FromCoach, "the lab"
	return k.add(d, next)
}
