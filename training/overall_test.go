package training_test

import (
	"math"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/training"
)

// A lifter who holds for eight weeks and then loses 1 % a week: the series stands
// at 100 % over the baseline, falls by what was put in, and ends on Overall.
func TestOverallSeriesFollowsTheLifts(t *testing.T) {
	from := civil.Of(2026, 1, 5)
	asOf := from.AddDays(7*16 - 1)
	var sets []athlete.Set
	for week := range 16 {
		kept := 1 - 0.01*math.Max(0, float64(week-7))
		for i, lift := range []string{"back squat", "bench press"} {
			sets = append(sets, athlete.Set{
				Date: from.AddDays(7*week + 3*i), Exercise: lift, Order: 1,
				WeightKg: (150 - 50*float64(i)) * kept, Reps: 5, RIR: new(2.0),
			})
		}
	}
	r := training.Standard().Strength(training.LiftLog{Sets: sets, BaselineFrom: from, BaselineTo: from.AddDays(55), AsOf: asOf})
	series := r.OverallSeries()
	if len(series) < 14 || r.Overall == nil {
		t.Fatalf("%d points, overall %v", len(series), r.Overall)
	}
	if last := series[len(series)-1]; last.Date != asOf || last.Pct != r.Overall.Pct {
		t.Errorf("the series ends with %v, not with overall %v", last, r.Overall.Pct)
	}
	for i, p := range series {
		if i > 0 && p.Date.DaysSince(series[i-1].Date) != 7 {
			t.Errorf("%s comes %d days after the point before", p.Date, p.Date.DaysSince(series[i-1].Date))
		}
		if p.Pct.Low90 >= p.Pct.Value || p.Pct.High90 <= p.Pct.Value {
			t.Errorf("%s: %v is not inside its interval", p.Date, p.Pct)
		}
		if p.Date < from.AddDays(42) && math.Abs(p.Pct.Value-100) > 1.5 {
			t.Errorf("%s: %.1f %% while nothing was lost", p.Date, p.Pct.Value)
		}
	}
	// Put in: 8 % down in the last week; the filter follows with a lag.
	if v := series[len(series)-1].Pct.Value; v < 91 || v > 95 {
		t.Errorf("ends at %.1f %% where 92 %% was put in", v)
	}
}

func TestNoOverallSeriesWithoutOverall(t *testing.T) {
	r := training.Standard().Strength(training.LiftLog{BaselineFrom: civil.Of(2026, 1, 5), BaselineTo: civil.Of(2026, 2, 1), AsOf: civil.Of(2026, 3, 1)})
	if got := r.OverallSeries(); got != nil {
		t.Errorf("a series from nothing: %v", got)
	}
}
