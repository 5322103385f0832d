package training

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"glidepath/athlete"
)

// after is the strength told at the end of so many weeks, with a baseline of eight.
func after(sets []athlete.Set, weeks int) StrengthReport {
	return Standard().Strength(LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: start.AddDays(7*weeks - 1)})
}

func unchanged(int) float64 { return 0 }

// takeOver is one exercise for 14 weeks and then another, from a number of weeks after
// (before, where negative). newcomer is how far below strength the new one begins;
// that goes by a factor e in ten days.
func takeOver(r *rand.Rand, from, to string, gap, weeks int, newcomer float64, kept func(day int) float64) []athlete.Set {
	h := ordinary
	sets := h.train(r, []gymLift{newGymLift(r, from)}, 0, 14, kept)
	return append(sets, h.train(r, []gymLift{newGymLift(r, to)}, 14+gap, weeks, func(day int) float64 {
		return kept(day) - newcomer*math.Exp(-float64(day-7*(14+gap))/10)
	})...)
}

// The interval must hold the truth over a swap, with overlap and with a gap, for
// lifters who lose 0.35 % a week and learn the new exercise fast or slowly.
func TestBridgesAreCalibrated(t *testing.T) {
	const lifters, weeks = 200, 22
	kept := func(day int) float64 { return -0.0005 * math.Max(0, float64(day-56)) }
	for i, tt := range []struct {
		name     string
		gap      int
		newcomer float64
		low      float64
	}{
		{"three weeks of both", -3, 0.03, 0.85},
		{"one week to the next", 0, 0.03, 0.90},
		{"as good at once", 0, 0, 0.90},
		{"two weeks apart", 2, 0.03, 0.90},
		{"far below at first", 0, 0.06, 0.85},
	} {
		r := rand.New(rand.NewPCG(uint64(100+i), 7))
		held, bias := 0, 0.0
		for range lifters {
			got := after(takeOver(r, "bench press", "dumbbell bench press", tt.gap, weeks, tt.newcomer, kept), weeks).Overall
			truth := 100 * math.Exp(kept(7*weeks-1))
			if got.Pct.Low90 <= truth && truth <= got.Pct.High90 {
				held++
			}
			bias += (got.Pct.Value - truth) / lifters
		}
		t.Logf("%s: 90 %% intervals held %.3f; mean error %+.2f points", tt.name, float64(held)/lifters, bias)
		if float64(held)/lifters < tt.low || math.Abs(bias) > 3.5 {
			t.Errorf("%s: 90 %% intervals held %.3f, mean error %+.2f points", tt.name, float64(held)/lifters, bias)
		}
	}
}

func TestWhatIsNotBridged(t *testing.T) {
	r := func() *rand.Rand { return rand.New(rand.NewPCG(1, 3)) }
	h := ordinary
	for name, sets := range map[string][]athlete.Set{
		"another muscle":      takeOver(r(), "barbell curl", "leg extension", 0, 22, 0, unchanged),
		"long after":          takeOver(r(), "bench press", "chest press", 8, 30, 0, unchanged),
		"a name nobody knows": takeOver(r(), "bench press", "zercher carry", 0, 22, 0, unchanged),
		"one beside another":  takeOver(r(), "bench press", "chest press", -14, 14, 0, unchanged),
		"an old one that goes on": append(takeOver(r(), "bench press", "chest press", 0, 22, 0, unchanged),
			h.train(r(), []gymLift{newGymLift(r(), "bench press")}, 14, 22, unchanged)...),
	} {
		if got := after(sets, 22); len(got.Bridges) != 0 {
			t.Errorf("%s: %+v", name, got.Bridges)
		}
	}
}

// A variant takes over from the lift it is a variant of rather than from another of the
// same kind, a third exercise from the second, and the whole goes on from the first.
func TestChainsOfExercises(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 1))
	h := ordinary
	lift := func(name string) []gymLift { return []gymLift{newGymLift(r, name)} }
	sets := h.train(r, lift("back squat"), 0, 12, unchanged)
	sets = append(sets, h.train(r, lift("leg press"), 0, 12, unchanged)...)
	sets = append(sets, h.train(r, lift("paused back squat"), 12, 18, unchanged)...)
	sets = append(sets, h.train(r, lift("belt squat"), 18, 24, unchanged)...)
	got := after(sets, 24)
	if len(got.Bridges) != 2 || got.Bridges[0].From != "back squat" || got.Bridges[1].From != "paused back squat" {
		t.Fatalf("bridges %+v", got.Bridges)
	}
	if strings.Join(got.OverallFrom, ",") != "belt squat" {
		t.Errorf("overall from %v: a small lift in a big one's place stands for it", got.OverallFrom)
	}
	if p := got.Overall.Pct; p.Low90 > 100 || p.High90 < 100 {
		t.Errorf("nothing was lost, yet %.1f to %.1f %% is kept", p.Low90, p.High90)
	}
	if series := got.OverallSeries(); len(series) < 20 || series[0].Date > start.AddDays(7) {
		t.Errorf("the series of the whole begins anew: %d points from %s", len(series), series[0].Date)
	}
}
