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
// readings, of which the main one's is learned too (Bias).
const (
	cycleCos = Gain + 1 + iota
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
	model dynamics.Model // what is learned is set anew each day
	prior dynamics.Model // the same at the prior's centre
	n     int            // states

	days               []day
	queries            []Query
	startKg            float64 // weight on the first day
	expenditureSD      float64 // of the prior, kcal
	cycle, cycleKnown  bool    // there is a menstrual cycle; its days are logged
	carbohydrateShare  float64
	carbohydrateLogged bool
	series             map[string]int // series -> state of its bias
	seriesOrder        []string
	biasSD             []float64
	main               string  // the main series, "" without
	noise              float64 // factor on the scale's noise, learned
	mean0, cov0        []float64
	pass               *pass // the run that counts
}

// spontaneousKcalPerKg is activity that no log sees and that goes with body
// weight: fidgeting, standing, chores (judgement: with it somebody who lifts and
// walks 8,000 steps is expected to report 1.5 times resting expenditure, within
// the 1.40 to 1.69 of light activity in FAO/WHO/UNU 2004, from memory).
const spontaneousKcalPerKg = 4.0

// unknownGapKcal is the SD of intake about expenditure, a day, in somebody of whose
// intake nothing is known (judgement: a hard diet or a careless off-season).
const unknownGapKcal = 600.0

// newFilter sets the model and the prior.
func newFilter(in *Input, set Settings) (*filter, error) {
	f := &filter{in: in, set: set, noise: 1, series: map[string]int{}}
	a := in.Athlete
	f.cycle = a.MenstrualCycle
	first := f.firstDay()
	f.startKg = startingWeight(in, first)
	body := physiology.Body{Sex: a.Sex, WeightKg: f.startKg, HeightCm: a.HeightCm, AgeYears: float64(a.BirthDate.YearsUntil(first))}
	fat, fatSD := priorFat(a.Sex, f.startKg, a.HeightCm)
	body.FatKg = fat
	resting, err := physiology.RestingExpenditure(body, fatSD)
	if err != nil {
		return nil, err
	}
	fluid, err := physiology.InitialExtracellularL(body)
	if err != nil {
		return nil, err
	}
	f.expenditureSD = set.ExpenditureSD
	expenditure := (resting.Value+spontaneousKcalPerKg*f.startKg)/(1-dynamics.ThermicEffect) +
		priorYield*in.HabitKcalPerKg*f.startKg
	if m := a.MaintenanceEnergyKcal; m != nil {
		expenditure, f.expenditureSD = combineEstimates(expenditure, set.ExpenditureSD, *m, set.MaintenanceSD)
	}
	f.carbohydrateShare, f.carbohydrateLogged = carbohydrateShare(in)
	f.model = dynamics.New(dynamics.Model{
		ActivityKcalPerKg:        spontaneousKcalPerKg,
		ActivityYield:            priorYield,
		IntakeBaselineKcal:       expenditure,
		AdaptationGain:           dynamics.AdaptationGain,
		ThermicEffect:            dynamics.ThermicEffect,
		Partition:                dynamics.Trained(),
		CarbohydrateBaselineKcal: f.carbohydrateShare * expenditure,
		FluidBaselineKg:          fluid,
	})
	f.countSeries()
	f.setPrior(fat, fatSD, expenditure)
	f.prior = f.model
	f.track(first)
	if f.days[0].levelSD > 0 {
		f.cov0[Rest*f.n+Rest] += unknownGapKcal * unknownGapKcal
	}
	f.screen()
	return f, nil
}

// priorYield is the share of logged activity that adds to a day's expenditure:
// people save elsewhere part of what they spend, and a step counter has its own
// error. Careau et al. 2021 (Curr Biol 31:4659, 1,754 people) found 72 %; others
// found less and more (docs/cardio.md), which the SD is to hold.
const (
	priorYield   = 0.75
	priorYieldSD = 0.20
)

// PriorYield is what is believed of Yield before any log.
func PriorYield() numeric.Normal { return numeric.Normal{Mean: priorYield, SD: priorYieldSD} }

// combineEstimates is the precision-weighted mean of two estimates.
func combineEstimates(a, aSD, b, bSD float64) (mean, sd float64) {
	wa, wb := 1/(aSD*aSD), 1/(bSD*bSD)
	return (wa*a + wb*b) / (wa + wb), math.Sqrt(1 / (wa + wb))
}

// priorFat is what is believed of fat mass before any measurement: trained
// people, not the general public (judgement; the means of the cohorts in
// docs/validation.md lie within). A body so heavy for its height that this would
// make it more muscular than all but a few are is fatter instead, by six tenths of
// its weight at most, and the doubt is wider: Kouri et al. 1995 (Clin J Sport Med
// 5:223) found fat-free mass indices of up to 25 kg/m^2 in trained men who took no
// drugs and above 30 in some who did; 28, and 22 for women, are judgement.
func priorFat(sex athlete.Sex, weightKg, heightCm float64) (kg, sd float64) {
	pct, pctSD, index := 16.0, 5.5, 28.0
	if sex == athlete.Female {
		pct, pctSD, index = 24.0, 6.0, 22.0
	}
	kg, sd = pct/100*weightKg, pctSD/100*weightKg
	if excess := weightKg - kg - index*sq(heightCm/100); excess > 0 {
		kg, sd = math.Min(kg+excess, 0.6*weightKg), math.Hypot(sd, excess/4)
	}
	return kg, sd
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
	f.main = mainSeries(f.in.Composition, f.in.AsOf)
}

// setPrior sets the mean and covariance before the first day. Weight is known to a
// kilogram or so from the profile, so fat and fat-free mass vary against each
// other; the expenditure offset takes what the equations leave open.
func (f *filter) setPrior(fat, fatSD, expenditure float64) {
	n := f.n
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
	// Expenditure is what is uncertain; it holds lean and
	// activity terms, so the offset moves against them.
	perFat := dynamics.FatRestingKcalPerKg - dynamics.LeanRestingKcalPerKg
	set(Rest, Rest, f.expenditureSD*f.expenditureSD+perFat*perFat*fatSD*fatSD)
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
	if f.cycle {
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

func roundTo(v, step float64) float64 { return step * math.Round(v/step) }
