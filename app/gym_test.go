package app_test

import (
	"errors"
	"testing"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
)

// What is logged stands with what is planned, under whatever spelling; the rest is
// unplanned, as is what is asked for besides.
func TestGymDayPutsTheLogBesideThePlan(t *testing.T) {
	a, asOf := demo(t)
	ctx, id := t.Context(), "aroha-jensen"
	today := athlete.Weekday(asOf.Weekday())
	p := athlete.Programme{From: asOf, Name: "One", Weeks: []athlete.ProgrammeWeek{{Sessions: []athlete.PlannedSession{{
		Name: "Press", Day: &today, Exercises: []athlete.PlannedExercise{
			{Exercise: "zercher carry", Sets: 2, RepsLow: 6, RepsHigh: 8}, {Exercise: "zercher carry", Sets: 1, RepsLow: 20, RepsHigh: 20},
		},
	}}}}}
	if _, err := a.AddProgramme(ctx, id, p, "the coach"); err != nil {
		t.Fatal(err)
	}
	set := func(ago, order int, name string) athlete.Set {
		return athlete.Set{Date: asOf.AddDays(-ago), Exercise: name, WeightKg: 40, Reps: 7, Order: order}
	}
	_, err := a.Record(ctx, id, app.Batch{Sets: []athlete.Set{
		set(1, 1, "sled drag"), set(1, 2, "carry, zercher"), set(0, 1, "Carry, Zercher"), set(0, 2, "sled drag"), set(0, 3, "sled drag"),
	}, Sessions: []athlete.Session{{Date: asOf.AddDays(-1), Minutes: 50, RPE: 6}}}, app.Source{Name: "form"})
	if err != nil {
		t.Fatal(err)
	}
	g, err := a.GymDay(ctx, id, asOf, "Drag, sled", "yoke")
	if err != nil {
		t.Fatal(err)
	}
	first, second := g.Sessions[0].Exercises[0], g.Sessions[0].Exercises[1]
	if len(first.Done) != 1 || len(first.Last) != 1 || len(second.Done) != 0 || len(second.Last) != 1 {
		t.Errorf("the carry is %+v and %+v", first, second)
	}
	if len(g.Unplanned) != 2 || len(g.Unplanned[0].Done) != 2 || len(g.Unplanned[0].Last) != 1 || g.Unplanned[1].Exercise != "yoke" {
		t.Errorf("unplanned are %+v", g.Unplanned)
	}
	if len(g.Recent) < 2 || g.Recent[0].Exercise != "carry, zercher" || g.Recent[1].Exercise != "sled drag" || g.Recent[1].On != asOf.AddDays(-1) {
		t.Errorf("recent are %+v", g.Recent)
	}
	if g.Before == nil || g.Before.Minutes != 50 || g.Session != nil {
		t.Errorf("the session before is %+v, and today's %+v", g.Before, g.Session)
	}
}

// A change of a day at the gym is kept whole, or not at all.
func TestAmendGymIsAllOrNothing(t *testing.T) {
	a, asOf := demo(t)
	ctx, id, from := t.Context(), "aroha-jensen", app.Source{Name: "form", Who: "Aroha"}
	on := asOf.AddDays(1)
	row := athlete.Set{Exercise: "row", WeightKg: 50, Reps: 8, Order: 1}
	amend := func(c app.GymChange) (app.GymLog, error) {
		return a.AmendGym(ctx, id, on, from, func(app.GymLog) (app.GymChange, error) { return c, nil })
	}
	out, err := amend(app.GymChange{Sets: []athlete.Set{row}, Session: &athlete.Session{Minutes: 60, RPE: 7}, Day: athlete.Day{Pain: new(2.0)}})
	if err != nil || len(out.Sets) != 1 || out.Sets[0].Date != on || out.Session.RPE != 7 || *out.Day.Pain != 2 {
		t.Fatalf("%+v, %v", out, err)
	}
	press := athlete.Set{Exercise: "press", WeightKg: 40, Reps: 8, Order: 2}
	heavy := press
	heavy.WeightKg = 601
	for name, c := range map[string]app.GymChange{
		"a set":     {Drop: []athlete.Set{row}, Sets: []athlete.Set{press, heavy}},
		"a session": {Sets: []athlete.Set{press}, Session: &athlete.Session{Minutes: 60, RPE: 11}},
		"a day":     {Sets: []athlete.Set{press}, Day: athlete.Day{Pain: new(11.0)}},
	} {
		if _, err := amend(c); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s that cannot be: %v, want Invalid", name, err)
		}
	}
	no := errors.New("no")
	if _, err := a.AmendGym(ctx, id, on, from, func(now app.GymLog) (app.GymChange, error) {
		if len(now.Sets) != 1 {
			t.Errorf("half of a change was kept: %+v", now.Sets)
		}
		return app.GymChange{Drop: now.Sets}, no
	}); !errors.Is(err, no) {
		t.Error(err)
	}
	out, err = amend(app.GymChange{Drop: []athlete.Set{row}, Sets: []athlete.Set{press}, DropDay: []string{"pain"}})
	if err != nil || len(out.Sets) != 1 || out.Sets[0].Exercise != "press" || out.Day.Pain != nil {
		t.Errorf("%+v, %v", out, err)
	}
	if _, err := a.AmendGym(ctx, "nobody", on, from, nil); fault.KindOf(err) != fault.NotFound {
		t.Errorf("nobody's: %v, want NotFound", err)
	}
}

func TestTheScaleOfEffortIsTheAthletes(t *testing.T) {
	a, _ := demo(t)
	if err := a.ChooseEffort(t.Context(), "aroha-jensen", "stars"); fault.KindOf(err) != fault.Invalid {
		t.Errorf("%v, want Invalid", err)
	}
	if err := a.ChooseEffort(t.Context(), "aroha-jensen", athlete.Exertion); err != nil {
		t.Fatal(err)
	}
	if p, err := a.Athlete(t.Context(), "aroha-jensen"); err != nil || p.Effort != athlete.Exertion {
		t.Errorf("the scale is %q, %v", p.Effort, err)
	}
}

// The strength that an athlete is told of is that of the coach's dossier.
func TestProgressAndDossierTellTheSameStrength(t *testing.T) {
	a, asOf := demo(t)
	p, err := a.Progress(t.Context(), "aroha-jensen", asOf)
	if err != nil {
		t.Fatal(err)
	}
	d, err := a.Dossier(t.Context(), "aroha-jensen", asOf, app.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if p.Strength.Overall == nil || p.Strength.Overall.Pct != d.Strength.Overall.Pct || p.Strength.BaselineFrom != d.Strength.BaselineFrom {
		t.Errorf("told %+v, and the coach %+v", p.Strength.Overall, d.Strength.Overall)
	}
}
