package reading

import (
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
	"glidepath/numeric"
	"glidepath/physiology"
)

// The state of the filter: first what is learned for the future (Fat to Gain),
// then the rhythms of the scale, then one bias for each series of body-fat
// readings.
const (
	cycleCos = Learned + iota
	cycleSin
	weekCos
	weekSin
	fixedStates
)

// moved is how many of the leading states the dynamics move together.
const moved = Yield + 1

type filter struct {
	in    *Input
	set   Settings
	model dynamics.Model // at the prior's centre
	n     int            // states

	days               []day
	queries            []Query
	startKg            float64 // weight on the first day
	cycleKnown         bool
	carbohydrateShare  float64
	carbohydrateLogged bool
	series             map[string]int // series -> state of its bias
	seriesOrder        []string
	biasSD             []float64
	noise              float64 // factor on the scale's noise, learned
	mean0, cov0        []float64

	// One record a day, for the smoother.
	predicted, filtered       []float64 // means, n a day
	predictedCov, filteredCov []float64 // n*n a day
	transition                []float64 // n*n a day: from this day to the next

	work1, work2, work3 []float64
	innovations         []float64
}

// spontaneousKcalPerKg is activity that no log sees and that goes with body
// weight: fidgeting, standing, chores (judgement).
const spontaneousKcalPerKg = 3.0

// newFilter sets the model and the prior.
func newFilter(in *Input, set Settings) (*filter, error) {
	f := &filter{in: in, set: set, noise: 1, series: map[string]int{}}
	a := in.Athlete
	first := f.firstDay()
	f.startKg = startingWeight(in, first)
	body := physiology.Body{Sex: a.Sex, WeightKg: f.startKg, HeightCm: a.HeightCm, AgeYears: float64(a.BirthDate.YearsUntil(first))}
	fat, fatSD := priorFat(a.Sex, f.startKg)
	body.FatKg = fat
	resting, err := physiology.RestingExpenditure(body, fatSD)
	if err != nil {
		return nil, err
	}
	fluid, err := physiology.InitialExtracellularL(body)
	if err != nil {
		return nil, err
	}
	expenditure := (resting.Value+spontaneousKcalPerKg*f.startKg)/(1-dynamics.ThermicEffect) +
		priorYield*in.HabitKcalPerKg*f.startKg
	expenditureSD := set.ExpenditureSD
	if m := a.MaintenanceEnergyKcal; m != nil {
		expenditure, expenditureSD = combineEstimates(expenditure, set.ExpenditureSD, *m, set.MaintenanceSD)
	}
	share, _ := carbohydrateShare(in)
	f.model = dynamics.New(dynamics.Model{
		ActivityKcalPerKg:        spontaneousKcalPerKg,
		ActivityYield:            priorYield,
		IntakeBaselineKcal:       expenditure,
		AdaptationGain:           dynamics.AdaptationGain,
		ThermicEffect:            dynamics.ThermicEffect,
		Partition:                dynamics.Trained(),
		CarbohydrateBaselineKcal: share * expenditure,
		FluidBaselineKg:          fluid,
	})
	f.countSeries()
	f.prior(fat, fatSD, expenditure, expenditureSD)
	f.track(first)
	f.screen()
	return f, nil
}

// priorYield is the share of logged activity that adds to a day's expenditure:
// people save elsewhere part of what they spend (Careau et al. 2021, Curr Biol
// 31:4659: about 72 %, from memory), and a step counter has its own error.
const (
	priorYield   = 0.75
	priorYieldSD = 0.20
)

// combineEstimates is the precision-weighted mean of two estimates.
func combineEstimates(a, aSD, b, bSD float64) (mean, sd float64) {
	wa, wb := 1/(aSD*aSD), 1/(bSD*bSD)
	return (wa*a + wb*b) / (wa + wb), math.Sqrt(1 / (wa + wb))
}

