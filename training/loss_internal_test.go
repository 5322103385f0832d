package training

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
)

// told are the days of training, from one day to before another, on which a loss is
// found, with what was known by then.
func told(sets []athlete.Set, from, to int) (days []int) {
	last := -1
	for _, s := range sets {
		day := s.Date.DaysSince(start)
		if day == last || day < from || day >= to {
			continue
		}
		last = day
		r := Standard().Strength(LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: s.Date})
		if r.Loss != nil && r.Loss.Found {
			days = append(days, day)
		}
	}
	return days
}

// A true drop of 5 % is found within three weeks of two sessions a week in nine of ten
// lifters, and under one in twenty who lost nothing is told of a loss in as long: with
// four lifts in each session, or with six of which each session has three. The lifters
// are not as the filter assumes (see habits), and their seeds are none that the numbers
// were set on. So few of them bear the figures out only roughly; docs/training.md has
// those of a thousand, from which the bounds for twenty weeks leave room.
func TestATrueDropIsFoundAndNoOther(t *testing.T) {
	const lifters, seed = 120, 424242
	for _, tt := range []struct {
		lifts                  []string
		split                  bool
		found, false3, false20 float64 // least and most shares
	}{
		{sixLifts[:4], false, 0.90, 0.05, 0.08},
		{sixLifts, true, 0.85, 0.05, 0.08},
	} {
		h := ordinary
		h.lifts, h.split = tt.lifts, tt.split
		found, alarmed, alarmedSoon := 0, 0, 0
		for i := range uint64(lifters) {
			steady := h.career(rand.New(rand.NewPCG(seed+i, 1)), 28, unchanged)
			days := told(steady, 56, 196)
			if len(days) > 0 {
				alarmed++
			}
			if slices.ContainsFunc(days, func(d int) bool { return d >= 98 && d < 119 }) {
				alarmedSoon++
			}
			r := rand.New(rand.NewPCG(seed+i, 2))
			at := 63 + r.IntN(80)
			dropped := h.career(r, at/7+4, func(day int) float64 {
				if day >= at {
					return math.Log(0.95)
				}
				return 0
			})
			if len(told(dropped, at, at+21)) > 0 {
				found++
			}
		}
		t.Logf("%d lifts: found %d of %d; told of none: %d in three weeks, %d in twenty", len(tt.lifts), found, lifters, alarmedSoon, alarmed)
		if float64(found) < tt.found*lifters || float64(alarmedSoon) >= tt.false3*lifters || float64(alarmed) > tt.false20*lifters {
			t.Errorf("%d lifts: found %d, false %d and %d of %d; want %+v", len(tt.lifts), found, alarmedSoon, alarmed, lifters, tt)
		}
	}
}

// One day cannot make a loss, however bad: without it one must already have been more
// likely than not. (The filter's own reckoning without the last day asks for 0.6, with
// the weights that all days gave.)
func TestOneDayIsNoLoss(t *testing.T) {
	h := ordinary
	h.lifts = sixLifts[:4]
	for i := range uint64(40) {
		sets := h.career(rand.New(rand.NewPCG(i, 77)), 16, unchanged)
		last := sets[len(sets)-1].Date
		before := after(slices.DeleteFunc(slices.Clone(sets), func(s athlete.Set) bool { return s.Date == last }), 16).Loss.Chance
		for j := range sets {
			if sets[j].Date == last {
				sets[j].WeightKg *= 0.75
			}
		}
		if got := after(sets, 16).Loss; got.Found && before < 0.5 {
			t.Errorf("lifter %d: found after one bad day, before which the chance was %.2f: %+v", i, before, got)
		}
	}
}

// press logs a lift twice a week with the load that leaves eight repetitions at a
// true maximum, by the blend, without noise.
func press(t *testing.T, name string, from, to int, kg func(day int) float64) (sets []athlete.Set) {
	t.Helper()
	for session := 2 * from; session < 2*to; session++ {
		day := session * 7 / 2
		const reps = 8.0
		one, _, err := blended(1, reps)
		if err != nil {
			t.Fatal(err)
		}
		sets = append(sets, athlete.Set{
			Date: start.AddDays(day), Exercise: name, WeightKg: kg(day) / one, Reps: reps - 2, RIR: new(2.0), Order: 1,
		})
	}
	return sets
}

