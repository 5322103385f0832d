package training_test

import (
	"testing"
	"time"

	"glidepath/athlete"
	"glidepath/training"

	"pgregory.net/rapid"
)

func lift(name string, sets int) athlete.PlannedExercise {
	return athlete.PlannedExercise{Exercise: name, Sets: sets, RepsLow: 6, RepsHigh: 8, RIR: new(2.0)}
}

func weekOf(sessions ...[]athlete.PlannedExercise) athlete.ProgrammeWeek {
	var w athlete.ProgrammeWeek
	for i, e := range sessions {
		w.Sessions = append(w.Sessions, athlete.PlannedSession{
			Name: string(rune('A' + i)), Day: new(athlete.Weekday(time.Monday + time.Weekday(2*i))), Exercises: e,
		})
	}
	return w
}

// setsIn counts the sets of a lift over a week's days.
func setsIn(p *athlete.Programme, week int, name string) (n int) {
	for i := range 7 {
		for _, s := range p.SessionsOn(p.From.Monday().AddDays(7*week+i), nil) {
			for _, e := range s.Exercises {
				if e.Exercise == name {
					n += e.Sets
				}
			}
		}
	}
	return n
}

func TestFewerSetsStandInEveryWeek(t *testing.T) {
	p := &athlete.Programme{From: start, Name: "x", Weeks: []athlete.ProgrammeWeek{
		weekOf([]athlete.PlannedExercise{lift("back squat", 4), lift("leg extension", 3)}, []athlete.PlannedExercise{lift("leg extensions", 4), lift("lunge", 2)}),
		weekOf([]athlete.PlannedExercise{lift("leg extension", 1)}),
	}}
	got := training.Standard().Follow(p, start.AddDays(9), &training.Proposal{Action: training.FewerSets, Exercises: []training.ExerciseChange{
		{Exercise: "leg extension", SetsFrom: 7, SetsTo: 4}, {Exercise: "lunge", SetsFrom: 2, SetsTo: 0},
	}})
	if len(got) != 1 || got[0].From != start.AddDays(9) {
		t.Fatalf("versions %+v", got)
	}
	next := &got[0] // begins on a Wednesday of what was the second week
	if a, b, c := setsIn(next, 1, "leg extension"), setsIn(next, 1, "leg extensions"), setsIn(next, 2, "leg extension"); a != 2 || b != 2 || c != 1 {
		t.Errorf("leg extensions: %d and %d in the full week, %d in the other; want 2, 2 and the one that there was", a, b, c)
	}
	if setsIn(next, 1, "lunge") != 0 || setsIn(next, 1, "back squat") != 4 {
		t.Error("lunges are to go, squats to stay")
	}
	if setsIn(p, 0, "lunge") != 2 || setsIn(p, 0, "leg extensions") != 4 {
		t.Error("the old version changed")
	}
	if err := next.Validate(); err != nil {
		t.Error(err)
	}
	if n := len(training.Standard().Follow(p, start, &training.Proposal{Action: training.FewerSets, Exercises: []training.ExerciseChange{
		{Exercise: "deadlift", SetsFrom: 3, SetsTo: 1},
	}})); n != 0 {
		t.Errorf("%d versions of what is not in the programme", n)
	}
}

func TestASwapKeepsSetsAndRepetitions(t *testing.T) {
	p := &athlete.Programme{From: start, Name: "x", Weeks: []athlete.ProgrammeWeek{weekOf([]athlete.PlannedExercise{lift("Squats", 4)})}}
	got := training.Standard().Follow(p, start, &training.Proposal{Action: training.Swap, Exercises: []training.ExerciseChange{
		{Exercise: "back squat", SetsFrom: 4, SetsTo: 4, SwapTo: "hack squat"},
	}})
	if len(got) != 1 || setsIn(&got[0], 0, "hack squat") != 4 || setsIn(&got[0], 0, "Squats") != 0 {
		t.Errorf("versions %+v", got)
	}
}

func TestADeloadEndsByItself(t *testing.T) {
	p := &athlete.Programme{From: start, Name: "x", Weeks: []athlete.ProgrammeWeek{
		weekOf([]athlete.PlannedExercise{lift("back squat", 4)}), weekOf([]athlete.PlannedExercise{lift("deadlift", 3)}),
	}}
	on := start.AddDays(2) // a Wednesday
	got := training.Standard().Follow(p, on, &training.Proposal{Action: training.Deload, Days: 7})
	all := append([]athlete.Programme{*p}, got...)
	for i, want := range map[int]int{0: 4, 7: 2, 14: 4, 21: 3} { // Mondays: as it was, easy, as it was
		day := start.AddDays(i)
		n := 0
		for _, s := range athlete.ProgrammeOn(all, day, athlete.Prep).SessionsOn(day, nil) {
			n += s.Exercises[0].Sets
		}
		if n != want {
			t.Errorf("day %d has %d sets, want %d", i, n, want)
		}
	}
}

// Whatever is proposed, no exercise gains a set, and the programme stays valid.
func TestFollowNeverAdds(t *testing.T) {
	names := []string{"back squat", "leg press", "lunge", "bench press"}
	rapid.Check(t, func(t *rapid.T) {
		p := &athlete.Programme{From: start, Name: "x"}
		for range rapid.IntRange(1, 3).Draw(t, "weeks") {
			var sessions [][]athlete.PlannedExercise
			for range rapid.IntRange(1, 3).Draw(t, "sessions") {
				var es []athlete.PlannedExercise
				for range rapid.IntRange(1, 4).Draw(t, "exercises") {
					es = append(es, lift(rapid.SampledFrom(names).Draw(t, "name"), rapid.IntRange(1, 5).Draw(t, "sets")))
				}
				sessions = append(sessions, es)
			}
			p.Weeks = append(p.Weeks, weekOf(sessions...))
		}
		from := float64(rapid.IntRange(1, 9).Draw(t, "from"))
		change := &training.Proposal{
			Action: rapid.SampledFrom([]training.Action{training.FewerSets, training.Deload, training.Hold}).Draw(t, "action"), Days: 7,
			Exercises: []training.ExerciseChange{{Exercise: "back squat", SetsFrom: from, SetsTo: math0(from - float64(rapid.IntRange(0, 9).Draw(t, "less")))}},
		}
		for _, next := range training.Standard().Follow(p, start, change) {
			if err := next.Validate(); err != nil {
				t.Fatal(err)
			}
			for w := range p.Weeks {
				for _, name := range names {
					if is, was := setsIn(&next, w, name), setsIn(p, w+next.From.DaysSince(start)/7, name); is > was {
						t.Fatalf("%s has %d sets where it had %d", name, is, was)
					}
				}
			}
		}
	})
}

func math0(v float64) float64 { return max(0, v) }
