package reading

import (
	"fmt"
	"math"
	"slices"

	"glidepath/dynamics"
	"glidepath/numeric"
)

// rateDays is the stretch over which the rate of loss is told.
const rateDays = 14

// What is looked at each day, as rows on the state; body fat and the rate of loss
// are made of the first two.
const (
	lookFat = iota
	lookFatFree
	lookTrend
	lookExpenditure
	lookMethod
	looks
)

// smoother runs backwards over a pass and gives each day's estimate given all
// days. It is the Rauch-Tung-Striebel smoother in Bryson and Frazier's form
// (Bierman GJ. Int J Control 1973;18:727-38, "modified Bryson-Frazier"): in
// place of gains with an inverse it carries what later sightings say, a vector
// lambda and a matrix Lambda, with which the smoothed mean is x - P lambda and
// the smoothed covariance P - P Lambda P. A day costs n^2, not n^3, a variance
// that is zero does no harm, and only the filtered covariances need be kept.
type smoother struct {
	f      *filter
	lambda []float64
	matrix []float64 // Lambda
	x      []float64 // smoothed mean of the day
	work   []float64

	h, ph, lph [looks][]float64 // each row, P times it, Lambda times that
	// rates are the days whose rate of loss waits for the day it counts from, the
	// latest first.
	rates []openRate
	spare [][]float64
}

// openRate carries, for a day t, the vector v with which any earlier day s has
// Cov(x_s, w_t) = P_s v, w being tissue weight. It follows from the smoother's
// gains C_s ... C_(t-1) in the same form, without inverses.
type openRate struct {
	day              int
	weight, variance float64 // tissue weight and its variance on that day
	v                []float64
}

func (f *filter) smooth() []Estimate {
	n := f.n
	room := make([]float64, (3+3*looks)*n+n*n)
	take := func(k int) []float64 {
		v := room[:k:k]
		room = room[k:]
		return v
	}
	s := smoother{f: f, lambda: take(n), x: take(n), work: take(n), matrix: take(n * n)}
	for k := range looks {
		s.h[k], s.ph[k], s.lph[k] = take(n), take(n), take(n)
	}
	out := make([]Estimate, len(f.days))
	for t := len(out) - 1; t >= 0; t-- {
		s.day(t, &out[t])
		s.closeRates(t, out)
		if t > 0 {
			s.step(t)
		}
	}
	out[0].RatePct = numeric.Normal{SD: 1}.Interval()
	return out
}

// step carries what is known of the later days from the evening of day t, all of
// its sightings in, to the evening before.
func (s *smoother) step(t int) {
	n, p := s.f.n, s.f.pass
	for i := p.upTo[t] - 1; i >= p.upTo[t-1]; i-- {
		h, ph := p.row(i, n)
		s.unsee(&p.seen[i], h, ph)
		for r := range s.rates {
			v := s.rates[r].v
			subtract(v, dot(ph, v)/p.seen[i].variance, h)
		}
	}
	m := &p.moves[t-1]
	m.back(s.lambda)
	m.backBoth(s.matrix, n)
	for r := range s.rates {
		m.back(s.rates[r].v)
	}
}

// unsee takes lambda and Lambda from after a sighting to before it.
func (s *smoother) unsee(seen *sighting, h, ph []float64) {
	n := len(h)
	subtract(s.lambda, (seen.innovation+dot(ph, s.lambda))/seen.variance, h)
	g := s.work // Lambda K
	for i := range g {
		g[i] = dot(s.matrix[i*n:i*n+n], ph) / seen.variance
	}
	both := (1 + dot(ph, g)) / seen.variance
	for i, hi := range h {
		row := s.matrix[i*n : i*n+n]
		if hi == 0 {
			subtract(row, g[i], h)
			continue
		}
		for j, hj := range h {
			row[j] += hi*(both*hj-g[j]) - g[i]*hj
		}
	}
}

// subtract takes k times b from a.
func subtract(a []float64, k float64, b []float64) {
	for i, v := range b {
		a[i] -= k * v
	}
}

// see works out row k's variance once its h is set.
func (s *smoother) see(k, t int) (variance float64) {
	n := s.f.n
	project(s.ph[k], s.f.pass.filteredCov[t*n*n:(t+1)*n*n], s.h[k])
	project(s.lph[k], s.matrix, s.ph[k])
	return s.covariance(k, k)
}

func (s *smoother) covariance(k, l int) float64 {
	return dot(s.h[k], s.ph[l]) - dot(s.ph[k], s.lph[l])
}

