package app_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/numeric"
	"glidepath/scenario"
	"glidepath/store"
)

// demo is the invented roster in a store in memory.
func demo(t testing.TB) (*app.App, civil.Date) {
	t.Helper()
	ctx := context.Background()
	s, err := store.OpenMemory(ctx)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	a := &app.App{Store: s, Now: func() time.Time { return time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC) }}
	roster := scenario.Demo()
	for i := range roster.Seasons {
		se := &roster.Seasons[i]
		err := a.Restore(ctx, &app.Archive{
			Athlete: se.Athlete, Days: se.Days, Measurements: se.Measurements, Sets: se.Sets,
			Sessions: se.Sessions, Prescriptions: se.Prescriptions, Programmes: se.Programmes,
		}, app.Source{Name: "demo"})
		if err != nil {
			t.Fatal(err)
		}
	}
	return a, roster.AsOf
}

// The roster of the demo tells each athlete's story: what the engine finds is
// what the simulator, which shares none of its equations, put there.
func TestDemoTellsTheStories(t *testing.T) {
	a, asOf := demo(t)
	rows, err := a.Roster(context.Background(), asOf, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]struct {
		need   app.Need
		phase  athlete.PhaseKind
		action decision.Action
		words  string // in the reason
	}{
		"anselm-okonkwo-price":   {app.NeedBegin, athlete.Prep, decision.Begin, "prep begins"},
		"aroha-jensen":           {app.NeedChange, athlete.Prep, decision.Change, "Behind the plan"},
		"callum-devereaux-singh": {app.NeedAsk, athlete.Prep, decision.Talk, "above the prescription"},
		"dmitri-halvorsen":       {app.NeedSafety, athlete.Prep, decision.Change, "Losing too fast"},
		"hana-kobayashi-reyes":   {app.NeedChange, athlete.Recovery, decision.Change, "surplus"},
		"keoni-blackwood":        {app.NeedAsk, athlete.Prep, decision.Talk, "weigh-ins"},
		"lucia-ferrandez":        {app.NeedNothing, athlete.Prep, decision.Hold, ""},
		"marcus-oyelaran":        {app.NeedSeason, athlete.Prep, decision.Change, "Not enough time"},
		"noor-bakhtiari":         {app.NeedNothing, athlete.Prep, decision.Hold, ""},
		"priya-raghunath":        {app.NeedChange, athlete.Prep, decision.Change, "Behind the plan"},
		"saoirse-whitlock-tan":   {app.NeedSafety, athlete.OffSeason, "", "clearance"},
		"thabo-lindqvist":        {app.NeedBegin, athlete.PrePrep, decision.Begin, "pre-prep"},
	}
	if len(rows) != len(want) {
		t.Fatalf("%d athletes on the roster", len(rows))
	}
	for _, r := range rows {
		w := want[r.ID]
		if r.Need != w.need || r.Phase != w.phase || r.Action != w.action || !strings.Contains(r.Reason, w.words) {
			t.Errorf("%s: need %d, %s, %q: %s", r.ID, r.Need, r.Phase, r.Action, r.Reason)
		}
	}
}

// The estimates hold the simulator's truth: of the demo's trends, body fats and
// expenditures nearly all lie inside their 90 % intervals.
func TestDemoReadsTheTruth(t *testing.T) {
	a, asOf := demo(t)
	inside, n := 0, 0
	for _, se := range scenario.Demo().Seasons {
		d, err := a.Dossier(context.Background(), se.Athlete.ID, asOf, app.Options{Futures: -1, NoReview: true})
		if err != nil {
			t.Fatal(err)
		}
		last := d.Reading.Daily[len(d.Reading.Daily)-1]
		end := se.Truth[len(se.Truth)-1]
		week := se.Truth[len(se.Truth)-7:]
		spent := 0.0
		for _, day := range week {
			spent += day.ReportedScaleExpenditureKcal / float64(len(week))
		}
		for _, c := range []struct {
			what  string
			i     numeric.Interval
			truth float64
		}{
			{"body fat", last.BodyFatPct, 100 * end.FatKg / end.WeightKg},
			{"lean", last.LeanKg, end.LeanKg},
			{"expenditure", last.ExpenditureKc, spent},
		} {
			n++
			if c.i.Low90 <= c.truth && c.truth <= c.i.High90 {
				inside++
			} else {
				t.Logf("%s: %s %.1f (%.1f to %.1f), truth %.1f", se.Athlete.ID, c.what, c.i.Value, c.i.Low90, c.i.High90, c.truth)
			}
		}
	}
	if inside < n*80/100 {
		t.Errorf("90 %% intervals hold %d of %d", inside, n)
	}
}
