package training_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"glidepath/athlete"
	"glidepath/training"
)

// world is how simulated strength behaves, apart from the engine's settings.
type world struct {
	wander float64 // standard deviation of the level's change over a week
	noise  float64 // standard deviation of a day
	slump  float64 // chance of a day some 10 % down
	fall   float64 // steady loss a week
}

// simulate a lift twice a week for 24 weeks, with the true change from the mean
// of the first 8 weeks to the end.
func (w world) simulate(r *rand.Rand) (sets []athlete.Set, trueRatio float64) {
	level, baseline := math.Log(120), 0.0
	for session := range 48 {
		level += w.wander/math.Sqrt2*r.NormFloat64() - w.fall/2
		if session < 16 {
			baseline += level / 16
		}
		day := level + w.noise*r.NormFloat64()
		if r.Float64() < w.slump {
			day -= 0.1
		}
		// The lifter judges RIR with an error of 0.8: what shows is the repetitions
		// done with a load that is 75 % of the day's maximum, about 10 to failure.
		rir := math.Max(0, math.Min(4, 2+0.8*r.NormFloat64()))
		sets = append(sets, athlete.Set{
			Date: start.AddDays(session * 7 / 2), Exercise: "bench press",
			WeightKg: math.Exp(day) / 1.338, Reps: 8, RIR: &rir,
		})
	}
	return sets, math.Exp(level - baseline)
}

// A 90 % interval must hold the truth about 90 % of the time: in a world as the
// engine assumes, and, within a wider margin, in worlds that it does not.
func TestRetentionIntervalsAreCalibrated(t *testing.T) {
	tests := []struct {
		name      string
		w         world
		low, high float64
	}{
		{"as assumed", world{wander: 0.0075, noise: 0.02}, 0.86, 0.95},
		{"bad days", world{wander: 0.0075, noise: 0.02, slump: 0.1}, 0.86, 0.97},
		{"steady fall", world{wander: 0.005, noise: 0.02, fall: 0.004}, 0.83, 0.95},
		{"noisy lifter", world{wander: 0.0075, noise: 0.04}, 0.86, 0.95},
	}
	for i, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(uint64(i), 77))
			const athletes = 400
			held, bias := 0, 0.0
			for range athletes {
				sets, ratio := tt.w.simulate(r)
				kept := training.Standard().Strength(training.LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: start.AddDays(165)}).Lifts[0].Retention
				if kept.Pct.Low90 <= 100*ratio && 100*ratio <= kept.Pct.High90 {
					held++
				}
				bias += (kept.Pct.Value - 100*ratio) / athletes
			}
			got := float64(held) / athletes
			t.Logf("90 %% intervals held %.3f; mean error %+.2f points", got, bias)
			if got < tt.low || got > tt.high {
				t.Errorf("90 %% intervals held %.3f of the time, want %.2f to %.2f", got, tt.low, tt.high)
			}
		})
	}
}
