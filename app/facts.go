package app

import (
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/civil"
	"glidepath/physiology"
	"glidepath/reading"
	"glidepath/season"
	"glidepath/training"
)

// facts are everything stored of an athlete up to a date.
type facts struct {
	athlete       athlete.Athlete
	days          []athlete.Day
	measurements  []athlete.Measurement
	sets          []athlete.Set
	sessions      []athlete.Session
	prescriptions []athlete.Prescription
	reviews       []Review
	checkIns      []athlete.CheckIn
	programmes    []athlete.Programme
	catalogue     *training.Catalogue

	fatigue cardio.FatigueTable // what cardio costs in fatigue, as the coach has it
}

func load(tx Tx, id string, asOf civil.Date) (*facts, error) {
	a, err := tx.Athlete(id)
	if err != nil {
		return nil, err
	}
	f := &facts{athlete: *a}
	if f.fatigue, err = fatigueTable(tx); err != nil {
		return nil, err
	}
	if f.days, err = tx.Days(id, firstDate, asOf); err != nil {
		return nil, err
	}
	if f.measurements, err = tx.Measurements(id, asOf); err != nil {
		return nil, err
	}
	if err := f.loadTraining(tx, id, asOf); err != nil {
		return nil, err
	}
	if f.prescriptions, err = tx.Prescriptions(id, asOf); err != nil {
		return nil, err
	}
	if f.reviews, err = tx.Reviews(id, asOf); err != nil {
		return nil, err
	}
	f.checkIns, err = tx.CheckIns(id, asOf)
	return f, err
}

// defaultTrainingMinutes is a lifting session where the profile says nothing
// (common practice, no source).
const defaultTrainingMinutes = 70.0

func (f *facts) lifting(on civil.Date) cardio.Lifting {
	if !slices.Contains(f.athlete.TrainingDays, athlete.Weekday(on.Weekday())) {
		return cardio.Lifting{}
	}
	for _, s := range f.sessions {
		if s.Date == on && s.Minutes > 0 {
			return cardio.Lifting{Minutes: s.Minutes}
		}
	}
	return cardio.Lifting{Minutes: f.trainingMinutes()}
}

func (f *facts) trainingMinutes() float64 {
	if m := f.athlete.TrainingMinutes; m > 0 {
		return m
	}
	return defaultTrainingMinutes
}

// bodyOn is the body on a date: at the middle of the last week of weigh-ins, so that
// a slip does no harm, or the profile's weight where there is none.
func (f *facts) bodyOn(on civil.Date) cardio.Body {
	end, _ := slices.BinarySearchFunc(f.days, on.AddDays(1), func(d athlete.Day, on civil.Date) int { return int(d.Date - on) })
	var lately []float64
	for i := end - 1; i >= 0 && len(lately) < weighInsOfAWeek; i-- {
		if w := f.days[i].WeightKg; w != nil && *w >= 35 && *w <= 220 {
			lately = append(lately, *w)
		}
	}
	b := cardio.Body{Sex: f.athlete.Sex, WeightKg: f.athlete.WeightKg, HeightCm: f.athlete.HeightCm}
	if len(lately) > 0 {
		slices.Sort(lately)
		b.WeightKg = lately[len(lately)/2]
	}
	return b
}

const weighInsOfAWeek = 7

// rates are what activity costs this athlete, net kcal per kg of body weight.
type rates struct {
	step, cardioMinute, liftingDay float64
	kinds                          []athlete.CardioKind // that there are and no joint forbids
}

// rates reckons with the weight of a date: all but watts is in proportion to mass.
func (f *facts) rates(on civil.Date) (rates, error) {
	b := f.bodyOn(on)
	r := rates{kinds: f.cardioKinds(on)}
	thousand := 1000.0
	walked, err := cardio.DayEnergy(&athlete.Day{Steps: &thousand}, b, cardio.Lifting{})
	if err != nil {
		return r, err
	}
	r.step = walked.TotalKcal() / 1000 / b.WeightKg
	lifted, err := cardio.DayEnergy(&athlete.Day{}, b, cardio.Lifting{Minutes: f.trainingMinutes()})
	if err != nil {
		return r, err
	}
	r.liftingDay = lifted.TotalKcal() * float64(len(f.athlete.TrainingDays)) / 7 / b.WeightKg
	kinds := r.kinds
	if len(kinds) == 0 {
		kinds = []athlete.CardioKind{athlete.Walking}
	}
	best := math.Inf(1)
	for _, k := range kinds {
		rate, err := cardio.RateOf(athlete.CardioBout{Kind: k}, b.WeightKg)
		if err != nil {
			return r, err
		}
		if cost := f.fatigue.PerKcal(k, rate.MET, 0.5); cost < best {
			best, r.cardioMinute = cost, rate.NetKcalPerMin/b.WeightKg
		}
	}
	return r, nil
}

