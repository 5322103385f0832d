package dynamics

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A crowd steps as each of its bodies does alone, from the lean in a deep deficit
// to the full in a surplus.
func TestCrowdIsEachOfItsBodies(t *testing.T) {
	m, first := trainedMale()
	r := rand.New(rand.NewPCG(1, 2))
	var c Crowd
	const n = CrowdSize - 3
	alone, models := make([]State, n), make([]Model, n)
	for i := range n {
		alone[i], models[i] = first, m
		alone[i].FatKg = 0.6 + 25*r.Float64()
		models[i].RestKcal += 200 * r.NormFloat64()
		models[i].ActivityYield = r.Float64()
		models[i].Partition.LossScale = math.Exp(r.NormFloat64() - 1)
		c.Put(i, &alone[i])
		c.RestKcal[i], c.ActivityYield[i], c.LossScale[i] = models[i].RestKcal, models[i].ActivityYield, models[i].Partition.LossScale
	}
	for range 40 {
		activity := 12 * r.Float64()
		for i := range n {
			in := Input{EnergyKcal: 800 + 4000*r.Float64(), CarbohydrateKcal: 6000 * r.Float64(), ActivityKcalPerKg: activity}
			c.EnergyKcal[i], c.CarbohydrateKcal[i] = in.EnergyKcal, in.CarbohydrateKcal
			models[i].Step(&alone[i], in)
		}
		m.StepCrowd(&c, activity, n)
	}
	for i := range n {
		got, want := c.At(i), alone[i]
		for _, v := range [][2]float64{
			{got.FatKg, want.FatKg},
			{got.LeanKg, want.LeanKg},
			{got.GlycogenKg, want.GlycogenKg},
			{got.FluidKg, want.FluidKg},
			{got.AdaptationKcal, want.AdaptationKcal},
			{got.IntakeMeanKcal, want.IntakeMeanKcal},
		} {
			// Not to the bit, since a compiler may fuse one of them and not the other.
			if math.Abs(v[0]-v[1]) > 1e-9*(1+math.Abs(v[1])) {
				t.Fatalf("body %d: %+v in the crowd, %+v alone", i, got, want)
			}
		}
	}
	if c.At(n) != (State{}) {
		t.Error("a place beyond n was stepped")
	}
}

// A day of many bodies, one after another and as a crowd.
func BenchmarkManyBodies(b *testing.B) {
	m, s := trainedMale()
	var c Crowd
	bodies := make([]State, CrowdSize)
	for i := range bodies {
		s.FatKg = 8 + float64(i)/5
		bodies[i] = s
		c.Put(i, &s)
		c.RestKcal[i], c.ActivityYield[i], c.LossScale[i] = m.RestKcal, m.ActivityYield, m.Partition.LossScale
		c.EnergyKcal[i], c.CarbohydrateKcal[i] = 2300, 1100
	}
	b.Run("alone", func(b *testing.B) {
		for b.Loop() {
			for i := range bodies {
				m.RestKcal, m.ActivityYield, m.Partition.LossScale = c.RestKcal[i], c.ActivityYield[i], c.LossScale[i]
				m.Step(&bodies[i], Input{EnergyKcal: c.EnergyKcal[i], CarbohydrateKcal: c.CarbohydrateKcal[i], ActivityKcalPerKg: 6})
			}
		}
	})
	b.Run("crowd", func(b *testing.B) {
		for b.Loop() {
			m.StepCrowd(&c, 6, CrowdSize)
		}
	})
}
