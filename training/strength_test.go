package training_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/training"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

var start = civil.MustParse("2025-01-06") // a Monday

func TestMaximumOf(t *testing.T) {
	tests := []struct {
		name string
		set  athlete.Set
		kg   float64
		reps float64
	}{
		// Epley and Brzycki 133.33, Wathan 134.75 (formulas second-hand from their
		// authors); the geometric mean is worked by hand.
		{"8 reps with 2 in reserve", athlete.Set{WeightKg: 100, Reps: 8, RIR: new(2.0)}, math.Cbrt(133.3333 * 133.3333 * 134.7497), 10},
		{"5 reps to failure", athlete.Set{WeightKg: 100, Reps: 5, RIR: new(0.0)}, math.Cbrt(116.6667 * 112.5 * 116.5828), 5},
		{"a single is itself", athlete.Set{WeightKg: 140, Reps: 1, RIR: new(0.0)}, 140, 1},
		{"no RIR stands for 2", athlete.Set{WeightKg: 100, Reps: 8}, math.Cbrt(133.3333 * 133.3333 * 134.7497), 10},
		{"12 reps without RIR", athlete.Set{WeightKg: 100, Reps: 12}, math.Cbrt(140 * 144 * 100 / (.488 + .538*math.Exp(-.9)) / 100 * 100), 12},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m, err := training.MaximumOf(tt.set)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(m.Kg-tt.kg) > 0.01 || m.Reps != tt.reps {
				t.Errorf("%.3f kg from %v reps, want %.3f from %v", m.Kg, m.Reps, tt.kg, tt.reps)
			}
			// The formulas' error is 2 to 5 % (reference sheet, second-hand).
			if m.FormulaSE < 0.02 || m.FormulaSE > 0.05 {
				t.Errorf("formula error %.3f is outside 0.02 to 0.05", m.FormulaSE)
			}
		})
	}
}

func TestMaximumRefusesWhatNoFormulaHoldsFor(t *testing.T) {
	for _, s := range []athlete.Set{
		{WeightKg: 100, Reps: 13, RIR: new(0.0)},
		{WeightKg: 100, Reps: 8, RIR: new(5.0)},
		{WeightKg: 100, Reps: 15},
		{WeightKg: 0, Reps: 8, RIR: new(1.0)},
		{WeightKg: 100, Reps: 8, RIR: new(math.NaN())},
	} {
		if m, err := training.MaximumOf(s); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%+v gives %+v, %v; want Invalid", s, m, err)
		}
	}
}

// Zourdos et al. 2016: RIR is judged worse further from failure.
func TestErrorGrowsAwayFromFailure(t *testing.T) {
	last := 0.0
	for _, rir := range []float64{3, 4, 5, 6} {
		m, err := training.MaximumOf(athlete.Set{WeightKg: 100, Reps: 5, RIR: &rir})
		if err != nil {
			t.Fatal(err)
		}
		if m.SE() <= last {
			t.Errorf("standard error %.3f at %v in reserve is not above %.3f", m.SE(), rir, last)
		}
		last = m.SE()
	}
}

// season logs a lift twice a week: truth(week) is the true maximum, kg.
func season(r *rand.Rand, exercise string, weeks int, noise float64, truth func(week float64) float64) []athlete.Set {
	var sets []athlete.Set
	for session := range 2 * weeks {
		week := float64(session) / 2
		kg := truth(week) * math.Exp(noise*r.NormFloat64())
		// 6 repetitions, 2 in reserve: the share of the blend, Epley, Brzycki and
		// Wathan at 8.
		sets = append(sets, athlete.Set{
			Date: start.AddDays(session*7/2 + session%2), Exercise: exercise,
			WeightKg: kg / math.Cbrt(1.266667*1.241379*1.276736), Reps: 6, RIR: new(2.0), Order: 1,
		})
	}
	return sets
}