// priorFat is what is believed of fat mass before any measurement: trained
// people, not the general public (judgement; the means of the cohorts in
// docs/validation.md lie within).
func priorFat(sex athlete.Sex, weightKg float64) (kg, sd float64) {
	pct, pctSD := 16.0, 5.5
	if sex == athlete.Female {
		pct, pctSD = 24.0, 6.0
	}
	return pct / 100 * weightKg, pctSD / 100 * weightKg
}

// startingWeight is the weight to begin from: the middle of the first logged
// weights, so that one slip does no harm, or the profile's where the log starts
// without any.
func startingWeight(in *Input, first civil.Date) float64 {
	a := in.Athlete
	var early []float64
	for i := range in.Days {
		d := &in.Days[i]
		if d.WeightKg != nil && d.Date <= in.AsOf && d.Date >= first && d.Date < first.AddDays(21) && len(early) < 7 {
			early = append(early, *d.WeightKg)
		}
	}
	if near := a.WeighedOn; near.IsZero() || near < first.AddDays(21) || len(early) == 0 {
		early = append(early, a.WeightKg)
	}
	slices.Sort(early)
	return early[len(early)/2]
}

// firstDay is the first day that anything is known of, within the days that
// are read at all.
func (f *filter) firstDay() civil.Date {
	in := f.in
	first := in.AsOf
	take := func(d civil.Date) {
		if !d.IsZero() && d < first {
			first = d
		}
	}
	take(in.Athlete.WeighedOn)
	for i := range in.Days {
		take(in.Days[i].Date)
	}
	for _, c := range in.Composition {
		take(c.Date)
	}
	return max(first, in.AsOf.AddDays(-f.set.PrecedingDays))
}

func (f *filter) countSeries() {
	for _, c := range f.in.Composition {
		if _, ok := f.series[c.Series]; !ok && c.Date <= f.in.AsOf {
			f.series[c.Series] = fixedStates + len(f.seriesOrder)
			f.seriesOrder = append(f.seriesOrder, c.Series)
			f.biasSD = append(f.biasSD, c.BiasSD)
		}
	}
	f.n = fixedStates + len(f.seriesOrder)
}

// prior sets the mean and covariance before the first day. Weight is known to a
// kilogram or so from the profile, so fat and fat-free mass vary against each
// other; the expenditure offset takes what the equations leave open.
func (f *filter) prior(fat, fatSD, expenditure, expenditureSD float64) {
	n := f.n
	a := f.in.Athlete
	f.mean0, f.cov0 = make([]float64, n), make([]float64, n*n)
	lean := f.startKg - fat
	f.mean0[Fat], f.mean0[FatFree] = fat, lean
	s := f.model.Fresh(fat, lean, 0)
	f.mean0[Yield], f.mean0[Gain] = priorYield, 0.8
	f.mean0[Rest] = expenditure - (f.model.MaintenanceKcal(&s, expenditure, f.in.HabitKcalPerKg) - f.model.RestKcal)
	f.model.RestKcal = f.mean0[Rest]

	set := func(i, j int, v float64) { f.cov0[i*n+j], f.cov0[j*n+i] = v, v }
	scale := f.startKg / 80
	weightSD := 1.2 * scale
	set(Fat, Fat, fatSD*fatSD)
	set(Fat, FatFree, -fatSD*fatSD)
	set(FatFree, FatFree, fatSD*fatSD+weightSD*weightSD)
	// Expenditure is what is uncertain by expenditureSD; it holds lean and
	// activity terms, so the offset moves against them.
	perFat := dynamics.FatRestingKcalPerKg - dynamics.LeanRestingKcalPerKg
	set(Rest, Rest, expenditureSD*expenditureSD+perFat*perFat*fatSD*fatSD)
	set(Rest, Fat, -perFat*fatSD*fatSD)
	set(Rest, FatFree, perFat*fatSD*fatSD)
	set(Adaptation, Adaptation, 50*50)
	set(LossScale, LossScale, dynamics.LossScaleLogSD*dynamics.LossScaleLogSD)
	habit := f.in.HabitKcalPerKg * f.startKg
	set(Yield, Yield, priorYieldSD*priorYieldSD)
	set(Yield, Rest, -habit*priorYieldSD*priorYieldSD)
	f.cov0[Rest*n+Rest] += habit * habit * priorYieldSD * priorYieldSD
	set(SlowFluid, SlowFluid, sq(f.set.SlowFluidSD*scale))
	gainSD := 0.25
	if !f.carbohydrateLogged {
		gainSD = 0.35
	}
	set(Gain, Gain, gainSD*gainSD)
	if a.MenstrualCycle {
		set(cycleCos, cycleCos, 0.3*0.3)
		set(cycleSin, cycleSin, 0.3*0.3)
	}
	set(weekCos, weekCos, 0.12*0.12)
	set(weekSin, weekSin, 0.12*0.12)
	for i, sd := range f.biasSD {
		set(fixedStates+i, fixedStates+i, sd*sd)
	}
}

