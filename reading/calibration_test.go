package reading

import (
	"math"
	"slices"
	"testing"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/physiology"
	"glidepath/scenario"
)

// input makes the filter's input of a simulated season as the use cases do.
func input(t testing.TB, s *scenario.Season, days int) Input {
	t.Helper()
	a := &s.Athlete
	asOf := s.Truth[0].Date.AddDays(days - 1)
	in := Input{Athlete: a, AsOf: asOf, Prescriptions: s.Prescriptions}
	body := cardio.Body{Sex: a.Sex, WeightKg: a.WeightKg, HeightCm: a.HeightCm}
	training := map[int]bool{}
	for _, d := range a.TrainingDays {
		training[int(d)] = true
	}
	lifting := func(on int) cardio.Lifting {
		if training[on] {
			return cardio.Lifting{Minutes: max(a.TrainingMinutes, 70)}
		}
		return cardio.Lifting{}
	}
	habit := 0.0
	for w := range 7 {
		c, err := cardio.DayEnergy(&athlete.Day{Steps: &a.StepsPerDay}, body, lifting(w))
		if err != nil {
			t.Fatal(err)
		}
		habit += c.TotalKcal() / 7 / a.WeightKg
	}
	in.HabitKcalPerKg = habit
	for i := range s.Days {
		d := s.Days[i]
		if d.Date > asOf {
			break
		}
		v := math.NaN()
		if d.Steps != nil {
			c, err := cardio.DayEnergy(&d, body, lifting(int(d.Date.Weekday())))
			if err != nil {
				t.Fatal(err)
			}
			v = c.TotalKcal() / a.WeightKg
		}
		in.Days = append(in.Days, d)
		in.Activity = append(in.Activity, v)
	}
	for _, m := range append(slices.Clone(a.BodyFat), s.Measurements...) {
		if m.Date > asOf {
			continue
		}
		e, err := physiology.MethodError(m.Method)
		if err != nil {
			t.Fatal(err)
		}
		v, err := physiology.BodyFatFromMeasurement(m, a.Sex, 30, a.HeightCm, a.WeightKg)
		if err != nil {
			continue
		}
		in.Composition = append(in.Composition, Composition{m.Date, m.Series(), v.Value, e.ReadingSD, e.BiasSD})
	}
	return in
}

// The truth here is package scenario's, which shares neither equations nor
// settings with the filter. Must hold: after 4 weeks of daily weights and 80 %
// of intake logged, the median error of expenditure on the reporting scale is
// under 120 kcal and the 90 % interval holds 85 to 95 % of the time.
func TestExpenditureAfterFourWeeks(t *testing.T) {
	const athletes = 400
	var errs []float64
	inside, inside50, fat := 0, 0, 0
	for seed := range uint64(athletes) {
		spec := scenario.Draw(seed, scenario.DrawOptions{Weeks: 4, WeightShare: 1, IntakeShare: 0.8})
		s := scenario.Simulate(spec, seed)
		r, err := Read(input(t, &s, 28), Settings{})
		if err != nil {
			t.Fatal(err)
		}
		last := r.Daily[len(r.Daily)-1]
		truth := 0.0
		for _, d := range s.Truth[len(s.Truth)-7:] {
			truth += d.ReportedScaleExpenditureKcal / 7
		}
		end := s.Truth[len(s.Truth)-1]
		errs = append(errs, math.Abs(last.ExpenditureKc.Value-truth))
		count(&inside, truth, last.ExpenditureKc.Low90, last.ExpenditureKc.High90)
		count(&inside50, truth, last.ExpenditureKc.Low50, last.ExpenditureKc.High50)
		count(&fat, end.FatKg, last.FatKg.Low90, last.FatKg.High90)
	}
	slices.Sort(errs)
	median := errs[len(errs)/2]
	t.Logf("median error %.0f kcal, 90th percentile %.0f; expenditure inside 90 %%: %.3f, 50 %%: %.3f; fat %.3f",
		median, errs[len(errs)*9/10], share(inside, athletes), share(inside50, athletes), share(fat, athletes))
	if median >= 120 {
		t.Errorf("median error of expenditure is %.0f kcal, want under 120", median)
	}
	if c := share(inside, athletes); c < 0.85 || c > 0.95 {
		t.Errorf("the 90 %% interval of expenditure holds %.3f, want 0.85 to 0.95", c)
	}
	if c := share(fat, athletes); c < 0.85 {
		t.Errorf("the 90 %% interval of fat holds %.3f", c)
	}
}

func share(n, of int) float64 { return float64(n) / float64(of) }

// count adds one where the interval holds v.
func count(n *int, v, low, high float64) {
	if low <= v && v <= high {
		*n++
	}
}
