package lab

import (
	"math"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/numeric"
	"glidepath/reading"
	"glidepath/scenario"
)

// knowing plans each week with the product's own planner from a better belief:
// the truth itself, or the truth of all but how fat the athlete began and what
// the method's lasting error is, which it learns from the same measurements.
type knowing struct {
	*product
	s *subject
	// all: body fat and the method's error are known; otherwise only changes of fat.
	all bool
	// fastest is what it does where the plan does not land, and holds the truth so
	// far and the prescription that stands.
	fastest fastest
	asked   []asked // on each day of the truth

	// Body fat on the first day and the method's error, points, as far as they are
	// learned: means, variances and covariance.
	fat0, var0, bias, varBias, cov float64
}

// asked is what a day's prescription asked for, on the scale of the log; before
// any plan it is what was done by habit.
type asked struct {
	planned           bool
	energyKcal        float64
	activityKcalPerKg float64
}

// lived takes in the truth of the days since the last review.
func (k *knowing) lived(truth []scenario.TruthDay) {
	a := &k.s.spec.Athlete
	today := asked{activityKcalPerKg: k.s.activity(a.StepsPerDay, a.CardioMinutesPerWeek)}
	if k.fastest.plan != nil {
		today = asked{true, k.fastest.plan.MeanEnergyKcal(), k.s.activity(k.fastest.plan.Steps, k.fastest.plan.CardioMinutes())}
	}
	for _, t := range truth {
		k.fastest.truth = append(k.fastest.truth, t)
		k.asked = append(k.asked, today)
	}
}

// eaten is how much is eaten, on the scale of the log, of what is asked: the last
// four weeks' mean, logged or not.
func (k *knowing) eaten() float64 {
	did, should := 0.0, 0.0
	for i := max(0, len(k.fastest.truth)-28); i < len(k.fastest.truth); i++ {
		if k.asked[i].planned {
			did += k.fastest.truth[i].IntakeKcal * k.fastest.truth[i].ReportingFactor
			should += k.asked[i].energyKcal
		}
	}
	if should == 0 {
		return 1
	}
	return did / should
}

func newKnowing(s *subject, all bool) (*knowing, error) {
	p, err := newProduct(s)
	if err != nil {
		return nil, err
	}
	k := &knowing{product: p, s: s, all: all, fastest: newFastest(s)}
	// Before any measurement: the spread of those who are drawn.
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
	first := k.fastest.truth[0]
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

// believe puts what is known of the truth in place of what was read.
func (k *knowing) believe(r *reading.Reading) {
	now := k.fastest.truth[len(k.fastest.truth)-1]
	fat := now.FatKg
	if !k.all {
		first := k.fastest.truth[0]
		fat = now.FatKg + (k.fat0/100*first.WeightKg - first.FatKg)
	}
	fat = math.Max(2, fat)
	p := &r.Now
	p.Mean[reading.Fat], p.Mean[reading.FatFree] = fat, now.WeightKg-fat
	// Two weeks are as long as the mean of intake in the posterior: one day's
	// expenditure is that day's steps and sessions. It is held against what was
	// asked of activity, so that the plan counts on what is done of it.
	from := max(0, len(k.fastest.truth)-14)
	n := float64(len(k.fastest.truth) - from)
	spent, activity := 0.0, 0.0
	for i := from; i < len(k.fastest.truth); i++ {
		spent += k.fastest.truth[i].ReportedScaleExpenditureKcal / n
		activity += k.asked[i].activityKcalPerKg / n
	}
	state := p.State()
	p.Model.RestKcal += spent - p.Model.MaintenanceKcal(&state, p.IntakeKcal, activity)
	p.Mean[reading.Rest] = p.Model.RestKcal
	last := &r.Daily[len(r.Daily)-1]
	k.bodyFat(r, fat/now.WeightKg)
	last.LeanKg.Value, last.FatKg.Value, last.TrendKg.Value = now.WeightKg-fat, fat, now.WeightKg
	last.ExpenditureKc.Value = spent
}

func (k *knowing) week(on civil.Date, n news) (order, error) {
	k.lived(n.truth)
	for _, m := range n.measurements {
		k.learn(m, k.fastest.truth[m.Date.DaysSince(firstDay)])
	}
	n.sets, n.sessions = nil, nil // how training goes is known from the truth
	d, err := k.look(on, n, k.options)
	if err != nil || d.Season == nil || len(d.Season.Map.Weeks) == 0 {
		return order{}, err
	}
	next := k.next(on, d)
	next.Origin, next.Author = athlete.FromCoach, "the lab"
	return k.add(d, next)
}

// bodyFat sets what is believed of body fat, a share of weight, with its doubt,
// and of the method's bias, so that the target is aimed at where it is meant.
func (k *knowing) bodyFat(r *reading.Reading, share float64) {
	bias, variance, onMethod := k.s.biasPct, 0.0, 0.0
	if !k.all {
		bias, variance = k.bias, k.var0
		onMethod = math.Max(0, k.var0+k.varBias+2*k.cov)
	}
	r.Now.Mean[reading.Bias] = bias
	last := &r.Daily[len(r.Daily)-1]
	last.BodyFatPct = numeric.Normal{Mean: 100 * share, SD: math.Sqrt(variance)}.Interval()
	last.MethodPct = numeric.Normal{Mean: 100*share + bias, SD: math.Sqrt(onMethod)}.Interval()
}

// next is the week's prescription: the plan's, or, where the plan does not land,
// the most that the limits permit.
func (k *knowing) next(on civil.Date, d *app.Dossier) *athlete.Prescription {
	k.fastest.learn()
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	w := &d.Season.Map.Weeks[0]
	if !d.Season.Map.Lands && w.Phase == athlete.Prep && w.RestDays == 0 {
		return k.fastest.week(on, last.FatKg.Value)
	}
	in := w.Asked
	in.EnergyKcal /= k.eaten()
	k.fastest.plan = k.s.prescribeOverFloor(on, in, w.Phase, last.TrendKg.Value, last.LeanKg.Value)
	return k.fastest.plan
}