// activity is each logged day's activity, kcal per kg; NaN where neither steps
// nor cardio is logged. The notes say what of the last fortnight could not be taken as
// it is logged.
func (f *facts) activity(habitSteps float64, asOf civil.Date) (perKg []float64, notes []string, err error) {
	const fortnight = 14
	perKg = make([]float64, len(f.days))
	for i := range f.days {
		d := f.days[i]
		if d.Steps == nil && len(d.Cardio) == 0 {
			perKg[i] = math.NaN()
			continue
		}
		if d.Steps == nil {
			d.Steps = &habitSteps
		}
		b := f.bodyOn(d.Date)
		cost, err := cardio.DayEnergy(&d, b, f.lifting(d.Date))
		if err != nil {
			return nil, nil, err
		}
		perKg[i] = cost.TotalKcal() / b.WeightKg
		if asOf.DaysSince(d.Date) < fortnight {
			for _, n := range cost.Notes {
				notes = append(notes, d.Date.String()+": "+n)
			}
		}
	}
	return perKg, notes, nil
}

// compositions turns measurements into body fat with the error of each method.
// What cannot be read is left out with the reason.
func (f *facts) compositions(asOf civil.Date) (out []reading.Composition, notes []string) {
	a := &f.athlete
	for _, m := range slices.Concat(a.BodyFat, f.measurements) {
		if m.Date > asOf || m.BodyFatPct == nil && len(m.FoldsMm) == 0 && len(m.GirthsCm) == 0 {
			continue
		}
		weight := a.WeightKg
		if m.WeightKg != nil {
			weight = *m.WeightKg
		}
		v, err := physiology.BodyFatFromMeasurement(m, a.Sex, float64(a.BirthDate.YearsUntil(m.Date)), a.HeightCm, weight)
		if err != nil {
			notes = append(notes, "The measurement of "+m.Date.String()+" was left out: "+err.Error())
			continue
		}
		e, err := physiology.MethodError(m.Method)
		if err != nil {
			notes = append(notes, "The measurement of "+m.Date.String()+" was left out: "+err.Error())
			continue
		}
		c := reading.Composition{
			Date: m.Date, Series: m.Series(), BodyFatPct: v.Value, ReadingSD: e.ReadingSD, BiasSD: e.BiasSD,
		}
		for _, own := range a.MethodErrors {
			if own.Series == c.Series {
				c.ReadingSD, c.BiasSD = own.ReadingSD, own.BiasSD
			}
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(x, y reading.Composition) int { return int(x.Date - y.Date) })
	return out, notes
}

// current is the prescription that stands on a date, nil where none does.
func (f *facts) current(on civil.Date) *athlete.Prescription {
	var found *athlete.Prescription
	for i := range f.prescriptions {
		if f.prescriptions[i].From <= on {
			found = &f.prescriptions[i]
		}
	}
	return found
}

// levers are what can be asked of the athlete, from where they stand.
func (f *facts) levers(r rates, on civil.Date, current *athlete.Prescription) season.Levers {
	a := &f.athlete
	l := season.Levers{
		StepsNow: a.StepsPerDay, StepsHabit: a.StepsPerDay, StepsMax: a.StepsMax(), StepKcalPerKg: r.step,
		CardioNow: a.CardioMinutesPerWeek, CardioHabit: a.CardioMinutesPerWeek, CardioMax: math.Max(a.CardioMinutesMax, a.CardioMinutesPerWeek),
		CardioKcalPerKgMin: r.cardioMinute, LiftingKcalPerKgDay: r.liftingDay,
	}
	if current != nil {
		if m := current.CardioMinutes(); m > 0 {
			l.CardioKcalPerKgMin = 0
			for _, c := range current.Cardio {
				l.CardioKcalPerKgMin += f.minuteKcalPerKg(c, f.bodyOn(on).WeightKg) * c.MinutesPerWeek / m
			}
		}
		l.StepsNow, l.CardioNow = current.Steps, current.CardioMinutes()
		l.StepsMax = math.Max(l.StepsMax, l.StepsNow)
		l.CardioMax = math.Max(l.CardioMax, l.CardioNow)
	}
	// What hurts is not asked for more of.
	if len(r.kinds) == 0 {
		l.CardioMax = l.CardioNow
	}
	if f.barred(athlete.Walking, on) != "" {
		l.StepsMax = l.StepsNow
	}
	return l
}
