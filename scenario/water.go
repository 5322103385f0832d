package scenario

import "math"

// water is everything on the scale that is not tissue, kg above or below
// ordinary, as it stands in the morning.
type water struct {
	body Body

	slow      float64 // stress and hormones: a slow AR(1)
	sodium    float64 // follows salt with a lag
	carb      float64 // held for a day or two after much carbohydrate
	gut       float64 // follows the amount eaten
	stuck     float64 // constipation
	stuckDays int
	fast      float64 // AR(1) with heavy tails

	noiseKg       float64 // weight that the noises scale with: the first morning's, so that no plan changes them
	sodiumHabitMg float64
	habitKcal     float64
	carbLately    float64

	slowNoise, stuckNoise, fastNoise stream
}

// Gains and lags of the fluids: 0.33 kg for each 1000 mg of salt's sodium with a
// day's lag follows the physiology of Hall et al. 2011; the others are judgement.
const (
	sodiumKgPerMg   = 0.33 / 1000
	sodiumLagDays   = 1.3
	carbKgPerG      = 0.0028
	carbLagDays     = 1.8
	gutKgPerKcal    = 0.30 / 1000
	gutLagDays      = 1.5
	stuckPerDay     = 0.015
	carbMemoryDays  = 10.0
	mostStuckDays   = 4
	stuckLeastKg    = 0.3
	stuckMostKg     = 0.9
	stressedByWeary = 0.5 // kg more slow fluid in a worn athlete than in a fresh one
)

// live moves the fluids on by a day.
func (w *water) live(f food, sodiumMg, depleted float64) {
	w.sodium += (sodiumKgPerMg*(sodiumMg-w.sodiumHabitMg) - w.sodium) * approach(sodiumLagDays)
	w.carb += (carbKgPerG*math.Max(0, f.carbG-w.carbLately) - w.carb) * approach(carbLagDays)
	w.carbLately += (f.carbG - w.carbLately) * approach(carbMemoryDays)
	w.gut += (gutKgPerKcal*(f.kcal-w.habitKcal) - w.gut) * approach(gutLagDays)

	sd := w.body.SlowFluidPct / 100 * w.noiseKg
	keep := math.Exp(-1 / w.body.SlowFluidDays)
	w.slow = keep*w.slow + (1-keep)*stressedByWeary*depleted +
		sd*math.Sqrt(1-keep*keep)*w.slowNoise.NormFloat64()

	w.constipate()
	c := w.body.FastNoiseCarry
	w.fast = c*w.fast + w.body.FastNoisePct/100*w.noiseKg*math.Sqrt(1-c*c)*w.fastNoise.heavy()
}

// constipate starts and ends spells of a fuller gut. It draws the same numbers
// every day, so that the spells do not depend on one another.
func (w *water) constipate() {
	start := w.stuckNoise.Float64() < stuckPerDay
	kg := w.stuckNoise.uniform(stuckLeastKg, stuckMostKg)
	days := 1 + w.stuckNoise.IntN(mostStuckDays)
	switch {
	case w.stuckDays > 0:
		w.stuckDays--
	case start:
		w.stuck, w.stuckDays = kg, days
	default:
		w.stuck = 0
	}
}

// settled is the part that has a cause: all but the fast noise.
func (w *water) settled(glycogenKg, cycleKg float64) float64 {
	return glycogenKg*(1+w.body.GlycogenWater) + w.slow + w.sodium + w.carb + w.gut + w.stuck + cycleKg
}
