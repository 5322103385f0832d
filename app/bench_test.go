package app_test

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/scenario"
	"glidepath/store"
)

// One review as a coach runs it: 24 weeks of logs, 4,000 futures and a re-plan,
// on one core.
func BenchmarkReview(b *testing.B) {
	a, asOf := demo(b)
	ctx := context.Background()
	for b.Loop() {
		if _, err := a.Dossier(ctx, "priya-raghunath", asOf, app.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// A thousand athletes with 26 weeks of logs each, all read again, on all cores.
// It takes its time to set up: go test -run '^$' -bench Roster1000 ./app
func BenchmarkRoster1000(b *testing.B) {
	ctx := context.Background()
	s, err := store.Open(ctx, filepath.Join(b.TempDir(), "roster.db"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = s.Close() })
	a := &app.App{Store: s, Now: time.Now}
	const athletes, weeks = 1000, 26
	asOf := civil.Of(2025, 1, 6).AddDays(7 * weeks)
	for i := range uint64(athletes) {
		id := fmt.Sprintf("athlete-%04d", i)
		spec := scenario.Draw(i, scenario.DrawOptions{ID: id, Weeks: weeks})
		se := scenario.Simulate(spec, i)
		se.Athlete.Shows = []athlete.Show{{
			ID: "show", Name: "Show", Date: asOf.AddDays(7 * 16), TargetBodyFatPct: athlete.BodyFatFloorPct(se.Athlete.Sex) + 4,
		}}
		err := a.Restore(ctx, &app.Archive{
			Athlete: se.Athlete, Days: se.Days, Measurements: se.Measurements, Sets: se.Sets,
			Sessions: se.Sessions, Prescriptions: se.Prescriptions,
		}, app.Source{Name: "simulated"})
		if err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		rows, err := a.Roster(ctx, asOf, nil)
		if err != nil || len(rows) != athletes {
			b.Fatal(len(rows), err)
		}
	}
}