func sq(v float64) float64 { return v * v }

// run filters all days with the present noise factor.
func (f *filter) run() {
	n, T := f.n, len(f.days)
	if f.filtered == nil {
		f.predicted, f.filtered = make([]float64, n*T), make([]float64, n*T)
		f.predictedCov, f.filteredCov = make([]float64, n*n*T), make([]float64, n*n*T)
		f.transition = make([]float64, n*n*T)
		f.work1, f.work2, f.work3 = make([]float64, n*n), make([]float64, n*n), make([]float64, n*n)
	}
	f.innovations = f.innovations[:0]
	x, p := append([]float64(nil), f.mean0...), append([]float64(nil), f.cov0...)
	for t := range f.days {
		copy(f.predicted[t*n:], x)
		copy(f.predictedCov[t*n*n:], p)
		f.update(&f.days[t], x, p)
		copy(f.filtered[t*n:], x)
		copy(f.filteredCov[t*n*n:], p)
		f.predict(&f.days[t], x, p, f.transition[t*n*n:(t+1)*n*n])
	}
}

// advance runs the dynamics on the leading states.
func (f *filter) advance(d *day, v *[moved]float64, energy float64) (fat, fatFree, adaptation float64) {
	m := &f.model
	m.RestKcal = v[Rest]
	m.ActivityYield = v[Yield]
	m.Partition.LossScale = dynamics.Trained().LossScale * math.Exp(v[LossScale])
	s := d.water
	s.FatKg, s.LeanKg, s.AdaptationKcal = math.Max(v[Fat], 1), m.LeanFromFatFree(v[FatFree]), v[Adaptation]
	in := d.input
	in.EnergyKcal = energy
	m.Step(&s, in)
	return s.FatKg, m.ReferenceFatFreeKg(&s), s.AdaptationKcal
}

// jacobianStep is the finite difference taken in each leading state.
var jacobianStep = [moved]float64{1e-3, 1e-3, 0.1, 0.1, 1e-3, 1e-3}

