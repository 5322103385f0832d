package reading

import (
	"math"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
)

// day is one day as the filter sees it: every gap filled, with how sure the
// filling is.
type day struct {
	date     civil.Date
	log      *athlete.Day // nil where nothing is logged
	input    dynamics.Input
	intakeSD float64 // of the day's energy, kcal
	// levelSD, kcal, is that of expenditure where nothing tells the level of intake,
	// neither reports nor a prescription. Then the filter learns the gap between
	// the two on a level that is only assumed, and expenditure stays what equations
	// expect. It is 0 elsewhere.
	levelSD      float64
	jumpSD       float64 // of the offset of expenditure by the next day, kcal, where the scale of intake changes
	week         lastWeek
	reported     bool
	water        dynamics.State // glycogen and fluid on the morning
	waterKg      float64        // their weight against baseline
	weight       float64        // NaN where there is none to use
	cycle        [2]float64     // cosine and sine of the menstrual phase; 0 without
	weekday      [2]float64
	compositions []Composition
}

// lastWeek is what is eaten and done in about a week, the day included.
type lastWeek struct{ energyKcal, activityKcalPerKg float64 }

// prescribed is the energy that stands on a date, 0 where nothing does.
func prescribed(ps []athlete.Prescription, on civil.Date) *athlete.Prescription {
	var found *athlete.Prescription
	for i := range ps {
		if ps[i].From <= on {
			found = &ps[i]
		}
	}
	return found
}

// intakeGuess is what an unlogged day is taken to have held: what the
// prescription says times how the athlete has followed it, or the mean of the
// reported days around. It is rounded (session.go says why).
type intakeGuess struct {
	logged bool      // there are enough reports to say how they are kept
	ratio  float64   // reported over prescribed
	local  []float64 // kcal, of each day
}

// fewReports are too few to go by.
const fewReports = 5

func guessIntake(in *Input, from civil.Date, n int, fallback float64) intakeGuess {
	sum := 0.0
	count, reports := 0, 0
	g := intakeGuess{ratio: 1, local: make([]float64, n)}
	reported := make([]float64, n)
	for i := range in.Days {
		d := &in.Days[i]
		if d.EnergyKcal == nil || d.Date < from || d.Date > in.AsOf {
			continue
		}
		reported[d.Date.DaysSince(from)] = *d.EnergyKcal
		reports++
		if p := prescribed(in.Prescriptions, d.Date); p != nil {
			sum += *d.EnergyKcal / p.MeanEnergyKcal()
			count++
		}
	}
	if g.logged = reports >= fewReports; count >= fewReports {
		g.ratio = roundTo(sum/float64(count), 0.01)
	}
	// A mean of reported days weighted by nearness, with a month's memory, both
	// ways in time.
	const memory = 0.95
	forward, weight := 0.0, 0.0
	ahead, aheadWeight := make([]float64, n), make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		forward, weight = memory*forward, memory*weight
		if reported[i] > 0 {
			forward += reported[i]
			weight++
		}
		ahead[i], aheadWeight[i] = forward, weight
	}
	back, backWeight := 0.0, 0.0
	for i := range n {
		total := back + ahead[i] + 0.3*fallback
		g.local[i] = roundTo(total/(backWeight+aheadWeight[i]+0.3), 10)
		back, backWeight = memory*back, memory*backWeight
		if reported[i] > 0 {
			back += reported[i]
			backWeight++
		}
	}
	return g
}

// track lays out every day from first to AsOf.
func (f *filter) track(first civil.Date) {
	in := f.in
	n := in.AsOf.DaysSince(first) + 1
	f.days = make([]day, n)
	for i := range f.days {
		d := &f.days[i]
		d.date = first.AddDays(i)
		d.weight = math.NaN()
		angle := 2 * math.Pi * float64(d.date.Weekday()-time.Sunday) / 7
		d.weekday = [2]float64{math.Cos(angle), math.Sin(angle)}
	}
	for i := range in.Days {
		if d := &in.Days[i]; d.Date >= first && d.Date <= in.AsOf {
			f.days[d.Date.DaysSince(first)].log = d
		}
	}
	for _, c := range in.Composition {
		if c.Date >= first && c.Date <= in.AsOf {
			d := &f.days[c.Date.DaysSince(first)]
			d.compositions = append(d.compositions, c)
		}
	}
	f.fillInputs(first)
	f.fillWater()
	f.fillCycle()
}

