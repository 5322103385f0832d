package report_test

import (
	"context"
	"sync"
	"testing"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/scenario"
	"glidepath/store"
)

// demo are the dossiers of the invented roster, made once through the use cases
// and the store, with few futures.
var demo = sync.OnceValues(func() ([]*app.Dossier, error) {
	ctx := context.Background()
	roster := scenario.Demo()
	s, err := store.OpenMemory(ctx)
	if err != nil {
		return nil, err
	}
	defer func() { _ = s.Close() }()
	a := &app.App{Store: s, Now: func() time.Time { return roster.AsOf.Time() }}
	var out []*app.Dossier
	for i := range roster.Seasons {
		if err := keepSeason(ctx, s, &roster.Seasons[i]); err != nil {
			return nil, err
		}
		d, err := a.Dossier(ctx, roster.Seasons[i].Athlete.ID, roster.AsOf, app.Options{Futures: 600})
		if err != nil {
			return nil, err
		}
		out = append(out, d)
	}
	return out, nil
})

func keepSeason(ctx context.Context, s app.Store, season *scenario.Season) error {
	from := app.Source{Name: "demo", At: civil.Of(2026, time.March, 2).Time()}
	id := season.Athlete.ID
	return s.Write(ctx, func(tx app.Tx) error {
		if err := tx.PutAthlete(&season.Athlete); err != nil {
			return err
		}
		if _, err := tx.PutDays(id, season.Days, from); err != nil {
			return err
		}
		if _, err := tx.PutMeasurements(id, season.Measurements, from); err != nil {
			return err
		}
		if _, err := tx.PutSets(id, season.Sets, from); err != nil {
			return err
		}
		if _, err := tx.PutSessions(id, season.Sessions, from); err != nil {
			return err
		}
		for i := range season.Prescriptions {
			p := season.Prescriptions[i]
			if err := tx.AddPrescription(id, &p); err != nil {
				return err
			}
		}
		return nil
	})
}

func dossiers(t *testing.T) []*app.Dossier {
	t.Helper()
	out, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// the dossier of one athlete.
func dossier(t *testing.T, id string) *app.Dossier {
	t.Helper()
	for _, d := range dossiers(t) {
		if d.Athlete.ID == id {
			return d
		}
	}
	t.Fatalf("no athlete %q", id)
	return nil
}

// newcomer is somebody with a profile and no log at all.
func newcomer(t *testing.T) *app.Dossier {
	t.Helper()
	ctx := context.Background()
	s, err := store.OpenMemory(ctx)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	asOf := civil.Of(2026, time.March, 2)
	a := &app.App{Store: s, Now: func() time.Time { return asOf.Time() }}
	err = a.AddAthlete(ctx, athlete.Athlete{
		ID: "tove", Name: "Tove Ålund", Sex: athlete.Female, BirthDate: civil.Of(1999, time.May, 1),
		HeightCm: 168, WeightKg: 66, WeighedOn: asOf, StepsPerDay: 8000,
	}, asOf, false)
	if err != nil {
		t.Fatal(err)
	}
	d, err := a.Dossier(ctx, "tove", asOf, app.Options{Futures: 200})
	if err != nil {
		t.Fatal(err)
	}
	return d
}
