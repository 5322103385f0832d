package storetest

import (
	"math"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
)

func dayTests() []namedTest {
	return []namedTest{
		{"RoundTrip", func(s *suite) {
			s.putAthletes("ann")
			want := []athlete.Day{fullDay(monday), {Date: monday.AddDays(1), Steps: new(0.0)}}
			m := s.putDays("ann", want...)
			same(s, "merge", m, app.Merge{Added: 23})
			same(s, "days", s.days("ann"), want)
		}},
		{"InOrderAndInRange", dayRange},
		{"EachFieldMerges", eachField},
		{"FieldsOfOneDayFromTwoSources", func(s *suite) {
			s.putAthletes("ann")
			s.putDays("ann", athlete.Day{Date: monday, WeightKg: new(68.0), Notes: "scale moved"})
			m := s.putDays("ann", athlete.Day{Date: monday, EnergyKcal: new(2000.0), WeightKg: new(68.0)})
			same(s, "merge", m, app.Merge{Added: 1, Same: 1})
			want := athlete.Day{Date: monday, WeightKg: new(68.0), EnergyKcal: new(2000.0), Notes: "scale moved"}
			same(s, "days", s.days("ann"), []athlete.Day{want})
		}},
		{"AgainIsNoChange", func(s *suite) {
			s.putAthletes("ann")
			file := []athlete.Day{fullDay(monday), fullDay(monday.AddDays(1))}
			s.putDays("ann", file...)
			same(s, "merge", s.putDays("ann", file...), app.Merge{Same: 44})
			same(s, "days", s.days("ann"), file)
			same(s, "corrections", len(s.corrections("ann")), 0)
		}},
		{"SameDateTwiceInOneCall", func(s *suite) {
			s.putAthletes("ann")
			m := s.putDays("ann",
				athlete.Day{Date: monday, WeightKg: new(68.0)}, athlete.Day{Date: monday, WeightKg: new(68.2), Steps: new(1.0)})
			same(s, "merge", m, app.Merge{Added: 2, Corrected: 1})
			same(s, "days", s.days("ann"), []athlete.Day{{Date: monday, WeightKg: new(68.2), Steps: new(1.0)}})
		}},
		{"NothingRecordedIsNoDay", func(s *suite) {
			s.putAthletes("ann")
			same(s, "merge", s.putDays("ann", athlete.Day{Date: monday}), app.Merge{})
			same(s, "days", len(s.days("ann")), 0)
		}},
		{"CorrectedWeightDropsTheWordOnIt", wordOnWeight},
		{"InvalidIsRefusedWhole", invalidDays},
		{"OwnToEachAthlete", func(s *suite) {
			s.putAthletes("ann", "ben")
			s.putDays("ann", athlete.Day{Date: monday, WeightKg: new(68.0)})
			same(s, "merge", s.putDays("ben", athlete.Day{Date: monday, WeightKg: new(90.0)}), app.Merge{Added: 1})
			same(s, "days", s.days("ann"), []athlete.Day{{Date: monday, WeightKg: new(68.0)}})
			same(s, "corrections", len(s.corrections("ben")), 0)
		}},
		{"ArgumentIsLeftAlone", func(s *suite) {
			s.putAthletes("ann")
			days := []athlete.Day{{Date: monday.AddDays(1), WeightKg: new(68.0)}, {Date: monday, WeightKg: new(67.0)}}
			s.putDays("ann", days...)
			same(s, "argument", days, []athlete.Day{
				{Date: monday.AddDays(1), WeightKg: new(68.0)}, {Date: monday, WeightKg: new(67.0)},
			})
		}},
		{"MergesLikeTheModel", likeModel},
	}
}

