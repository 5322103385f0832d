package athlete_test

import (
	"slices"
	"testing"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func day(d time.Weekday) *athlete.Weekday { return new(athlete.Weekday(d)) }

func planned(name string, on *athlete.Weekday) athlete.PlannedSession {
	return athlete.PlannedSession{Name: name, Day: on, Exercises: []athlete.PlannedExercise{
		{Exercise: "leg press", Sets: 3, RepsLow: 8, RepsHigh: 10},
	}}
}

// 2026-03-04 is a Wednesday, so the first week is cut short.
var wednesday = civil.MustParse("2026-03-04")

func TestSessionsFallOnTheirDaysAndTheRestOnTrainingDays(t *testing.T) {
	p := athlete.Programme{From: wednesday, Name: "Three and one", Weeks: []athlete.ProgrammeWeek{
		{Sessions: []athlete.PlannedSession{planned("A", nil), planned("B", day(time.Thursday)), planned("C", nil), planned("D", nil)}},
		{Deload: true, Sessions: []athlete.PlannedSession{planned("E", nil)}},
	}}
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	training := []athlete.Weekday{athlete.Weekday(time.Sunday), athlete.Weekday(time.Thursday), athlete.Weekday(time.Monday)}
	for offset, want := range map[int]string{
		-1: "", 0: "", 1: "B", // A's Monday was before the start
		4: "C", // Sunday is the last day of the week; D has no day left
		5: "E", 8: "", 11: "",
		12: "A", 15: "B", 18: "C", 19: "E", // it begins again
	} {
		var got string
		for _, s := range p.SessionsOn(wednesday.AddDays(offset), training) {
			got += s.Name
		}
		if got != want {
			t.Errorf("day %d has %q, want %q", offset, got, want)
		}
	}
}

func TestProgrammeOfThePhase(t *testing.T) {
	all := []athlete.Programme{
		{Version: 1, From: wednesday},
		{Version: 2, From: wednesday.AddDays(7), Phase: athlete.Prep},
		{Version: 3, From: wednesday.AddDays(14), Phase: athlete.OffSeason},
	}
	for _, tt := range []struct {
		offset int
		phase  athlete.PhaseKind
		want   int
	}{
		{-1, athlete.Prep, 0},
		{0, athlete.Prep, 1},
		{7, athlete.Prep, 2},
		{7, athlete.OffSeason, 1},
		{20, athlete.Prep, 2},
		{20, athlete.OffSeason, 3},
		{20, athlete.PeakWeek, 1},
	} {
		got := 0
		if p := athlete.ProgrammeOn(all, wednesday.AddDays(tt.offset), tt.phase); p != nil {
			got = p.Version
		}
		if got != tt.want {
			t.Errorf("on day %d in %s it is version %d, want %d", tt.offset, tt.phase, got, tt.want)
		}
	}
}

// However a week is written, no session is lost or done twice while there are days.
func TestEverySessionFallsOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		week := athlete.ProgrammeWeek{}
		days := rapid.SliceOfN(rapid.IntRange(-1, 6), 1, 7).Draw(t, "days")
		loose := 0
		for i, d := range days {
			var on *athlete.Weekday
			if d >= 0 {
				on = day(time.Weekday(d))
			} else {
				loose++
			}
			week.Sessions = append(week.Sessions, planned(string(rune('A'+i)), on))
		}
		var training []athlete.Weekday
		for _, d := range rapid.SliceOfNDistinct(rapid.IntRange(0, 6), 0, 7, rapid.ID).Draw(t, "training") {
			if w := athlete.Weekday(d); !slices.Contains(days, d) {
				training = append(training, w)
			}
		}
		p := athlete.Programme{From: wednesday.Monday(), Name: "x", Weeks: []athlete.ProgrammeWeek{week}}
		seen := map[string]int{}
		for i := range 7 {
			for _, s := range p.SessionsOn(p.From.AddDays(i), training) {
				seen[s.Name]++
			}
		}
		want := len(days) - loose + min(loose, len(training))
		if len(seen) != want {
			t.Fatalf("%d sessions of %d fall, want %d", len(seen), len(days), want)
		}
		for name, n := range seen {
			if n != 1 {
				t.Fatalf("%s falls %d times", name, n)
			}
		}
	})
}

