package training_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"glidepath/athlete"
	"glidepath/training"
)

// Six lifts twice a week for a year, three sets each, as a roster's athlete logs.
func BenchmarkStrength(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	var sets []athlete.Set
	for session := range 104 {
		for i, lift := range []string{"back squat", "bench press", "romanian deadlift", "overhead press", "barbell row", "lat pulldown"} {
			level := 120 * math.Exp(0.02*r.NormFloat64()-0.0005*float64(session))
			for set := range 3 {
				sets = append(sets, athlete.Set{
					Date: start.AddDays(session * 7 / 2), Exercise: lift, WeightKg: math.Round(level * (1 - 0.02*float64(set)) / 1.3),
					Reps: 5 + (session/8+i)%5, RIR: new(float64(1 + r.IntN(3))), Order: 3*i + set + 1,
				})
			}
		}
	}
	c := training.Standard()
	b.ReportAllocs()
	for b.Loop() {
		c.Strength(training.LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: start.AddDays(364)})
	}
}