func dayRange(s *suite) {
	s.putAthletes("ann")
	var file []athlete.Day
	for _, offset := range []int{9, 2, 5, -400, 0, 7} {
		file = append(file, athlete.Day{Date: monday.AddDays(offset), Steps: new(float64(offset + 1000))})
	}
	s.putDays("ann", file...)
	for _, c := range []struct {
		from, to int
		want     []int
	}{
		{-400, 9, []int{-400, 0, 2, 5, 7, 9}},
		{0, 7, []int{0, 2, 5, 7}},
		{1, 6, []int{2, 5}},
		{5, 5, []int{5}},
		{3, 4, nil},
		{7, 0, nil},
	} {
		days := get(s, func(tx app.Tx) ([]athlete.Day, error) {
			return tx.Days("ann", monday.AddDays(c.from), monday.AddDays(c.to))
		})
		var got []int
		for _, d := range days {
			got = append(got, d.Date.DaysSince(monday))
		}
		same(s, "offsets", got, c.want)
	}
}

// fieldCase is a field with two different values, and how a correction from the
// first to the second reads.
type fieldCase struct {
	name     string
	a, b     athlete.Day
	old, new string
}

func fieldCases() []fieldCase {
	cases := []fieldCase{
		{
			"cycle_day", athlete.Day{CycleDay: new(3)}, athlete.Day{CycleDay: new(4)}, "3", "4",
		}, {
			"day_type", athlete.Day{DayType: athlete.RestDay}, athlete.Day{DayType: athlete.RefeedDay}, "rest", "refeed",
		}, {
			"pain_where", athlete.Day{PainWhere: athlete.Knee}, athlete.Day{PainWhere: athlete.LowerBack}, "knee", "lower back",
		}, {
			"notes", athlete.Day{Notes: "slept badly"}, athlete.Day{Notes: "slept well"}, "slept badly", "slept well",
		}, {
			"weight_stands",
			athlete.Day{WeightStands: &athlete.WeightStands{Use: true}},
			athlete.Day{WeightStands: &athlete.WeightStands{Who: "Ann"}},
			"used", "left out by Ann",
		}, {
			"cardio",
			athlete.Day{Cardio: []athlete.CardioBout{{Kind: athlete.Rowing, Minutes: 20}}},
			athlete.Day{Cardio: []athlete.CardioBout{{Kind: athlete.Rowing, Minutes: 20, Watts: new(150.0)}}},
			`[{"kind":"rowing","minutes":20}]`, `[{"kind":"rowing","minutes":20,"watts":150}]`,
		},
	}
	numbers := []struct {
		name string
		set  func(*athlete.Day, *float64)
	}{
		{"weight_kg", func(d *athlete.Day, v *float64) { d.WeightKg = v }},
		{"energy_kcal", func(d *athlete.Day, v *float64) { d.EnergyKcal = v }},
		{"protein_g", func(d *athlete.Day, v *float64) { d.ProteinG = v }},
		{"carbohydrate_g", func(d *athlete.Day, v *float64) { d.CarbohydrateG = v }},
		{"fat_g", func(d *athlete.Day, v *float64) { d.FatG = v }},
		{"fibre_g", func(d *athlete.Day, v *float64) { d.FibreG = v }},
		{"sodium_mg", func(d *athlete.Day, v *float64) { d.SodiumMg = v }},
		{"steps", func(d *athlete.Day, v *float64) { d.Steps = v }},
		{"sleep_h", func(d *athlete.Day, v *float64) { d.SleepH = v }},
		{"hunger", func(d *athlete.Day, v *float64) { d.Hunger = v }},
		{"fatigue", func(d *athlete.Day, v *float64) { d.Fatigue = v }},
		{"soreness", func(d *athlete.Day, v *float64) { d.Soreness = v }},
		{"motivation", func(d *athlete.Day, v *float64) { d.Motivation = v }},
		{"mood", func(d *athlete.Day, v *float64) { d.Mood = v }},
		{"pain", func(d *athlete.Day, v *float64) { d.Pain = v }},
		{"resting_pulse", func(d *athlete.Day, v *float64) { d.RestingPulse = v }},
	}
	for _, n := range numbers {
		low, high, old, new := 2.0, 7.5, "2", "7.5"
		if n.name == "weight_kg" || n.name == "resting_pulse" { // neither can be as low
			low, high, old, new = 60.1, 60.0, "60.1", "60"
		}
		c := fieldCase{name: n.name, old: old, new: new}
		n.set(&c.a, &low)
		n.set(&c.b, &high)
		cases = append(cases, c)
	}
	return cases
}

