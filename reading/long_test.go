package reading

import (
	"slices"
	"testing"

	"glidepath/scenario"
)

// Over a season the intervals must stay honest: drifting reports, activity that
// falls in a deficit, water. The seeds are not those that the settings were
// chosen on (30000 to 31499).
func TestExpenditureOverASeason(t *testing.T) {
	const athletes = 200
	for _, weeks := range []int{8, 12, 20} {
		var errs []float64
		inside, fat := 0, 0
		for seed := range uint64(athletes) {
			spec := scenario.Draw(seed+5000, scenario.DrawOptions{Weeks: 20, Protocol: scenario.Losing, WeightShare: 0.9, IntakeShare: 0.8})
			s := scenario.Simulate(spec, seed)
			r, err := Read(input(t, &s, 7*weeks), Settings{})
			if err != nil {
				t.Fatal(err)
			}
			last := r.Daily[len(r.Daily)-1]
			truth := 0.0
			for _, d := range s.Truth[7*weeks-7 : 7*weeks] {
				truth += d.ReportedScaleExpenditureKcal / 7
			}
			end := s.Truth[7*weeks-1]
			errs = append(errs, max(last.ExpenditureKc.Value-truth, truth-last.ExpenditureKc.Value))
			if last.ExpenditureKc.Low90 <= truth && truth <= last.ExpenditureKc.High90 {
				inside++
			}
			if last.FatKg.Low90 <= end.FatKg && end.FatKg <= last.FatKg.High90 {
				fat++
			}
		}
		slices.Sort(errs)
		t.Logf("%2d weeks: median error %.0f kcal; the 90 %% interval of expenditure holds %.3f, of fat %.3f",
			weeks, errs[athletes/2], share(inside, athletes), share(fat, athletes))
		if c := share(inside, athletes); c < 0.83 || c > 0.97 {
			t.Errorf("%d weeks: the 90 %% interval of expenditure holds %.3f", weeks, c)
		}
		if c := share(fat, athletes); c < 0.83 {
			t.Errorf("%d weeks: the 90 %% interval of fat holds %.3f", weeks, c)
		}
	}
}