func constant(kg float64) func(int) float64 { return func(int) float64 { return kg } }

// An exercise that takes over carries the retention on, whatever its own load is.
func TestASwapIsBridged(t *testing.T) {
	sets := press(t, "back squat", 0, 14, func(day int) float64 {
		if day >= 70 {
			return 150 * 0.96
		}
		return 150
	})
	sets = append(sets, press(t, "hack squat", 14, 24, constant(220))...)
	asOf := start.AddDays(24 * 7)
	r := Standard().Strength(LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: asOf})
	if len(r.Bridges) != 1 || r.Bridges[0].From != "back squat" || r.Bridges[0].To != "hack squat" || !strings.Contains(r.Bridges[0].Sentence, "took over from back squat") {
		t.Fatalf("bridges %+v", r.Bridges)
	}
	if r.Overall == nil || math.Abs(r.Overall.Pct.Value-96) > 1 {
		t.Fatalf("%+v is kept, want 96 %%", r.Overall)
	}
	i := slices.IndexFunc(r.Lifts, func(l Lift) bool { return l.Exercise == "hack squat" })
	if l := r.Lifts[i]; !slices.Equal(l.BridgedFrom, []string{"back squat"}) || l.Retention == nil || math.Abs(l.E1RMKg.Value-220) > 8 {
		t.Errorf("the lift that took over is %+v", l)
	}
	direct := Standard().Strength(LiftLog{Sets: press(t, "back squat", 0, 24, constant(150)), BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: asOf})
	if wide, narrow := r.Overall.Pct, direct.Overall.Pct; wide.High90-wide.Low90 <= narrow.High90-narrow.Low90 {
		t.Error("a bridge leaves the interval no wider than one lift all along")
	}
	// Another pattern takes over nothing.
	other := press(t, "back squat", 0, 14, constant(150))
	other = append(other, press(t, "bench press", 14, 24, constant(100))...)
	if r := Standard().Strength(LiftLog{Sets: other, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: asOf}); len(r.Bridges) != 0 || r.Overall != nil {
		t.Errorf("a press took over from a squat: %+v", r.Bridges)
	}
}

// lighter is a body that goes from 90 to 81 kg between the weeks 10 and 20.
func lighter(weeks int) (out []DatedWeight) {
	for d := range 7 * weeks {
		out = append(out, DatedWeight{start.AddDays(d), 90 - 9*math.Max(0, math.Min(1, float64(d-70)/70))})
	}
	return out
}

// Strength that falls as a lighter body explains is less of a loss beyond it, and
// more against body weight: by hand, 0.9^(1/3) = 0.9655 of it is expected at the
// exponent of 1/3, and 0.9655/0.9 = 1.073.
func TestALighterBodyExplainsAPart(t *testing.T) {
	weights := lighter(24)
	sets := press(t, "bench press", 0, 24, func(day int) float64 { return 120 * math.Cbrt(weights[day].Kg/90) })
	log := LiftLog{Sets: sets, BodyWeights: weights, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: start.AddDays(24 * 7)}
	r := Standard().Strength(log)
	if math.Abs(r.Overall.Pct.Value-96.55) > 1 || r.Beyond == nil || math.Abs(r.Beyond.Pct.Value-100) > 1.5 {
		t.Errorf("%.1f %% is kept and %+v beyond body weight, want 96.6 and 100", r.Overall.Pct.Value, r.Beyond)
	}
	if rel := r.Relative; rel == nil || math.Abs(rel.Pct.Value-107.3) > 1.5 || math.Abs(rel.BodyKg-81) > 0.1 || math.Abs(rel.BaselineBodyKg-90) > 0.1 {
		t.Errorf("against body weight it is %+v, want 107 %% at 81 kg of 90", rel)
	}
	log.BodyWeights = nil
	if r := Standard().Strength(log); r.Beyond != nil || r.Relative != nil || r.Overall == nil {
		t.Errorf("without body weight: beyond %+v, relative %+v", r.Beyond, r.Relative)
	}
}