// day tells day t and leaves its rate of loss open.
func (s *smoother) day(t int, e *Estimate) {
	f, n := s.f, s.f.n
	d := &f.days[t]
	x := s.x
	copy(x, f.pass.filtered[t*n:(t+1)*n])
	project(s.work, f.pass.filteredCov[t*n*n:(t+1)*n*n], s.lambda)
	subtract(x, 1, s.work)

	e.Date, e.WaterKg = d.date, d.waterKg
	e.AssumedKcal, e.ActivityKcalKg = d.input.EnergyKcal, d.input.ActivityKcalPerKg
	if d.log != nil {
		e.WeightKg, e.ReportedKcal = d.log.WeightKg, d.log.EnergyKcal
	}
	w := x[Fat] + x[FatFree]
	s.h[lookFat][Fat], s.h[lookFatFree][FatFree] = 1, 1
	fat, fatFree := s.see(lookFat, t), s.see(lookFatFree, t)
	between := s.covariance(lookFat, lookFatFree)
	e.FatKg, e.LeanKg = interval(x[Fat], fat), interval(x[FatFree], fatFree)
	a, b := 100*x[FatFree]/(w*w), -100*x[Fat]/(w*w)
	e.BodyFatPct = interval(100*x[Fat]/w, a*a*fat+2*a*b*between+b*b*fatFree)
	e.MethodPct = e.BodyFatPct
	if bias, ok := f.series[f.main]; ok {
		h := s.h[lookMethod]
		h[Fat], h[FatFree], h[bias] = a, b, 1
		e.MethodPct = interval(100*x[Fat]/w+x[bias], s.see(lookMethod, t))
	}
	water := f.weekWater(t)
	s.h[lookTrend][Fat], s.h[lookTrend][FatFree], s.h[lookTrend][Gain] = 1, 1, water
	e.TrendKg = interval(w+x[Gain]*water, s.see(lookTrend, t))

	each := f.model.ActivityKcalPerKg + x[Yield]*d.week.activityKcalPerKg
	h := s.h[lookExpenditure]
	h[Fat], h[FatFree] = dynamics.FatRestingKcalPerKg+each, dynamics.LeanRestingKcalPerKg+each
	h[Adaptation], h[Rest], h[Yield] = 1, 1, d.week.activityKcalPerKg*w
	variance := s.see(lookExpenditure, t)
	f.model.RestKcal, f.model.ActivityYield = x[Rest], x[Yield]
	if d.levelSD > 0 {
		f.model.RestKcal, variance = f.mean0[Rest], sq(d.levelSD)
	}
	body := f.model.Fresh(x[Fat], x[FatFree], x[Adaptation])
	e.ExpenditureKc = interval(f.model.MaintenanceKcal(&body, d.week.energyKcal, d.week.activityKcalPerKg), variance)

	open := openRate{day: t, weight: w, variance: fat + 2*between + fatFree, v: s.vector()}
	for i := range open.v {
		open.v[i] = -s.lph[lookFat][i] - s.lph[lookFatFree][i]
	}
	open.v[Fat]++
	open.v[FatFree]++
	s.rates = append(s.rates, open)
}

// closeRates tells the rates of loss that count from day t: of the day rateDays
// later, and on the first day of all that are still open. It comes after day.
func (s *smoother) closeRates(t int, out []Estimate) {
	then := &s.rates[len(s.rates)-1]
	weight, variance := then.weight, then.variance
	for len(s.rates) > 0 && (s.rates[0].day-t == rateDays || t == 0) {
		r := s.rates[0]
		s.rates = slices.Delete(s.rates, 0, 1)
		s.spare = append(s.spare, r.v)
		if r.day == t {
			return
		}
		// Cov(w_t, w_r): the smoothed P_t (1, 1, 0, ...) comes to P v by the rows
		// of fat and fat-free mass.
		between := dot(s.ph[lookFat], r.v) + dot(s.ph[lookFatFree], r.v)
		gap := math.Max(0, r.variance+variance-2*between)
		perWeek := 100 * 7 / float64(r.day-t) / r.weight
		out[r.day].RatePct = numeric.Normal{
			Mean: (weight - r.weight) * perWeek, SD: math.Sqrt(gap) * perWeek,
		}.Interval()
	}
}

// vector is one to write over: the rows of days that are closed come back.
func (s *smoother) vector() []float64 {
	if k := len(s.spare); k > 0 {
		v := s.spare[k-1]
		s.spare = s.spare[:k-1]
		return v
	}
	return make([]float64, s.f.n)
}

func interval(mean, variance float64) numeric.Interval {
	return numeric.Normal{Mean: mean, SD: math.Sqrt(math.Max(0, variance))}.Interval()
}

// weekWater is the modelled water of the week around a day, so that the trend
// does not ripple with every refeed.
func (f *filter) weekWater(t int) float64 {
	sum, n := 0.0, 0.0
	for i := max(0, t-3); i < min(len(f.days), t+4); i++ {
		sum += f.days[i].waterKg
		n++
	}
	return sum / n
}

