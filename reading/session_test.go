package reading

import (
	"math"
	"slices"
	"testing"

	"glidepath/athlete"
	"glidepath/scenario"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Whatever is logged, corrected or taken back, and in whatever order, a session
// gives what a fresh Read gives, to the bit.
func TestSessionIsRead(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sim := simulate(rapid.Uint64Range(0, 50).Draw(rt, "season"), 60)
		all := sim.in
		if rapid.Bool().Draw(rt, "no carbohydrate") {
			for i := range all.Days {
				all.Days[i].CarbohydrateG = nil
			}
		}
		if rapid.Bool().Draw(rt, "no intake at first") {
			for i := range all.Days {
				all.Days[i].EnergyKcal, all.Days[i].CarbohydrateG = nil, nil
			}
		}
		all.Athlete.MenstrualCycle = rapid.Bool().Draw(rt, "cycle")
		days := rapid.IntRange(20, 50).Draw(rt, "days")
		var session Session
		for range rapid.IntRange(2, 8).Draw(rt, "readings") {
			change(rt, &all, &days)
			in := all
			in.AsOf = all.Athlete.WeighedOn.AddDays(days - 1)
			want, err := Read(in, session.Settings)
			if err != nil {
				rt.Fatal(err)
			}
			got, err := session.Read(in)
			if err != nil {
				rt.Fatal(err)
			}
			if d := cmp.Diff(want, got, cmp.AllowUnexported(want.Now.Model)); d != "" {
				rt.Fatalf("the session differs from a fresh reading:\n%s", d)
			}
		}
	})
}

// change does what a coach or an athlete may do between two readings.
func change(rt *rapid.T, in *Input, days *int) {
	in.Days, in.Activity = slices.Clone(in.Days), slices.Clone(in.Activity)
	i := rapid.IntRange(0, *days-1).Draw(rt, "day")
	d := &in.Days[i]
	switch rapid.SampledFrom([]string{"later", "earlier", "weight", "no weight", "intake", "no intake", "activity", "cycle day", "scan", "plan", "profile"}).Draw(rt, "change") {
	case "later":
		*days = min(len(in.Days), *days+rapid.IntRange(1, 7).Draw(rt, "days later"))
	case "earlier":
		*days = max(10, *days-3)
	case "weight":
		d.WeightKg = new(rapid.Float64Range(80, 86).Draw(rt, "kg"))
	case "no weight":
		d.WeightKg = nil
	case "intake":
		d.EnergyKcal = new(rapid.Float64Range(1500, 3500).Draw(rt, "kcal"))
	case "no intake":
		d.EnergyKcal, d.CarbohydrateG = nil, nil
	case "activity":
		in.Activity[i] = math.NaN()
	case "cycle day":
		d.CycleDay = new(1)
	case "scan":
		in.Composition = append(slices.Clone(in.Composition), Composition{
			d.Date, rapid.SampledFrom([]string{"scan", "calipers"}).Draw(rt, "series"), 15, 1.2, 2.5,
		})
	case "plan":
		in.Prescriptions = []athlete.Prescription{{From: d.Date, Days: []athlete.DayPrescribed{{PerWeek: 7, EnergyKcal: 2400}}}}
	case "profile":
		in.HabitKcalPerKg++
	}
}

// A session starts again at the first new day where nothing reaches further
// back, and from the first day where something does.
func TestSessionKeepsWhatHolds(t *testing.T) {
	sim := simulate(3, 60)
	for i := range sim.in.Days {
		sim.in.Days[i].CarbohydrateG = nil
	}
	in := sim.in
	var s Session
	read := func(days int) {
		t.Helper()
		in.AsOf = in.Athlete.WeighedOn.AddDays(days - 1)
		if _, err := s.Read(in); err != nil {
			t.Fatal(err)
		}
	}
	read(50)
	first := s.before
	for day := range 60 { // no unlogged day, whose guess would reach ahead
		if in.Days[day].EnergyKcal == nil {
			in.Days[day].EnergyKcal = new(2300.0)
		}
	}
	read(51)
	if same := s.before.sameDays(first); same > 10 {
		t.Errorf("intake was filled in from early on, and yet %d days are the same", same)
	}
	first = s.before
	read(52)
	if same := s.before.sameDays(first); same != 51 {
		t.Errorf("a day later %d days are the same, want 51", same)
	}
	in.Days[40].WeightKg = new(*in.Days[40].WeightKg + 0.3)
	first = s.before
	read(52)
	if same := s.before.sameDays(first); same != 40 {
		t.Errorf("after a late weight for day 40, %d days are the same", same)
	}
}

// benchSeason is a simulated season of 182 days with a coach's calipers, of which
// the scale's noise is not the usual one: a fresh reading runs twice.
func benchSeason(b *testing.B) Input {
	b.Helper()
	s := scenario.Simulate(scenario.Draw(4, scenario.DrawOptions{Weeks: 26, Protocol: scenario.Losing}), 4)
	in := input(b, &s, 182)
	var twice Session
	if _, err := twice.Read(in); err != nil || twice.second.known == 0 {
		b.Fatal("the season's noise is the usual one", err)
	}
	return in
}

func BenchmarkRead(b *testing.B) {
	in := benchSeason(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(in, Settings{}); err != nil {
			b.Fatal(err)
		}
	}
}

// The same season read again and again: as a day is added to it, and with
// its last day changed.
func BenchmarkSession(b *testing.B) {
	for _, c := range []struct {
		name   string
		change func(in *Input, last *athlete.Day, by int)
	}{
		{"a day more", func(in *Input, last *athlete.Day, by int) { in.AsOf = last.Date.AddDays(by - 1) }},
		{"weight", func(_ *Input, last *athlete.Day, by int) { last.WeightKg = new(78 + float64(by)/1000) }},
		{"carbohydrate", func(_ *Input, last *athlete.Day, by int) { last.CarbohydrateG = new(230 + float64(by)) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			in := benchSeason(b)
			last := &in.Days[len(in.Days)-1]
			var s Session
			b.ReportAllocs()
			by := 0
			for b.Loop() {
				by = 1 - by
				c.change(&in, last, by)
				if _, err := s.Read(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
