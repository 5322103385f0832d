package training_test

import (
	"testing"

	"glidepath/athlete"
	"glidepath/training"

	"pgregory.net/rapid"
)

func set(day int, exercise string, rir float64) athlete.Set {
	return athlete.Set{Date: start.AddDays(day), Exercise: exercise, WeightKg: 50, Reps: 10, RIR: &rir}
}

// Direct sets count 1 and indirect 0.5 (Pelland et al. 2024, preprint).
func TestVolumeCountsFractionally(t *testing.T) {
	sets := []athlete.Set{
		set(0, "bench press", 2),
		set(0, "bench press", 5), // too easy to be hard
		{Date: start, Exercise: "bench press", WeightKg: 50, Reps: 10},
		set(2, "triceps pushdown", 1),
		set(3, "zercher carry", 1),
		set(3, "Zercher Carry", 1),
		{Date: start.AddDays(4), Exercise: "leg extension", WeightKg: 20, Reps: 10, Side: "left"},
		{Date: start.AddDays(4), Exercise: "leg extension", WeightKg: 20, Reps: 10, Side: "right"},
		set(14, "squat", 0),
		set(21, "squat", 0), // outside
	}
	v := training.Standard().Volume(sets, start, start.AddDays(20))
	if len(v.Weeks) != 3 {
		t.Fatalf("%d weeks, want 3, the empty one included", len(v.Weeks))
	}
	w := v.Weeks[0]
	// ISO 8601: Monday 2025-01-06 begins week 2 of 2025.
	if w.Monday != start || w.Year != 2025 || w.Week != 2 {
		t.Errorf("week %d of %d from %s", w.Week, w.Year, w.Monday)
	}
	for muscle, want := range map[athlete.Muscle]float64{
		athlete.Chest: 2, athlete.Triceps: 2, athlete.Shoulders: 1, athlete.Quadriceps: 1, athlete.Back: 0,
	} {
		if got := w.For(muscle); got != want {
			t.Errorf("%s: %v hard sets, want %v", muscle, got, want)
		}
	}
	if w.Sets != 8 || w.HardSets != 7 || w.TonnageKg != 6*500+2*200 {
		t.Errorf("%d sets, %d hard, %.0f kg; want 8, 7 and 3400", w.Sets, w.HardSets, w.TonnageKg)
	}
	if v.Weeks[1].Sets != 0 || v.Weeks[2].For(athlete.Quadriceps) != 1 || v.Weeks[2].For(athlete.Glutes) != 1 {
		t.Errorf("later weeks: %+v", v.Weeks[1:])
	}
	if len(v.Uncounted) != 1 || v.Uncounted[0] != (training.Unknown{Exercise: "zercher carry", Sets: 2}) {
		t.Errorf("uncounted = %+v", v.Uncounted)
	}
}

// Every set within the dates falls into one week, and the weeks cover the dates.
func TestVolumeLosesNoSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := start.AddDays(rapid.IntRange(0, 400).Draw(t, "from"))
		to := from.AddDays(rapid.IntRange(0, 60).Draw(t, "length"))
		var sets []athlete.Set
		inside := 0
		for range rapid.IntRange(0, 50).Draw(t, "sets") {
			s := set(rapid.IntRange(0, 470).Draw(t, "day"), "squat", 1)
			sets = append(sets, s)
			if s.Date >= from && s.Date <= to {
				inside++
			}
		}
		v := training.Standard().Volume(sets, from, to)
		counted := 0
		for _, w := range v.Weeks {
			counted += w.Sets
		}
		if counted != inside {
			t.Fatalf("%d sets counted of %d", counted, inside)
		}
		first, last := v.Weeks[0].Monday, v.Weeks[len(v.Weeks)-1].Monday
		if first > from || last.AddDays(6) < to || from.DaysSince(first) > 6 {
			t.Fatalf("weeks from %s to %s do not just cover %s to %s", first, last, from, to)
		}
	})
}