// A pull-up lifts 95.8 % of the body (de Leva 1996) and what hangs on it: the same
// repetitions with a lighter body are less strength.
func TestThePullUpIsTrackedWithBodyWeight(t *testing.T) {
	weights := lighter(24)
	var sets []athlete.Set
	for session := range 48 {
		sets = append(sets, athlete.Set{Date: start.AddDays(session * 7 / 2), Exercise: "pull up", WeightKg: 10, Reps: 6, RIR: new(2.0), Order: 1})
	}
	log := LiftLog{Sets: sets, BodyWeights: weights, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: start.AddDays(24 * 7)}
	r := Standard().Strength(log)
	want := 100 * (0.958*81 + 10) / (0.958*90 + 10)
	if len(r.Lifts) != 1 || r.Lifts[0].Retention == nil || math.Abs(r.Lifts[0].Retention.Pct.Value-want) > 1 || r.Lifts[0].BodyShare != 0.958 {
		t.Fatalf("lifts %+v, want one with %.1f %% kept", r.Lifts, want)
	}
	log.BodyWeights = nil
	if r := Standard().Strength(log); len(r.Lifts) != 0 || !strings.Contains(strings.Join(r.Cannot, " "), "whose weight is not known") {
		t.Errorf("without body weight: %d lifts, cannot %q", len(r.Lifts), r.Cannot)
	}
}

// How repetitions count is learned: a lifter whose true curve is not the blend's, and
// who goes from fives to tens, has lost nothing.
func TestAChangeOfRepetitionsIsNoLoss(t *testing.T) {
	var sets []athlete.Set
	for session := range 48 {
		reps := []int{4, 8}[session%2]
		if session >= 36 {
			reps = 8
		}
		// A true repetition costs 2.2 % of the maximum, where the blend has some 3 %.
		load := 150 * math.Exp(-0.022*float64(reps+1))
		sets = append(sets, athlete.Set{Date: start.AddDays(session * 7 / 2), Exercise: "bench press", WeightKg: load, Reps: reps, RIR: new(2.0), Order: 1})
	}
	r := Standard().Strength(LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: start.AddDays(24 * 7)})
	if math.Abs(r.Overall.Pct.Value-100) > 1.5 || r.Loss.Found {
		t.Errorf("%.1f %% is kept, loss %+v", r.Overall.Pct.Value, r.Loss)
	}
}

// Scaling every load changes no share, and muscles have the lifts that train them.
func TestRetentionHasNoUnit(t *testing.T) {
	h := ordinary
	h.lifts = sixLifts
	sets := h.career(rand.New(rand.NewPCG(9, 9)), 20, func(int) float64 { return 0 })
	read := func(k float64) StrengthReport {
		scaled := slices.Clone(sets)
		for i := range scaled {
			scaled[i].WeightKg *= k
		}
		return Standard().Strength(LiftLog{Sets: scaled, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: start.AddDays(139)})
	}
	a, b := read(1), read(1/athlete.KgPerPound)
	near(t, "retention", b.Overall.Pct.Value, a.Overall.Pct.Value, 1e-6)
	near(t, "chance", b.Loss.Chance, a.Loss.Chance, 1e-6)
	from := map[athlete.Muscle][]string{}
	for i, m := range a.Muscles {
		from[m.Muscle] = m.From
		near(t, string(m.Muscle), b.Muscles[i].Retention.Pct.Value, m.Retention.Pct.Value, 1e-6)
	}
	if !slices.Contains(from[athlete.Chest], "bench press") || !slices.Contains(from[athlete.Glutes], "back squat") || slices.Contains(from[athlete.Chest], "back squat") {
		t.Errorf("muscles from %v", from)
	}
	if last := a.OverallSeries(); last[len(last)-1].Date != a.AsOf {
		t.Errorf("the series ends on %s", last[len(last)-1].Date)
	}
}
