package training

import (
	"math/rand/v2"
	"testing"

	"glidepath/athlete"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// Loads in another unit, the whole log moved in time, another way to write an exercise
// and the order of the log leave what is kept as it is.
func TestWhatRetentionDoesNotDependOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "lifter"), 12))
		h := ordinary
		h.lifts = []string{"bench press", "back squat"}
		sets := h.career(r, 14, func(day int) float64 { return -0.0005 * float64(day) })
		days := rapid.IntRange(-2000, 2000).Draw(t, "days")
		by := rapid.Float64Range(0.6, 1.6).Draw(t, "scale")
		moved := make([]athlete.Set, len(sets))
		for i, s := range sets {
			s.Date, s.WeightKg = s.Date.AddDays(days), s.WeightKg*by
			s.Exercise = map[string]string{"bench press": "Barbell Bench Press", "back squat": "Squats"}[s.Exercise]
			moved[i] = s
		}
		r.Shuffle(len(moved), func(i, j int) { moved[i], moved[j] = moved[j], moved[i] })
		want := after(sets, 14)
		got := Standard().Strength(LiftLog{
			Sets: moved, BaselineFrom: start.AddDays(days), BaselineTo: start.AddDays(days + 55), AsOf: start.AddDays(days + 14*7 - 1),
		})
		near := cmp.Options{cmpopts.EquateApprox(1e-6, 1e-6), cmpopts.IgnoreUnexported(Retention{})}
		if diff := cmp.Diff(want.Overall, got.Overall, near); diff != "" {
			t.Fatal(diff)
		}
		if diff := cmp.Diff(want.Muscles, got.Muscles, near); diff != "" {
			t.Fatal(diff)
		}
		for i := range want.Lifts {
			if diff := cmp.Diff(want.Lifts[i].E1RMKg.Scale(by), got.Lifts[i].E1RMKg, near); diff != "" {
				t.Fatal(diff)
			}
		}
	})
}

// Chances and intervals belong together, in every part of a report.
func TestReportsAreCoherent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "lifter"), 13))
		h := ordinary
		h.lifts = sixLifts[:rapid.IntRange(1, 6).Draw(t, "lifts")]
		h.split = rapid.Bool().Draw(t, "split")
		fall := rapid.Float64Range(0, 0.002).Draw(t, "fall a day")
		weeks := rapid.IntRange(10, 20).Draw(t, "weeks")
		rep := Standard().Strength(LiftLog{
			Sets:         h.career(r, weeks, func(day int) float64 { return -fall * float64(day) }),
			BodyWeights:  lighter(weeks),
			BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: start.AddDays(7*weeks - 1),
		})
		check := func(k *Retention) {
			p := k.Pct
			if !(0 < p.Low90 && p.Low90 < p.Low50 && p.Low50 < p.Value && p.Value < p.High50 && p.High50 < p.High90) {
				t.Fatalf("intervals out of order: %+v", p)
			}
			if k.LossOver5 > k.LossOver2p5 || (p.Value < 97.5) != (k.LossOver2p5 > 0.5) || (p.High90 < 95) != (k.LossOver5 > 0.95) {
				t.Fatalf("%+v", k)
			}
		}
		check(rep.Overall)
		check(rep.Beyond)
		if rep.Loss.Chance != rep.Overall.LossOver2p5 || rep.Loss.Found && rep.Loss.Chance < likelyLost {
			t.Fatalf("%+v beside %+v", rep.Loss, rep.Overall)
		}
		for _, m := range rep.Muscles {
			check(&m.Retention)
		}
		for _, l := range rep.Lifts {
			check(l.Retention)
			check(l.Beyond)
		}
	})
}