// Direct and indirect sets apart, tonnage by muscle, and the splits, worked by hand.
// 100 kg for 4 with 1 in reserve is 5 to failure: heavy and near.
func TestVolumeSplits(t *testing.T) {
	one := func(exercise string, kg float64, reps int, rir *float64) athlete.Set {
		return athlete.Set{Date: start, Exercise: exercise, WeightKg: kg, Reps: reps, RIR: rir}
	}
	left := one("dumbbell row", 30, 12, new(3.0))
	left.Side = "left"
	sets := []athlete.Set{
		one("bench press", 100, 4, new(1.0)),
		one("bench press", 80, 8, new(2.0)),
		one("bench press", 60, 8, new(6.0)), // too easy to be hard
		one("triceps pushdown", 30, 14, nil),
		left,
	}
	w := training.Standard().Volume(sets, start, start.AddDays(6)).Weeks[0]
	want := map[athlete.Muscle]training.MuscleVolume{
		athlete.Chest:     {Direct: 2, TonnageKg: 400 + 640 + 480},
		athlete.Triceps:   {Direct: 1, Indirect: 2, TonnageKg: 0.5*(400+640+480) + 420},
		athlete.Shoulders: {Indirect: 2.5, TonnageKg: 0.5*(400+640+480) + 0.5*360},
		athlete.Back:      {Direct: 0.5, TonnageKg: 360},
		athlete.Biceps:    {Indirect: 0.5, TonnageKg: 180},
	}
	for i, got := range w.ByMuscle {
		m := want[got.Muscle]
		m.Muscle = got.Muscle
		if got != m {
			t.Errorf("%s: %+v, want %+v", got.Muscle, got, m)
		}
		if sum := got.Direct + training.Indirect*got.Indirect; sum != w.Muscles[i].Sets || w.Muscles[i].Muscle != got.Muscle {
			t.Errorf("%s: %v direct and indirect, %v in all", got.Muscle, sum, w.Muscles[i])
		}
	}
	if w.Reps != (training.RepsSplit{Heavy: 1, Middle: 1, Light: 1.5}) {
		t.Errorf("by repetitions %+v", w.Reps)
	}
	if w.Effort != (training.EffortSplit{Near: 1, Short: 1.5, Unknown: 1}) {
		t.Errorf("by effort %+v", w.Effort)
	}
}

// Exercises are gathered under one name, whatever the spelling, as a weekly mean.
func TestLoggedAndPlanned(t *testing.T) {
	sets := []athlete.Set{
		set(0, "Bench", 2), set(0, "bench press (barbell)", 2), set(7, "bench press", 1), set(7, "bench press", 6),
		set(1, "paused squat", 1), set(8, "paused squats", 1), set(2, "zercher carry", 1), set(20, "bench press", 1),
	}
	got := training.Standard().Logged(sets, start, start.AddDays(13))
	if len(got) != 2 || got[0].Name != "bench press" || got[0].Sets != 1.5 || got[1].Name != "paused squat" || got[1].Sets != 1 ||
		got[1].Exercise.Name != "back squat" {
		t.Errorf("logged %+v", got)
	}
	week := func(deload bool, sets int) athlete.ProgrammeWeek {
		return athlete.ProgrammeWeek{Deload: deload, Sessions: []athlete.PlannedSession{
			{Name: "A", Exercises: []athlete.PlannedExercise{{Exercise: "squat", Sets: sets}, {Exercise: "leg extension", Sets: 3, RIR: new(6.0)}}},
			{Name: "B", Exercises: []athlete.PlannedExercise{{Exercise: "back squat", Sets: 2}}},
		}}
	}
	p := &athlete.Programme{From: start, Weeks: []athlete.ProgrammeWeek{week(false, 4), week(true, 1), week(false, 5)}}
	for ago, want := range []float64{6, 7, 7, 6} { // the easy week stands for the next
		got := training.Standard().Planned(p, start.AddDays(7*ago))
		if len(got) != 1 || got[0].Name != "back squat" || got[0].Sets != want {
			t.Errorf("week %d: %+v, want %v sets of back squat and no easy ones", ago, got, want)
		}
	}
	if got := training.Standard().Planned(p, start.AddDays(-7)); got != nil {
		t.Errorf("before it begins: %+v", got)
	}
	muscles := training.MuscleSetsOf(training.Standard().Planned(p, start))
	if len(muscles) != len(athlete.Muscles()) || muscles[5] != (athlete.MuscleSets{Muscle: athlete.Quadriceps, Sets: 6}) {
		t.Errorf("muscles %+v", muscles)
	}
}