func TestStrengthTellsALastingDropFromABadDay(t *testing.T) {
	steady := func(float64) float64 { return 150 }
	baselineTo, asOf := start.AddDays(41), start.AddDays(16*7)
	bad := season(rand.New(rand.NewPCG(1, 1)), "Bench Press", 16, 0.01, steady)
	bad[len(bad)-1].WeightKg *= 0.85
	r := training.Standard().Strength(training.LiftLog{Sets: bad, BaselineFrom: start, BaselineTo: baselineTo, AsOf: asOf})
	lift := r.Lifts[0]
	if kept := lift.Retention.Pct.Value; math.Abs(kept-100) > 1.5 {
		t.Errorf("after one bad day %.1f %% is kept, want about 100", kept)
	}
	if w := lift.Series[len(lift.Series)-1].Weight; w > 0.3 {
		t.Errorf("a day 15 %% down has weight %.2f, want below 0.3", w)
	}
	if lift.Retention.LossOver5 > 0.2 {
		t.Errorf("P(loss > 5 %%) = %.2f after one bad day", lift.Retention.LossOver5)
	}

	dropped := season(rand.New(rand.NewPCG(1, 1)), "Bench Press", 16, 0.01, func(week float64) float64 {
		if week >= 12 {
			return 150 * 0.93
		}
		return 150
	})
	r = training.Standard().Strength(training.LiftLog{Sets: dropped, BaselineFrom: start, BaselineTo: baselineTo, AsOf: asOf})
	got := r.Lifts[0].Retention
	if math.Abs(got.Pct.Value-93) > 2 || got.LossOver2p5 < 0.9 {
		t.Errorf("four weeks at 93 %%: %.1f %% kept, P(loss > 2.5 %%) = %.2f", got.Pct.Value, got.LossOver2p5)
	}
}

func TestStrengthWithIntervalsOnKg(t *testing.T) {
	sets := season(rand.New(rand.NewPCG(2, 1)), "squats", 10, 0.01, func(float64) float64 { return 180 })
	r := training.Standard().Strength(training.LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(34), AsOf: start.AddDays(70)})
	l := r.Lifts[0]
	if l.Exercise != "back squat" || !l.Big || l.Sessions != 20 || len(l.Series) != 20 {
		t.Errorf("lift = %s, big %v, %d sessions, %d points", l.Exercise, l.Big, l.Sessions, len(l.Series))
	}
	if math.Abs(l.E1RMKg.Value-180) > 3 || math.Abs(*l.BaselineKg-180) > 3 {
		t.Errorf("e1RM %.1f and baseline %.1f, want about 180", l.E1RMKg.Value, *l.BaselineKg)
	}
	// At 8 repetitions the formulas' error is over 4 %: 90 % is +- 7 % or more.
	if half := (l.E1RMKg.High90 - l.E1RMKg.Low90) / 2; half < 0.065*180 {
		t.Errorf("90 %% interval is +- %.1f kg, narrower than the formulas' own error", half)
	}
	point := l.Series[10].LevelKg
	if !(point.Low90 < point.Low50 && point.Low50 < point.Value && point.Value < point.High50 && point.High50 < point.High90) {
		t.Errorf("intervals are out of order: %+v", point)
	}
}

func TestOverallFromBigLiftsOnly(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	var sets []athlete.Set
	for name, kept := range map[string]float64{"bench press": 0.97, "deadlift": 0.97, "dumbbell curl": 0.8} {
		sets = append(sets, season(r, name, 16, 0, func(week float64) float64 { return 100 * (1 - (1-kept)*math.Min(1, week/12)) })...)
	}
	report := training.Standard().Strength(training.LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(13), AsOf: start.AddDays(112)})
	if strings.Join(report.OverallFrom, ",") != "bench press,deadlift" {
		t.Fatalf("overall is from %v", report.OverallFrom)
	}
	if got := report.Overall.Pct.Value; math.Abs(got-97) > 1 {
		t.Errorf("overall retention %.1f %%, want about 97: the curl must not count", got)
	}
}

