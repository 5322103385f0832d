package app_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/training"
)

// A written week counts a set whole for what it trains directly and half for what
// assists (Pelland et al. 2024, as the catalogue says); what the catalogue does not
// know, what is hurt and what is not there is told.
func TestPlannedWeek(t *testing.T) {
	a, asOf := demo(t)
	ctx, id := t.Context(), "aroha-jensen"
	e := func(name string, sets int, rir *float64) athlete.PlannedExercise {
		return athlete.PlannedExercise{Exercise: name, Sets: sets, RepsLow: 6, RepsHigh: 10, RIR: rir}
	}
	week := athlete.ProgrammeWeek{Sessions: []athlete.PlannedSession{
		{Name: "A", Exercises: []athlete.PlannedExercise{e("bench press", 4, new(2.0)), e("Odd carry", 3, nil), e("leg press", 3, nil)}},
		{Name: "B", Exercises: []athlete.PlannedExercise{e("overhead press", 2, new(6.0)), e("odd carry", 1, nil), e("Odd carry", 1, nil)}},
	}}
	got, err := a.PlannedWeek(ctx, id, asOf, week)
	if err != nil {
		t.Fatal(err)
	}
	of := func(p *app.PlannedWeek, m athlete.Muscle) app.PlannedMuscle {
		return p.Muscles[slices.Index(athlete.Muscles(), m)]
	}
	// Presses with six in reserve are no hard sets.
	for m, want := range map[athlete.Muscle][2]float64{
		athlete.Chest: {4, 0}, athlete.Triceps: {0, 2}, athlete.Shoulders: {0, 2}, athlete.Quadriceps: {3, 0}, athlete.Glutes: {0, 1.5}, athlete.Back: {0, 0},
	} {
		if p := of(got, m); p.Direct != want[0] || p.Indirect != want[1] {
			t.Errorf("%s gets %.1f and %.1f, not %v", m, p.Direct, p.Indirect, want)
		}
	}
	if !slices.Equal(got.Unknown, []string{"Odd carry", "odd carry"}) || len(got.Cautions) != 0 {
		t.Errorf("unknown are %q, cautions %q", got.Unknown, got.Cautions)
	}
	d, err := a.Dossier(ctx, id, asOf, app.Options{Futures: -1, NoReview: true})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range got.Muscles {
		if p.Now == nil || math.Abs(*p.OffSeason-d.OffSeason[i].Sets) > 1e-9 || *p.Maintenance != training.MaintenanceDose(p.Muscle, *p.OffSeason).Sets {
			t.Errorf("%s is held against %+v", p.Muscle, p)
		}
	}

	p, err := a.Athlete(ctx, id)
	if err != nil {
		t.Fatal(err)
	}
	p.Equipment, p.SpareRegions = []athlete.Equipment{athlete.Barbell}, []athlete.Region{athlete.Hip}
	p.Injuries = append(p.Injuries, athlete.Injury{From: asOf, Where: athlete.Knee})
	if err := a.EditAthlete(ctx, *p, asOf); err != nil {
		t.Fatal(err)
	}
	got, err = a.PlannedWeek(ctx, id, asOf, week)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"leg press loads the knee, which is noted as hurt", "leg press needs a machine", "loads the hip, which is to be spared"} {
		if !slices.ContainsFunc(got.Cautions, func(c string) bool { return strings.Contains(c, want) }) {
			t.Errorf("%q is not among %q", want, got.Cautions)
		}
	}
}

// A name belongs to one exercise; a renamed one leaves nothing behind.
func TestExerciseNamesDoNotClash(t *testing.T) {
	a, _ := demo(t)
	ctx := t.Context()
	sled := athlete.Exercise{
		Name: "blue sled", Aliases: []string{"the sled"}, Pattern: athlete.Squat, Equipment: athlete.Machine, Stability: athlete.Guided,
		Muscles: []athlete.Share{{Muscle: athlete.Quadriceps, Share: 1}},
	}
	if err := a.PutExercise(ctx, sled); err != nil {
		t.Fatal(err)
	}
	for field, change := range map[string]func(*athlete.Exercise){
		"name":    func(e *athlete.Exercise) { e.Name = "Bench" },
		"aliases": func(e *athlete.Exercise) { e.Name, e.Aliases = "green sled", []string{"sled, the"} }, // the same words
	} {
		other := sled
		change(&other)
		err := a.PutExercise(ctx, other)
		if f := fault.All(err); len(f) != 1 || f[0].Kind != fault.Conflict || f[0].Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	renamed := sled
	renamed.Name = "red sled"
	if err := a.RenameExercise(ctx, "blue sled", renamed); err != nil {
		t.Fatal(err)
	}
	own, err := a.Exercises(ctx)
	if err != nil || len(own) != 1 || own[0].Name != "red sled" {
		t.Errorf("the desk's own are %+v (%v)", own, err)
	}
	// A standard one that is renamed stays beside the new one.
	if err := a.RenameExercise(ctx, "leg press", athlete.Exercise{Name: "leg press 2", Pattern: athlete.Squat, Equipment: athlete.Machine, Stability: athlete.Guided, Muscles: sled.Muscles}); err != nil {
		t.Fatal(err)
	}
	known, err := a.Catalogue(ctx)
	if err != nil || !known.Has("leg press") || !known.Has("leg press 2") {
		t.Errorf("one of the two is missing (%v)", err)
	}
}