// predict moves x and p over the day and leaves the transition matrix.
func (f *filter) predict(d *day, x, p, phi []float64) {
	n := f.n
	var v [moved]float64
	copy(v[:], x)
	e := d.input.EnergyKcal
	fat, fatFree, adaptation := f.advance(d, &v, e)
	clear(phi)
	for i := range n {
		phi[i*n+i] = 1
	}
	decay := math.Exp(-1 / f.set.SlowFluidDays)
	phi[SlowFluid*n+SlowFluid] = decay
	for j, h := range jacobianStep {
		w := v
		w[j] += h
		a, b, c := f.advance(d, &w, e)
		phi[Fat*n+j], phi[FatFree*n+j], phi[Adaptation*n+j] = (a-fat)/h, (b-fatFree)/h, (c-adaptation)/h
	}
	const kcal = 1.0
	a, b, _ := f.advance(d, &v, e+kcal)
	byFat, byLean := (a-fat)/kcal, (b-fatFree)/kcal

	x[Fat], x[FatFree], x[Adaptation] = fat, fatFree, adaptation
	x[SlowFluid] *= decay
	numeric.Mul(f.work1, phi, p, n)
	numeric.MulTransposed(p, f.work1, phi, n)

	q := d.intakeSD * d.intakeSD
	p[Fat*n+Fat] += byFat*byFat*q + sq(0.006)
	p[Fat*n+FatFree] += byFat * byLean * q
	p[FatFree*n+Fat] += byFat * byLean * q
	p[FatFree*n+FatFree] += byLean*byLean*q + sq(0.006)
	p[Adaptation*n+Adaptation] += sq(2)
	p[Rest*n+Rest] += sq(f.set.RestDriftKcal)
	p[LossScale*n+LossScale] += sq(0.015)
	p[SlowFluid*n+SlowFluid] += (1 - decay*decay) * f.slowVariance()
	if f.in.Athlete.MenstrualCycle {
		p[cycleCos*n+cycleCos] += sq(0.02)
		p[cycleSin*n+cycleSin] += sq(0.02)
	}
	numeric.Symmetrise(p, n)
}

// slowVariance is the variance of slow fluid; a cycle that is not logged hides
// in it.
func (f *filter) slowVariance() float64 {
	scale := f.startKg / 80
	v := sq(f.set.SlowFluidSD * scale * f.noise)
	if f.in.Athlete.MenstrualCycle && !f.cycleKnown {
		v += sq(0.3)
	}
	return v
}

// update takes in what the day tells of the body, one number at a time.
func (f *filter) update(d *day, x, p []float64) {
	n := f.n
	h := f.work3[:n]
	if !math.IsNaN(d.weight) {
		f.weightRow(d, h)
		fast := sq(f.set.WeighInSD * f.startKg / 80 * f.noise)
		innovation, variance := f.innovation(d.weight, dot(h, x), h, p)
		// Student-t tails: far from what is expected, a weigh-in counts less.
		z2 := innovation * innovation / (variance + fast)
		nu := f.set.TailDF
		fast *= math.Max(1, (nu+z2)/(nu+1))
		f.innovations = append(f.innovations, innovation/math.Sqrt(variance+fast))
		f.correct(x, p, innovation, variance+fast)
	}
	for _, c := range d.compositions {
		clear(h)
		w := x[Fat] + x[FatFree]
		h[Fat], h[FatFree] = 100*x[FatFree]/(w*w), -100*x[Fat]/(w*w)
		bias := f.series[c.Series]
		h[bias] = 1
		innovation, variance := f.innovation(c.BodyFatPct, 100*x[Fat]/w+x[bias], h, p)
		f.correct(x, p, innovation, variance+c.ReadingSD*c.ReadingSD)
	}
}

// weightRow is how the scale sees the state.
func (f *filter) weightRow(d *day, h []float64) {
	clear(h)
	h[Fat], h[FatFree], h[SlowFluid] = 1, 1, 1
	h[Gain] = d.waterKg
	h[cycleCos], h[cycleSin] = d.cycle[0], d.cycle[1]
	h[weekCos], h[weekSin] = d.week[0], d.week[1]
}

// innovation leaves P h in work2 for correct.
func (f *filter) innovation(seen, expected float64, h, p []float64) (gap, variance float64) {
	n := f.n
	ph := f.work2[:n]
	for i := range n {
		ph[i] = dot(p[i*n:i*n+n], h)
	}
	return seen - expected, dot(h, ph)
}

func (f *filter) correct(x, p []float64, innovation, variance float64) {
	n := f.n
	ph := f.work2[:n]
	for i := range n {
		k := ph[i] / variance
		x[i] += k * innovation
		row := p[i*n : i*n+n]
		for j := range row {
			row[j] -= k * ph[j]
		}
	}
	numeric.Symmetrise(p, n)
	x[Fat] = math.Max(x[Fat], 1)
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}
