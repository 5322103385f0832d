package reading

import (
	"fmt"
	"math"

	"glidepath/dynamics"
	"glidepath/numeric"
)

// rateDays is the stretch over which the rate of loss is told.
const rateDays = 14

// smooth runs the Rauch-Tung-Striebel pass backwards and gives every day's
// estimate. The smoother's gains also give the covariance between days, which
// the rate of loss needs.
func (f *filter) smooth() []Estimate {
	n, T := f.n, len(f.days)
	means, covs := make([]float64, n*T), make([]float64, n*n*T)
	gains := make([]float64, n*n*T)
	copy(means[(T-1)*n:], f.filtered[(T-1)*n:])
	copy(covs[(T-1)*n*n:], f.filteredCov[(T-1)*n*n:])
	for t := T - 2; t >= 0; t-- {
		gain := gains[t*n*n : (t+1)*n*n]
		f.gain(gain, t)
		x, p := means[t*n:(t+1)*n], covs[t*n*n:(t+1)*n*n]
		copy(x, f.filtered[t*n:(t+1)*n])
		copy(p, f.filteredCov[t*n*n:(t+1)*n*n])
		next, predicted := means[(t+1)*n:(t+2)*n], f.predicted[(t+1)*n:(t+2)*n]
		gap := f.work3[:n]
		for i := range gap {
			gap[i] = next[i] - predicted[i]
		}
		for i := range x {
			x[i] += dot(gain[i*n:i*n+n], gap)
		}
		for i, v := range covs[(t+1)*n*n : (t+2)*n*n] {
			f.work1[i] = v - f.predictedCov[(t+1)*n*n+i]
		}
		numeric.Mul(f.work2, gain, f.work1, n)
		numeric.MulTransposed(f.work1, f.work2, gain, n)
		for i := range p {
			p[i] += f.work1[i]
		}
		numeric.Symmetrise(p, n)
	}
	return f.estimates(means, covs, gains)
}

// gain writes C = P transpose(Phi) inverse(P') of day t.
func (f *filter) gain(dst []float64, t int) {
	n := f.n
	p, phi := f.filteredCov[t*n*n:(t+1)*n*n], f.transition[t*n*n:(t+1)*n*n]
	numeric.MulTransposed(dst, p, phi, n)
	copy(f.work1, f.predictedCov[(t+1)*n*n:(t+2)*n*n])
	numeric.Cholesky(f.work1, n)
	for i := range n {
		numeric.SolveCholesky(f.work1, dst[i*n:i*n+n], n)
	}
}

// estimates turns smoothed states into what a person reads.
func (f *filter) estimates(means, covs, gains []float64) []Estimate {
	n := f.n
	out := make([]Estimate, len(f.days))
	h, lag, next := make([]float64, n), make([]float64, n), make([]float64, n)
	normal := func(mean float64, p []float64) numeric.Interval {
		return numeric.Normal{Mean: mean, SD: math.Sqrt(math.Max(0, quadratic(h, p)))}.Interval()
	}
	intake, activity := f.days[0].input.EnergyKcal, f.days[0].input.ActivityKcalPerKg
	for t := range out {
		d := &f.days[t]
		x, p := means[t*n:(t+1)*n], covs[t*n*n:(t+1)*n*n]
		e := &out[t]
		e.Date, e.WaterKg = d.date, d.waterKg
		e.AssumedKcal, e.ActivityKcalKg = d.input.EnergyKcal, d.input.ActivityKcalPerKg
		if d.log != nil {
			e.WeightKg, e.ReportedKcal = d.log.WeightKg, d.log.EnergyKcal
		}
		set := func(values ...float64) {
			clear(h)
			copy(h, values)
		}
		w := x[Fat] + x[FatFree]
		set(1)
		e.FatKg = normal(x[Fat], p)
		set(0, 1)
		e.LeanKg = normal(x[FatFree], p)
		set(100*x[FatFree]/(w*w), -100*x[Fat]/(w*w))
		e.BodyFatPct = normal(100*x[Fat]/w, p)
		set(1, 1)
		water := f.weekWater(t)
		h[Gain] = water
		e.TrendKg = normal(w+x[Gain]*water, p)

		intake += (d.input.EnergyKcal - intake) / 7
		activity += (d.input.ActivityKcalPerKg - activity) / 7
		each := f.model.ActivityKcalPerKg + x[Yield]*activity
		set(dynamics.FatRestingKcalPerKg+each, dynamics.LeanRestingKcalPerKg+each, 1, 1)
		h[Yield] = activity * w
		f.model.RestKcal, f.model.ActivityYield = x[Rest], x[Yield]
		s := f.model.Fresh(x[Fat], x[FatFree], x[Adaptation])
		e.ExpenditureKc = normal(f.model.MaintenanceKcal(&s, intake, activity), p)

		back := max(0, t-rateDays)
		if back == t {
			e.RatePct = numeric.Normal{SD: 1}.Interval()
			continue
		}
		// Var(w_t - w_s) with Cov(x_s, x_t) = C_s ... C_(t-1) P_t.
		set(1, 1)
		for i := range lag {
			lag[i] = dot(p[i*n:i*n+n], h)
		}
		now := dot(lag, h)
		for s := t - 1; s >= back; s-- {
			for i := range next {
				next[i] = dot(gains[s*n*n+i*n:s*n*n+i*n+n], lag)
			}
			lag, next = next, lag
		}
		then := quadratic(h, covs[back*n*n:(back+1)*n*n])
		variance := math.Max(0, now+then-2*dot(h, lag))
		lost := means[back*n+Fat] + means[back*n+FatFree] - w
		perWeek := 100 * 7 / float64(t-back) / w
		e.RatePct = numeric.Normal{Mean: lost * perWeek, SD: math.Sqrt(variance) * perWeek}.Interval()
	}
	return out
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

func quadratic(h, p []float64) float64 {
	n := len(h)
	sum := 0.0
	for i, v := range h {
		if v != 0 {
			sum += v * dot(p[i*n:i*n+n], h)
		}
	}
	return sum
}

// posterior is the last day's joint estimate of what the future depends on.
func (f *filter) posterior() Posterior {
	n, T := f.n, len(f.days)
	x, p := f.filtered[(T-1)*n:], f.filteredCov[(T-1)*n*n:]
	var out Posterior
	copy(out.Mean[:], x[:Learned])
	for i := range Learned {
		copy(out.Cov[i*Learned:(i+1)*Learned], p[i*n:i*n+Learned])
	}
	f.model.RestKcal, f.model.ActivityYield = x[Rest], x[Yield]
	f.model.Partition.LossScale = dynamics.Trained().LossScale * math.Exp(x[LossScale])
	out.Model = f.model
	out.Water = f.days[T-1].water
	scale := f.startKg / 80 * f.noise
	out.NoiseSD = math.Hypot(f.set.WeighInSD*scale, f.set.SlowFluidSD*scale)
	count := 0.0
	for i := max(0, T-14); i < T; i++ {
		out.IntakeKcal += f.days[i].input.EnergyKcal
		out.ActivityKcalPerKg += f.days[i].input.ActivityKcalPerKg
		count++
	}
	out.IntakeKcal /= count
	out.ActivityKcalPerKg /= count
	out.CarbohydrateShare = f.carbohydrateShare
	return out
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
	case e.IntakeTotal == 0:
		say("Intake is not logged: expenditure is told on the scale of what is assumed eaten, so only the gap between the two is real.")
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
	if f.in.Athlete.MenstrualCycle && !f.cycleKnown {
		say("No cycle day is logged, so the cycle's water cannot be told from slow change.")
	}
	return out
}