func eachField(s *suite) {
	s.putAthletes("ann")
	for i, c := range fieldCases() {
		on := monday.AddDays(i)
		c.a.Date, c.b.Date = on, on
		for step, put := range []struct {
			day, stored athlete.Day
			want        app.Merge
		}{
			{c.a, c.a, app.Merge{Added: 1}},
			{c.a, c.a, app.Merge{Same: 1}},
			{athlete.Day{Date: on}, c.a, app.Merge{}},
			{c.b, c.b, app.Merge{Corrected: 1}},
			{c.b, c.b, app.Merge{Same: 1}},
		} {
			if got := s.putDays("ann", put.day); got != put.want {
				s.Fatalf("%s, step %d: merge %+v, want %+v", c.name, step, got, put.want)
			}
			days := get(s, func(tx app.Tx) ([]athlete.Day, error) { return tx.Days("ann", on, on) })
			same(s, c.name, days, []athlete.Day{put.stored})
		}
	}
	var want []app.Correction
	for i, c := range fieldCases() {
		want = append(want, app.Correction{
			Date: monday.AddDays(i), Field: c.name, Old: c.old, New: c.new,
			From: source.Name, At: source.At, Who: source.Who,
		})
	}
	same(s, "corrections", s.corrections("ann"), want)
}

func wordOnWeight(s *suite) {
	s.putAthletes("ann")
	leave := &athlete.WeightStands{Who: "Ann"}
	s.putDays("ann", athlete.Day{Date: monday, WeightKg: new(150.0), WeightStands: leave})
	m := s.putDays("ann", athlete.Day{Date: monday, WeightKg: new(150.0)})
	same(s, "merge of the same weight", m, app.Merge{Same: 1})
	m = s.putDays("ann", athlete.Day{Date: monday, WeightKg: new(68.0)})
	same(s, "merge of another", m, app.Merge{Corrected: 2})
	same(s, "days", s.days("ann"), []athlete.Day{{Date: monday, WeightKg: new(68.0)}})
	var read []string
	for _, c := range s.corrections("ann") {
		read = append(read, c.Field+": "+c.Old+" -> "+c.New)
	}
	same(s, "corrections", read, []string{"weight_kg: 150 -> 68", "weight_stands: left out by Ann -> "})

	m = s.putDays("ann", athlete.Day{Date: monday, WeightKg: new(67.0), WeightStands: leave})
	same(s, "merge with a new word", m, app.Merge{Added: 1, Corrected: 1})
}

func invalidDays(s *suite) {
	s.putAthletes("ann")
	good := athlete.Day{Date: monday, WeightKg: new(68.0)}
	for name, bad := range map[string]athlete.Day{
		"no date":    {WeightKg: new(68.0)},
		"NaN":        {Date: monday, Steps: new(math.NaN())},
		"infinite":   {Date: monday, EnergyKcal: new(math.Inf(1))},
		"too heavy":  {Date: monday, WeightKg: new(5000.0)},
		"day type":   {Date: monday, DayType: "lazy"},
		"NaN within": {Date: monday, Cardio: []athlete.CardioBout{{Kind: athlete.Running, Minutes: 1, SpeedKmh: new(math.NaN())}}},
	} {
		err := s.store.Write(s.Context(), func(tx app.Tx) error {
			return dropMerge(tx.PutDays("ann", []athlete.Day{good, bad}, source))
		})
		if fault.KindOf(err) != fault.Invalid {
			s.Fatalf("%s: %v (kind %q), want a fault of kind invalid", name, err, fault.KindOf(err))
		}
	}
	same(s, "days", len(s.days("ann")), 0)
}
