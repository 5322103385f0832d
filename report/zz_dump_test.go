package report_test

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"glidepath/scenario"
)

func TestZZDump(t *testing.T) {
	t0 := time.Now()
	truth := map[string]scenario.Season{}
	for _, s := range scenario.Demo().Seasons {
		truth[s.Athlete.ID] = s
	}
	for _, d := range dossiers(t) {
		tr := truth[d.Athlete.ID].Truth
		tt := tr[len(tr)-1]
		last := d.Reading.Daily[len(d.Reading.Daily)-1]
		fmt.Printf("\n===== %s phase=%s\n", d.Athlete.ID, d.Phase)
		fmt.Printf("truth: fat %.1f lean %.1f w %.1f bf %.1f exp(rep) %.0f\n", tt.FatKg, tt.LeanKg, tt.WeightKg, 100*tt.FatKg/tt.WeightKg, tt.ReportedScaleExpenditureKcal)
		fmt.Printf("read: w %.1f [%.1f %.1f] bf %.1f [%.1f %.1f] exp %.0f [%.0f %.0f] rate %.2f [%.2f %.2f]\n", last.TrendKg.Value, last.TrendKg.Low90, last.TrendKg.High90, last.BodyFatPct.Value, last.BodyFatPct.Low90, last.BodyFatPct.High90, last.ExpenditureKc.Value, last.ExpenditureKc.Low90, last.ExpenditureKc.High90, last.RatePct.Value, last.RatePct.Low90, last.RatePct.High90)
		if c := d.Current; c != nil {
			fmt.Printf("current: %.0f kcal, %.0f steps, %.0f cardio, %s from %s v%d\n", c.MeanEnergyKcal(), c.Steps, c.CardioMinutes(), c.Phase, c.From, c.Version)
		}
		fmt.Printf("adherence %+v\nevidence %+v\nqueries %+v\ncannot %q %q %q\nblocked %v\n", d.Reading.Adherence, d.Reading.Evidence, d.Reading.Queries, d.Reading.CannotTell, d.Cannot, d.Strength.Cannot, d.Blocked)
		if d.Show != nil {
			fmt.Printf("show %s %s target %.1f +- %.1f\n", d.Show.Name, d.Show.Date, d.Show.TargetBodyFatPct, d.Show.Tolerance())
		}
		if s := d.Season; s != nil {
			b, _ := json.MarshalIndent(s.Appraisal, "", " ")
			fmt.Println(string(b))
			fmt.Printf("map lands %v start %s stage %+v\n", s.Map.Lands, s.Map.Start, s.Map.Stage)
			for _, w := range s.Map.Weeks {
				fmt.Printf("  %s %d %-10s %.0f kcal %.0f st %.0f min  w %.1f bf %.1f lean %.1f rate %.2f EA %.1f eff %.2f br %v ref %d\n", w.From, w.Days, w.Phase, w.Asked.EnergyKcal, w.Asked.StepsPerDay, w.Asked.CardioMinutes, w.WeightKg, w.BodyFatPct, w.LeanKg, w.RatePct, w.Available, w.Effort, w.DietBreak, w.Refeeds)
			}
			n := len(s.Corridor.Days)
			for i := 0; i < n; i += 14 {
				c := s.Corridor.Days[i]
				fmt.Printf("  corr %s up %.1f low %.1f\n", c.Date, c.UpperKg, c.LowerKg)
			}
			if n > 0 {
				c := s.Corridor.Days[n-1]
				fmt.Printf("  corr %s up %.1f low %.1f pct %.1f %.1f\n", c.Date, c.UpperKg, c.LowerKg, c.UpperPct, c.LowerPct)
			}
		}
		if f := d.Forecast; f != nil {
			fmt.Printf("forecast w %+v bf %+v lean %+v lost %+v ch %+v\n", f.Weight, f.BodyFat, f.Lean, f.LeanLost, f.Chances)
		}
		if f := d.Unchanged; f != nil {
			fmt.Printf("unchanged w %+v bf %+v ch %+v\n", f.Weight, f.BodyFat, f.Chances)
		}
		if p := d.Proposal; p != nil {
			b, _ := json.MarshalIndent(p, "", " ")
			fmt.Println(string(b))
		}
		if p := d.Draft; p != nil {
			b, _ := json.Marshal(p)
			fmt.Println("DRAFT", string(b))
		}
		if o := d.Strength.Overall; o != nil {
			fmt.Printf("strength %+v from %v base %s..%s\n", o.Pct, d.Strength.OverallFrom, d.Strength.BaselineFrom, d.Strength.BaselineTo)
		}
		if d.Sets != nil {
			fmt.Printf("sets %s %v %v\n", d.Sets.Action, d.Sets.Reasons, d.Sets.Cautions)
		}
		fmt.Printf("load %+v\n", d.Load)
		for _, c := range d.Compositions {
			fmt.Printf(" comp %s %s %.1f sd %.1f bias %.1f\n", c.Date, c.Series, c.BodyFatPct, c.ReadingSD, c.BiasSD)
		}
	}
	fmt.Println("took", time.Since(t0))
}