// unloggedExcess is how much more is eaten on days that go unlogged than on
// logged ones: people write down their good days (judgement).
const unloggedExcess = 1.03

func (f *filter) fillInputs(first civil.Date) {
	in := f.in
	guess := guessIntake(in, first, len(f.days), f.model.IntakeBaselineKcal)
	activity := make([]float64, len(f.days))
	for i := range activity {
		activity[i] = math.NaN()
	}
	for i := range in.Days {
		if d := &in.Days[i]; d.Date >= first && d.Date <= in.AsOf && i < len(in.Activity) {
			activity[d.Date.DaysSince(first)] = in.Activity[i]
		}
	}
	usual := in.HabitKcalPerKg
	for i := range f.days {
		d := &f.days[i]
		d.input.ActivityKcalPerKg = usual
		if v := activity[i]; !math.IsNaN(v) {
			d.input.ActivityKcalPerKg = v
			usual += 0.1 * (v - usual) // the habit follows what is logged
		}
		energy := guess.local[i]
		if p := prescribed(in.Prescriptions, d.date); p != nil {
			energy = guess.ratio * p.MeanEnergyKcal()
		} else if !guess.logged {
			d.levelSD = f.expenditureSD
		}
		if i > 0 && d.levelSD != f.days[i-1].levelSD {
			f.days[i-1].jumpSD = math.Hypot(f.expenditureSD, unknownGapKcal)
		}
		if guess.logged {
			energy *= unloggedExcess
		}
		d.intakeSD = f.set.IntakeUnknown * energy
		if d.log != nil && d.log.EnergyKcal != nil {
			energy = *d.log.EnergyKcal
			d.reported = true
			d.intakeSD = f.set.IntakeLogCV * energy
		}
		d.input.EnergyKcal = energy
		d.input.CarbohydrateKcal = f.carbohydrateShare * energy
		if d.log != nil && d.log.CarbohydrateG != nil {
			d.input.CarbohydrateKcal = 4 * *d.log.CarbohydrateG
		}
	}
	week := lastWeek{f.days[0].input.EnergyKcal, f.days[0].input.ActivityKcalPerKg}
	for i := range f.days {
		d := &f.days[i]
		week.energyKcal += (d.input.EnergyKcal - week.energyKcal) / 7
		week.activityKcalPerKg += (d.input.ActivityKcalPerKg - week.activityKcalPerKg) / 7
		d.week = week
	}
}

// carbohydrateShare is the mean share of energy from carbohydrate where both
// are logged, to a per cent (session.go says why); 45 % and not sure where they
// are not.
func carbohydrateShare(in *Input) (share float64, logged bool) {
	var carbohydrate, energy float64
	for i := range in.Days {
		d := &in.Days[i]
		if d.EnergyKcal != nil && d.CarbohydrateG != nil && d.Date <= in.AsOf {
			carbohydrate += 4 * *d.CarbohydrateG
			energy += *d.EnergyKcal
		}
	}
	if energy == 0 {
		return 0.45, false
	}
	return roundTo(math.Min(0.8, carbohydrate/energy), 0.01), true
}

// fillWater runs glycogen and fluid alone: they depend on the inputs, not on
// what is being learned.
func (f *filter) fillWater() {
	s := f.model.Fresh(15, 60, 0)
	for i := range f.days {
		d := &f.days[i]
		d.water = s
		d.waterKg = f.model.WaterKg(&s)
		f.model.Step(&s, d.input)
		s.FatKg, s.LeanKg = 15, f.model.LeanFromFatFree(60)
	}
}

// fillCycle sets the phase from the nearest logged cycle day before, or after.
func (f *filter) fillCycle() {
	if !f.cycle {
		return
	}
	length := f.in.Athlete.CycleLengthDays
	if length == 0 {
		length = 28
	}
	start, known := 0, false // index of a first day of bleeding
	set := func(i int) {
		phase := 2 * math.Pi * math.Mod(float64(i-start), length) / length
		f.days[i].cycle = [2]float64{math.Cos(phase), math.Sin(phase)}
	}
	for i := range f.days {
		if l := f.days[i].log; l != nil && l.CycleDay != nil {
			if !known {
				start, known = i-*l.CycleDay+1, true
				for j := range i {
					set(j)
				}
			}
			start = i - *l.CycleDay + 1
		}
		if known {
			set(i)
		}
	}
	f.cycleKnown = known
}
