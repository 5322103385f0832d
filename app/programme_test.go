package app_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/fault"
)

// A session shows what was done of each exercise last, under whatever spelling,
// and what a hurt region keeps from it.
func TestGymDayOffersWhatWasDoneLast(t *testing.T) {
	a, asOf := demo(t)
	ctx, id := t.Context(), "aroha-jensen"
	today := athlete.Weekday(asOf.Weekday())
	p := athlete.Programme{From: asOf.AddDays(-14), Name: "Two weeks", Weeks: []athlete.ProgrammeWeek{
		{}, {}, {Deload: true, Sessions: []athlete.PlannedSession{{Name: "Press", Day: &today, Exercises: []athlete.PlannedExercise{
			{Exercise: "strict press", Sets: 2, RepsLow: 6, RepsHigh: 8, RIR: new(2.0)},
			{Exercise: "leg extension", Sets: 2, RepsLow: 10, RepsHigh: 12},
		}}}},
	}}
	before, err := a.Programmes(ctx, id, asOf.AddDays(400))
	if err != nil || len(before) == 0 {
		t.Fatalf("the demo has %d programmes, %v", len(before), err)
	}
	version, err := a.AddProgramme(ctx, id, p, "the coach")
	if err != nil || version != len(before)+1 {
		t.Fatalf("version %d after %d, %v", version, len(before), err)
	}
	press := func(ago, order int, kg float64) athlete.Set {
		return athlete.Set{Date: asOf.AddDays(-ago), Exercise: "overhead press", WeightKg: kg, Reps: 7, Order: order}
	}
	sets := []athlete.Set{press(9, 1, 40), press(2, 1, 41), press(2, 2, 42.5), press(0, 1, 43)}
	if _, err := a.Record(ctx, id, app.Batch{Sets: sets}, app.Source{Name: "form"}); err != nil {
		t.Fatal(err)
	}
	if err := a.SettleName(ctx, athlete.ExerciseName{Typed: "Strict Press", Exercise: "overhead press"}); err != nil {
		t.Fatal(err)
	}
	g, err := a.GymDay(ctx, id, asOf)
	if err != nil {
		t.Fatal(err)
	}
	if g.Programme != version || g.Week != 3 || !g.Deload || len(g.Sessions) != 1 || len(g.Cautions) != 0 {
		t.Fatalf("the day is %+v", g)
	}
	if diff := cmp.Diff(sets[3:], g.Logged); diff != "" {
		t.Error("logged", diff)
	}
	e := g.Sessions[0].Exercises[0]
	if diff := cmp.Diff(sets[1:3], e.Last); diff != "" || e.LastOn != asOf.AddDays(-2) || e.Stop != "" {
		t.Errorf("last is of %s, stop %q %s", e.LastOn, e.Stop, diff)
	}

	if err := a.AddInjury(ctx, id, athlete.Injury{From: asOf, Where: athlete.Shoulder}); err != nil {
		t.Fatal(err)
	}
	if g, err = a.GymDay(ctx, id, asOf); err != nil || len(g.Cautions) != 1 {
		t.Fatalf("with an injury the day is %+v, %v", g, err)
	}
	if err := a.EndInjury(ctx, id, athlete.Shoulder, asOf.AddDays(-1), ""); fault.KindOf(err) != fault.Invalid {
		t.Errorf("over without a clinician: %v, want Invalid", err)
	}
	if err := a.EndInjury(ctx, id, athlete.Shoulder, asOf, "Dr. Invented"); err != nil {
		t.Error(err)
	}
	if err := a.EndInjury(ctx, id, athlete.Shoulder, asOf, "Dr. Invented"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("over twice: %v, want NotFound", err)
	}

	if m, err := a.DropSet(ctx, id, asOf, "overhead press", 1, app.Source{Name: "form", Who: "Aroha"}); err != nil || m.Corrected != 1 {
		t.Errorf("dropping a set: %+v, %v", m, err)
	}
	r, err := a.Export(ctx, id)
	if err != nil || len(r.Programmes) != version {
		t.Fatalf("the archive has %d programmes, %v", len(r.Programmes), err)
	}
	r.Athlete.ID = "aroha-copy"
	if err := a.Restore(ctx, r, app.Source{Name: "archive"}); err != nil {
		t.Fatal(err)
	}
	if back, err := a.Programmes(ctx, "aroha-copy", asOf); err != nil || len(back) != version || back[version-1].Name != p.Name || back[version-1].Author != "the coach" {
		t.Errorf("restored as %+v, %v", back, err)
	}
}