// posterior is the last day's joint estimate of what the future depends on.
func (f *filter) posterior() Posterior {
	n, T := f.n, len(f.days)
	x, p := f.pass.filtered[(T-1)*n:], f.pass.filteredCov[(T-1)*n*n:]
	var out Posterior
	out.Series = f.main
	at, learned := [Learned]int{}, Learned // where the filter has each
	for i := range at {
		at[i] = i
	}
	if bias, ok := f.series[f.main]; ok {
		at[Bias] = bias
	} else {
		learned = Bias
	}
	for i, a := range at[:learned] {
		out.Mean[i] = x[a]
		for j, b := range at[:learned] {
			out.Cov[i*Learned+j] = p[a*n+b]
		}
	}
	if sd := f.days[T-1].levelSD; sd > 0 { // the gap to intake is learned, and not the level of either
		out.Mean[Rest] = f.mean0[Rest]
		for i := range Learned {
			out.Cov[Rest*Learned+i], out.Cov[i*Learned+Rest] = 0, 0
		}
		out.Cov[Rest*Learned+Rest] = sd * sd
	}
	f.model.RestKcal, f.model.ActivityYield = out.Mean[Rest], x[Yield]
	f.model.Partition.LossScale = dynamics.Trained().LossScale * math.Exp(x[LossScale])
	out.Model = f.model
	out.Water = f.days[T-1].water
	out.SlowFluidSD, out.SlowFluidDays = math.Sqrt(f.slowVariance()), f.set.SlowFluidDays
	rhythms := 0.0 // a wave's variance is half the square of its height
	for i := cycleCos; i <= weekSin; i++ {
		rhythms += 0.5 * (sq(x[i]) + p[i*n+i])
	}
	out.NoiseSD = math.Sqrt(sq(out.SlowFluidSD) + rhythms + f.fastVariance())
	count := 0.0
	for i := max(0, T-14); i < T; i++ {
		out.IntakeKcal += f.days[i].input.EnergyKcal
		out.ActivityKcalPerKg += f.days[i].input.ActivityKcalPerKg
		count++
	}
	out.IntakeKcal = out.IntakeKcal/count + out.Mean[Rest] - x[Rest]
	out.ActivityKcalPerKg /= count
	out.CarbohydrateShare = f.carbohydrateShare
	return out
}

// Of is what is known of one learned quantity, Fat to Bias.
func (p *Posterior) Of(quantity int) numeric.Normal {
	return numeric.Normal{Mean: p.Mean[quantity], SD: math.Sqrt(math.Max(0, p.Cov[quantity*Learned+quantity]))}
}

// State is the body at the posterior's mean.
func (p *Posterior) State() dynamics.State {
	s := p.Water
	s.FatKg, s.LeanKg, s.AdaptationKcal = p.Mean[Fat], p.Model.LeanFromFatFree(p.Mean[FatFree]), p.Mean[Adaptation]
	return s
}

// cannotTell says in sentences what the data leave open.
func (f *filter) cannotTell(r *Reading) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	e := r.Evidence
	last := r.Daily[len(r.Daily)-1]
	switch {
	case e.WeightsTotal == 0:
		say("No weight is logged: everything here rests on the profile alone.")
	case e.Days < 14:
		say("The log is %d days old; under 14 days, expenditure is mostly what equations expect, not what the scale shows.", e.Days)
	case e.Weights14 < 6:
		say("Only %d weigh-ins in the last 14 days: a change of trend under about %.1f kg cannot be told from water.", e.Weights14, 1.6*r.Now.NoiseSD)
	}
	switch {
	case e.IntakeTotal == 0 && f.days[len(f.days)-1].levelSD > 0:
		say("Intake is neither logged nor prescribed: the weight tells the gap between intake and expenditure, and the level of both is what equations expect.")
	case e.IntakeTotal == 0:
		say("Intake is not logged: the prescription is assumed eaten and expenditure is told on that scale, so only the gap between the two is real.")
	case e.Intake14 < 7:
		say("Intake is logged on %d of the last 14 days; the other days are assumed to follow the prescription or the days around them.", e.Intake14)
	}
	half := (last.BodyFatPct.High90 - last.BodyFatPct.Low90) / 2
	switch {
	case e.Compositions == 0:
		say("Body fat was never measured: it could be %.0f to %.0f %%.", last.BodyFatPct.Low90, last.BodyFatPct.High90)
	case half > 3:
		say("Body fat is known to within %.1f points either way; the error of a method that stays from reading to reading cannot be seen from within the log.", half)
	}
	if !f.carbohydrateLogged {
		say("Carbohydrate is not logged, so glycogen and its water are a guess from energy.")
	}
	if f.cycle && !f.cycleKnown {
		say("No cycle day is logged, so the cycle's water cannot be told from slow change.")
	}
	return out
}