func TestStrengthSaysWhatItCannotTell(t *testing.T) {
	day := func(n int, s athlete.Set) athlete.Set {
		s.Date = start.AddDays(n)
		return s
	}
	sets := []athlete.Set{
		day(0, athlete.Set{Exercise: "bench press", WeightKg: 100, Reps: 6}),
		day(3, athlete.Set{Exercise: "bench press", WeightKg: 100, Reps: 6}),
		day(3, athlete.Set{Exercise: "pull up", WeightKg: 20, Reps: 6, RIR: new(1.0)}),
		day(4, athlete.Set{Exercise: "leg extension", WeightKg: 60, Reps: 20, RIR: new(1.0)}),
		day(4, athlete.Set{Exercise: "lateral raise", WeightKg: 0, Reps: 10, RIR: new(1.0)}),
	}
	r := training.Standard().Strength(training.LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(28), AsOf: start.AddDays(60)})
	if r.Overall != nil || len(r.Lifts) != 1 || r.Lifts[0].Retention != nil {
		t.Errorf("retention from two sessions: %+v", r)
	}
	all := strings.Join(r.Cannot, "\n")
	for _, want := range []string{
		"bench press: 2 sessions", "pull up: the load is mostly the body", "leg extension: sets of more than 12",
		"lateral raise: sets logged without weight", "2 of 2 best sets have no repetitions in reserve", "no lift has enough sessions",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("nothing said of %q in:\n%s", want, all)
		}
	}
	if empty := training.Standard().Strength(training.LiftLog{BaselineFrom: start, BaselineTo: start, AsOf: start}); len(empty.Lifts) != 0 || len(empty.Cannot) == 0 {
		t.Errorf("an empty log gives %+v", empty)
	}
}

func TestTheBestSetOfADayCounts(t *testing.T) {
	var sets []athlete.Set
	for i, kg := range []float64{100, 120, 110} {
		sets = append(sets, athlete.Set{Date: start, Exercise: "squat", WeightKg: kg, Reps: 1, RIR: new(0.0), Order: i + 1})
	}
	l := training.Standard().Strength(training.LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start, AsOf: start}).Lifts[0]
	if l.Sessions != 1 || l.Series[0].AsSetKg != 120 || math.Abs(l.Series[0].BestKg-120) > 1e-9 {
		t.Errorf("%d sessions, best %+v; want one of 120 kg", l.Sessions, l.Series[0])
	}
}

// A variant near a known name keeps its own series; an unknown one is tracked.
func TestVariantsAreNotMerged(t *testing.T) {
	var sets []athlete.Set
	for i, name := range []string{"squat", "Squats", "paused squat", "zercher carry"} {
		sets = append(sets, athlete.Set{Date: start.AddDays(i), Exercise: name, WeightKg: 100, Reps: 5, RIR: new(1.0)})
	}
	r := training.Standard().Strength(training.LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(5), AsOf: start.AddDays(6)})
	var got []string
	for _, l := range r.Lifts {
		got = append(got, l.Exercise)
	}
	if strings.Join(got, ",") != "back squat,paused squat,zercher carry" {
		t.Errorf("lifts = %v", got)
	}
	if r.Lifts[2].Known || r.Lifts[2].Big {
		t.Errorf("an unknown exercise is known %v, big %v", r.Lifts[2].Known, r.Lifts[2].Big)
	}
}

// What comes after the date, and the order in which sets are given, change
// nothing.
func TestStrengthIsAsOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 9))
		sets := season(r, "deadlift", 12, 0.03, func(week float64) float64 { return 200 - week })
		sets = append(sets, season(r, "overhead press", 12, 0.03, func(float64) float64 { return 60 })...)
		asOf := start.AddDays(rapid.IntRange(20, 90).Draw(t, "as of"))
		var past []athlete.Set
		for _, s := range sets {
			if s.Date <= asOf {
				past = append(past, s)
			}
		}
		want := training.Standard().Strength(training.LiftLog{Sets: past, BaselineFrom: start, BaselineTo: start.AddDays(20), AsOf: asOf})
		r.Shuffle(len(sets), func(i, j int) { sets[i], sets[j] = sets[j], sets[i] })
		got := training.Standard().Strength(training.LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(20), AsOf: asOf})
		if diff := cmp.Diff(want, got, cmpopts.IgnoreUnexported(training.Retention{}, training.Lift{}, training.StrengthReport{})); diff != "" {
			t.Fatal(diff)
		}
	})
}