func TestADesksOwnExercisesAndNames(t *testing.T) {
	a, asOf := demo(t)
	ctx := t.Context()
	own := athlete.Exercise{
		Name: "zercher carry", Pattern: athlete.Hinge, Equipment: athlete.Barbell, Stability: athlete.FreeStanding,
		Muscles: []athlete.Share{{Muscle: athlete.Back, Share: 1}},
	}
	sets := []athlete.Set{
		{Date: asOf, Exercise: "zercher carry", Order: 1},
		{Date: asOf, Exercise: "zercher carry", Order: 2},
		{Date: asOf, Exercise: "paused squat", Order: 3},
		{Date: asOf, Exercise: "Bench Press", Order: 4},
	}
	seen, err := a.NamesSeen(ctx, sets)
	if err != nil || len(seen) != 3 || seen[0].Sets != 2 || seen[0].Exercise != "" || seen[0].Sure ||
		seen[1].Exercise != "back squat" || seen[1].Sure || !slices.Contains(seen[1].Nearest, "front squat") ||
		seen[2].Exercise != "bench press" || !seen[2].Sure || seen[2].Nearest != nil {
		t.Fatalf("seen %+v, %v", seen, err)
	}
	if err := a.SettleName(ctx, athlete.ExerciseName{Typed: "paused squat", Exercise: "zercher carry"}); fault.KindOf(err) != fault.NotFound {
		t.Errorf("settled on what is not there: %v, want NotFound", err)
	}
	if err := a.PutExercise(ctx, own); err != nil {
		t.Fatal(err)
	}
	for _, n := range []athlete.ExerciseName{{Typed: "paused squat"}, {Typed: "Squats, paused", Exercise: "zercher carry"}} {
		if err := a.SettleName(ctx, n); err != nil {
			t.Fatal(err)
		}
	}
	if names, err := a.ExerciseNames(ctx); err != nil || len(names) != 1 || names[0].Exercise != own.Name {
		t.Errorf("names %+v, %v: two spellings are one name", names, err)
	}
	if seen, err = a.NamesSeen(ctx, sets); err != nil || !seen[0].Sure || !seen[1].Sure || seen[1].Exercise != own.Name {
		t.Errorf("seen %+v, %v", seen, err)
	}
	if err := a.RemoveExercise(ctx, own.Name); err != nil {
		t.Fatal(err)
	}
	if err := a.RemoveExercise(ctx, "back squat"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("a standard one is removed: %v, want NotFound", err)
	}
}

func TestTheFatigueTableIsTheDesks(t *testing.T) {
	a, _ := demo(t)
	ctx := t.Context()
	table, err := a.FatigueTable(ctx)
	if diff := cmp.Diff(cardio.DefaultFatigue(), table); err != nil || diff != "" {
		t.Fatal(err, diff)
	}
	bad := table
	bad.LeanRise = -1
	if err := a.PutFatigueTable(ctx, bad); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a table that is none: %v, want Invalid", err)
	}
	table.LeanRise = 1.5
	if err := a.PutFatigueTable(ctx, table); err != nil {
		t.Fatal(err)
	}
	if got, err := a.FatigueTable(ctx); err != nil || got.LeanRise != 1.5 {
		t.Errorf("kept as %+v, %v", got, err)
	}
}
