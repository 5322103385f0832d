package app_test

import (
	"context"
	"glidepath/app"
	"glidepath/civil"
	"glidepath/scenario"
	"glidepath/store"
	"testing"
	"time"
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
			Sessions: se.Sessions, Prescriptions: se.Prescriptions,
		}, app.Source{Name: "demo"})
		if err != nil {
			t.Fatal(err)
		}
	}
	return a, roster.AsOf
}

func TestDemoDossiers(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	truth := map[string]scenario.TruthDay{}
	for _, se := range scenario.Demo().Seasons {
		last := se.Truth[len(se.Truth)-1]
		last.ReportedScaleExpenditureKcal = 0
		for _, d := range se.Truth[len(se.Truth)-7:] {
			last.ReportedScaleExpenditureKcal += d.ReportedScaleExpenditureKcal / 7
		}
		truth[se.Athlete.ID] = last
	}
	rows, err := a.Roster(ctx, asOf, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		d, err := a.Dossier(ctx, r.ID, asOf, app.Options{Futures: 1000})
		if err != nil {
			t.Fatal(err)
		}
		last := d.Reading.Daily[len(d.Reading.Daily)-1]
		tr := truth[r.ID]
		t.Logf("== %d %s %s phase %s show %s (%.1f wk) | %s", r.Need, r.ID, d.Athlete.Sex, d.Phase, r.ShowDate, float64(r.WeeksToShow), r.Reason)
		t.Logf("   trend %.1f (truth %.1f) bf %.1f [%.1f %.1f] (truth %.1f) E %.0f [%.0f %.0f] (truth %.0f) rate %.2f [%.2f %.2f]", last.TrendKg.Value, tr.WeightKg,
			last.BodyFatPct.Value, last.BodyFatPct.Low90, last.BodyFatPct.High90, 100*tr.FatKg/tr.WeightKg,
			last.ExpenditureKc.Value, last.ExpenditureKc.Low90, last.ExpenditureKc.High90, tr.ReportedScaleExpenditureKcal, last.RatePct.Value, last.RatePct.Low90, last.RatePct.High90)
		if d.Season != nil && d.Show != nil {
			s := d.Season
			t.Logf("   verdict %s: %s", s.Appraisal.Verdict, s.Appraisal.Sentence)
			t.Logf("   slack %.1f [%.1f %.1f] lands %v stage %.1f kg %.1f%% lean lost %.2f lowest %.0f EA %.1f cardio %.0f start %s latest %s reach %.1f", s.Corridor.SlackWeeks.Value, s.Corridor.SlackWeeks.Low, s.Corridor.SlackWeeks.High,
				s.Map.Lands, s.Map.Stage.WeightKg, s.Map.Stage.BodyFatPct, s.Map.Stage.LeanLostKg, s.Map.Stage.LowestEnergyKcal, s.Map.Stage.LowestAvailable, s.Map.Stage.MostCardio, s.Map.Start, s.Appraisal.LatestSensible, s.Appraisal.ReachableBodyFat)
			t.Logf("   target %.1f±%.1f forecast bf %.1f [%.1f %.1f] weight %.1f [%.1f %.1f] on target %.2f under %.2f class %v energy kept %.2f lean kept %.2f", d.Show.TargetBodyFatPct, d.Show.Tolerance(),
				d.Forecast.BodyFat.Value, d.Forecast.BodyFat.Low90, d.Forecast.BodyFat.High90, d.Forecast.Weight.Value, d.Forecast.Weight.Low90, d.Forecast.Weight.High90, d.Forecast.Chances.OnTarget, d.Forecast.Chances.AtOrUnder, d.Forecast.Chances.InsideClass, d.Forecast.Chances.EnergyKept, d.Forecast.Chances.LeanKept)
		}
		if p := d.Proposal; p != nil {
			t.Logf("   %s %s: %s", p.Action, p.Lever, p.Sentence)
			t.Logf("   from %+v to %+v gap %.0f sure %.2f ratio %.2f", p.From, p.To, p.GapKcal.Value, p.Sure, d.Reading.Adherence.MeanRatio)
			for _, s := range p.Reasons {
				t.Logf("     - %s", s)
			}
			for _, s := range append(append(p.Expects, p.Questions...), p.Cautions...) {
				t.Logf("     > %s", s)
			}
		}
		for _, c := range d.Cannot {
			t.Logf("   cannot: %s", c)
		}
		if d.Strength.Overall != nil {
			t.Logf("   strength %.1f [%.1f %.1f]", d.Strength.Overall.Pct.Value, d.Strength.Overall.Pct.Low90, d.Strength.Overall.Pct.High90)
		}
	}
}
