package dynamics

// CrowdSize is how many bodies a Crowd has room for.
const CrowdSize = 64

// Crowd is many bodies as a structure of arrays, to be stepped together: what a
// State has, what differs between them in a Model, and a day's inputs. They share
// the rest of the Model and the day's activity.
type Crowd struct {
	FatKg, LeanKg, GlycogenKg, FluidKg, AdaptationKcal, IntakeMeanKcal [CrowdSize]float64

	RestKcal, ActivityYield, LossScale [CrowdSize]float64

	EnergyKcal, CarbohydrateKcal [CrowdSize]float64
}

// Put writes a state to place i.
func (c *Crowd) Put(i int, s *State) {
	c.FatKg[i], c.LeanKg[i], c.GlycogenKg[i], c.FluidKg[i] = s.FatKg, s.LeanKg, s.GlycogenKg, s.FluidKg
	c.AdaptationKcal[i], c.IntakeMeanKcal[i] = s.AdaptationKcal, s.IntakeMeanKcal
}

// At is the state at place i.
func (c *Crowd) At(i int) State {
	return State{c.FatKg[i], c.LeanKg[i], c.GlycogenKg[i], c.FluidKg[i], c.AdaptationKcal[i], c.IntakeMeanKcal[i]}
}

// ReferenceFatFreeKg is Model.ReferenceFatFreeKg of the body at place i.
func (c *Crowd) ReferenceFatFreeKg(m *Model, i int) float64 {
	return c.LeanKg[i] + m.referenceWaterKg()
}

// WaterKg is Model.WaterKg of the body at place i.
func (c *Crowd) WaterKg(m *Model, i int) float64 { return m.waterKg(c.GlycogenKg[i], c.FluidKg[i]) }

// StepCrowd moves the first n bodies on by a day: what Step does to each of them
// with its own parameters and inputs, at the habitual sodium, in the same
// arithmetic (crowd_test.go). n is at most CrowdSize.
func (m *Model) StepCrowd(c *Crowd, activityKcalPerKg float64, n int) {
	if n > CrowdSize {
		panic("dynamics: a crowd is too large")
	}
	partition := m.Partition
	for i := range n {
		energy, carbohydrate := c.EnergyKcal[i], c.CarbohydrateKcal[i]
		g0 := c.GlycogenKg[i]
		g1 := m.glycogenAfterDay(g0, carbohydrate)

		in := Input{CarbohydrateKcal: carbohydrate}
		fluidEnd := m.fluidTarget(&in)
		gap := c.FluidKg[i] - fluidEnd
		fluidMeanKg := fluidEnd + gap*fluidMean

		change := energy - m.IntakeBaselineKcal
		adaptationEnd := m.AdaptationGain * change
		open := c.AdaptationKcal[i] - adaptationEnd
		adaptationMean := adaptationEnd + open*m.adaptationMean

		x := energy - GlycogenEnergyKcalPerKg*(g1-g0)
		activity := m.ActivityKcalPerKg + c.ActivityYield[i]*activityKcalPerKg
		water := (1+GlycogenWaterKgPerKg)*0.5*(g0+g1) + fluidMeanKg
		constant := c.RestKcal[i] + activity*water + m.ThermicEffect*change + adaptationMean
		perFat, perLean := FatRestingKcalPerKg+activity, LeanRestingKcalPerKg+activity

		usual := energy
		if before := c.IntakeMeanKcal[i]; before > 0 {
			usual = before + (usual-before)*intakeMeanPerDay
		}

		partition.LossScale = c.LossScale[i]
		f, l := c.FatKg[i], c.LeanKg[i]
		toFat, toLean := partition.flux(f, constant+perFat*f+perLean*l, x, usual)
		f += toFat * (0.5 * fatKgPerKcal)
		l += toLean * (0.5 * leanKgPerKcal)
		if f < leanestFatKg {
			f = leanestFatKg
		}
		toFat, toLean = partition.flux(f, constant+perFat*f+perLean*l, x, usual)

		f = c.FatKg[i] + toFat*fatKgPerKcal
		if f < leanestFatKg {
			f = leanestFatKg
		}
		c.FatKg[i] = f
		c.LeanKg[i] += toLean * leanKgPerKcal
		c.GlycogenKg[i] = g1
		c.FluidKg[i] = fluidEnd + gap*fluidDecay
		c.AdaptationKcal[i] = adaptationEnd + open*m.adaptationDecay
		c.IntakeMeanKcal[i] = usual
	}
}