// Half the sets rounded up and two more in reserve (common practice, no source).
func TestADeloadIsHalfTheSets(t *testing.T) {
	exercise := func(sets int, rir *float64) athlete.PlannedExercise {
		return athlete.PlannedExercise{Exercise: "leg press", Sets: sets, RepsLow: 8, RepsHigh: 10, RIR: rir, RestSeconds: 120, Notes: "slowly"}
	}
	week := athlete.ProgrammeWeek{Sessions: []athlete.PlannedSession{
		{Name: "A", Day: day(time.Monday), Exercises: []athlete.PlannedExercise{exercise(4, new(1.5)), exercise(5, new(4.0))}},
		{Name: "B", Exercises: []athlete.PlannedExercise{exercise(1, nil), exercise(3, new(7.0))}},
	}}
	got := week.AsDeload()
	want := athlete.ProgrammeWeek{Deload: true, Sessions: []athlete.PlannedSession{
		{Name: "A", Day: day(time.Monday), Exercises: []athlete.PlannedExercise{exercise(2, new(3.5)), exercise(3, new(5.0))}},
		{Name: "B", Exercises: []athlete.PlannedExercise{exercise(1, nil), exercise(2, new(7.0))}},
	}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(got, got.AsDeload()); diff != "" {
		t.Error("a deload of a deload is another", diff)
	}
	*got.Sessions[0].Day, *got.Sessions[0].Exercises[0].RIR = athlete.Weekday(time.Sunday), 9
	if *week.Sessions[0].Day != athlete.Weekday(time.Monday) || *week.Sessions[0].Exercises[0].RIR != 1.5 {
		t.Error("the deload shares days or numbers with the week it was made from")
	}
}

func TestProgrammeRefusesSlips(t *testing.T) {
	good := func() athlete.Programme {
		return athlete.Programme{From: wednesday, Name: "x", Weeks: []athlete.ProgrammeWeek{{Sessions: []athlete.PlannedSession{planned("A", nil)}}}}
	}
	for name, spoil := range map[string]func(*athlete.Programme){
		"no date":        func(p *athlete.Programme) { p.From = 0 },
		"no name":        func(p *athlete.Programme) { p.Name = " " },
		"phase":          func(p *athlete.Programme) { p.Phase = "bulk" },
		"no weeks":       func(p *athlete.Programme) { p.Weeks = nil },
		"no exercise":    func(p *athlete.Programme) { p.Weeks[0].Sessions[0].Exercises = nil },
		"no session":     func(p *athlete.Programme) { p.Weeks[0].Sessions[0].Name = "" },
		"no sets":        func(p *athlete.Programme) { p.Weeks[0].Sessions[0].Exercises[0].Sets = 0 },
		"reps backwards": func(p *athlete.Programme) { p.Weeks[0].Sessions[0].Exercises[0].RepsHigh = 7 },
		"rest":           func(p *athlete.Programme) { p.Weeks[0].Sessions[0].Exercises[0].RestSeconds = -1 },
		"rir":            func(p *athlete.Programme) { p.Weeks[0].Sessions[0].Exercises[0].RIR = new(11.0) },
	} {
		p := good()
		spoil(&p)
		if err := p.Validate(); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s gives %v, want Invalid", name, err)
		}
	}
}

func TestAnInjuryEndsWithAClinician(t *testing.T) {
	in := athlete.Injury{From: wednesday, Where: athlete.Knee}
	a := athlete.Athlete{Injuries: []athlete.Injury{in, in}}
	if got := a.Hurt(wednesday.AddDays(400)); !slices.Equal(got, []athlete.Region{athlete.Knee}) {
		t.Errorf("hurt is %v, want the knee once", got)
	}
	if a.Hurt(wednesday.AddDays(-1)) != nil {
		t.Error("hurt before it happened")
	}
	in.Until = wednesday.AddDays(10)
	if err := in.Validate(); fault.KindOf(err) != fault.Invalid {
		t.Errorf("over without a clinician: %v, want Invalid", err)
	}
	in.Clinician = "Dr. Invented"
	if err := in.Validate(); err != nil || !in.OpenOn(in.Until) || in.OpenOn(in.Until.AddDays(1)) {
		t.Errorf("%v; open on the last day %v and after it %v", err, in.OpenOn(in.Until), in.OpenOn(in.Until.AddDays(1)))
	}
}

func TestExerciseRefusesSlips(t *testing.T) {
	good := athlete.Exercise{
		Name: "sled push", Pattern: athlete.Lunge, Equipment: athlete.Machine, Stability: athlete.Supported,
		Muscles: []athlete.Share{{Muscle: athlete.Quadriceps, Share: 1}},
	}
	if err := good.Validate(); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(*athlete.Exercise){
		"no name":      func(e *athlete.Exercise) { e.Name = "" },
		"pattern":      func(e *athlete.Exercise) { e.Pattern = "shove" },
		"equipment":    func(e *athlete.Exercise) { e.Equipment = "sled" },
		"stability":    func(e *athlete.Exercise) { e.Stability = "" },
		"no muscle":    func(e *athlete.Exercise) { e.Muscles = nil },
		"muscle twice": func(e *athlete.Exercise) { e.Muscles = append(slices.Clone(e.Muscles), e.Muscles[0]) },
		"share":        func(e *athlete.Exercise) { e.Muscles = []athlete.Share{{Muscle: athlete.Quadriceps, Share: 1.5}} },
		"region":       func(e *athlete.Exercise) { e.Loads = []athlete.Region{"soul"} },
	} {
		e := good
		spoil(&e)
		if err := e.Validate(); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s gives %v, want Invalid", name, err)
		}
	}
}

// A new version that begins in the middle of a round goes on with it.
func TestAProgrammeGoesOnWhereItWas(t *testing.T) {
	p := athlete.Programme{From: wednesday, Name: "x", Version: 4, Weeks: []athlete.ProgrammeWeek{
		{Sessions: []athlete.PlannedSession{planned("A", day(time.Friday))}},
		{Sessions: []athlete.PlannedSession{planned("B", day(time.Friday))}},
		{Sessions: []athlete.PlannedSession{planned("C", day(time.Friday))}},
	}}
	for _, offset := range []int{0, 3, 6, 12, 20, 40} {
		next := p.BegunOn(wednesday.AddDays(offset))
		if next.Version != 0 || next.From != wednesday.AddDays(offset) {
			t.Fatalf("version %d from %s", next.Version, next.From)
		}
		for i := range 30 {
			on := next.From.AddDays(i)
			was, is := p.SessionsOn(on, nil), next.SessionsOn(on, nil)
			if len(was) != len(is) || len(was) > 0 && was[0].Name != is[0].Name {
				t.Fatalf("begun on day %d, on day %d it is %v where it was %v", offset, offset+i, is, was)
			}
		}
		next.Weeks[0].Sessions[0].Exercises[0].Sets = 9
		if p.Weeks[0].Sessions[0].Exercises[0].Sets == 9 || p.Weeks[1].Sessions[0].Exercises[0].Sets == 9 || p.Weeks[2].Sessions[0].Exercises[0].Sets == 9 {
			t.Fatal("a change of the new one is in the old one")
		}
	}
}
