package training_test

import (
	"math"
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

func sessions(loads ...float64) []athlete.Session {
	var out []athlete.Session
	for i, l := range loads {
		if l > 0 {
			out = append(out, athlete.Session{Date: start.AddDays(i), RPE: 5, Minutes: l / 5})
		}
	}
	return out
}

// Foster's load, monotony and strain (Foster 1998, Med Sci Sports Exerc 30:1164).
// The week is invented; the figures are worked from the definitions, with the
// population standard deviation: load 1810, mean 258.571, SD 203.763.
func TestLoad(t *testing.T) {
	w := training.Load(append(sessions(420, 225, 0, 525, 160, 480, 0),
		athlete.Session{Date: start.AddDays(7), RPE: 9, Minutes: 90}), start)
	if w.Load != 1810 || math.Abs(w.Monotony-1.2690) > 5e-5 || math.Abs(w.Strain-2296.9) > 0.05 {
		t.Errorf("load %.0f, monotony %.4f, strain %.1f; want 1810, 1.2690, 2296.9", w.Load, w.Monotony, w.Strain)
	}
}

func TestLoadAtTheEdges(t *testing.T) {
	even := training.Load(sessions(300, 300, 300, 300, 300, 300, 300), start)
	if even.Monotony != training.MonotonyCap || even.Strain != 21000 {
		t.Errorf("days all alike: monotony %v, strain %v; want the cap, 10, and 21000", even.Monotony, even.Strain)
	}
	if none := training.Load(nil, start); none.Load != 0 || none.Monotony != 0 || none.Strain != 0 {
		t.Errorf("no training: %+v", none)
	}
	twice := training.Load(append(sessions(100), sessions(200)...), start)
	if twice.Days[0] != 300 {
		t.Errorf("two sessions on a day: %v, want 300", twice.Days[0])
	}
}
