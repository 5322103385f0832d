package forecast

import "glidepath/dynamics"

// Steering, weekly: the coach sees the trend with an error, closes the gap to
// the plan over the weeks that follow (in proportion), learns what stands behind
// it (the sum of gaps), and changes intake in bounded steps.
const (
	trendSD       = 0.35  // kg
	steerNow      = 250.0 // kcal a day per kg of gap: 7,500 kcal over a month
	steerSum      = 60.0  // kcal a day per kg of gap and week
	steerStepKcal = 200.0 // the most that a week changes
)

// steering is what a coach remembers from week to week, kcal a day.
type steering struct{ correction, learned float64 }

// steer sets the week's correction of intake. errorKg is how far off the trend
// looks.
func (f *flight) steer(v *future, m *dynamics.Model, d *Day, errorKg float64) {
	c := &v.coach
	gap := v.state.FatKg + m.ReferenceFatFreeKg(&v.state) + errorKg - d.WeightKg
	learned := c.learned - steerSum*gap
	next := learned - steerNow*gap
	next = max(c.correction-steerStepKcal, min(c.correction+steerStepKcal, next))
	held := false // at a bound the sum of gaps would only wind up
	if floor := f.p.LeastKcal/f.p.RatioMean - d.EnergyKcal; f.p.LeastKcal > 0 && next < floor {
		next, held = floor, true
		if gap > 1 {
			v.atFloor = true
		}
	}
	if most := d.MostKcal - d.EnergyKcal; d.MostKcal > 0 && next > most {
		next, held = most, true
	}
	if !held {
		c.learned = learned
	}
	c.correction = next
}
