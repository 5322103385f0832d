package forecast

// Steering, weekly: the coach sees the trend with an error, closes the gap to the
// plan by the last day of the diet, no sooner, as a season planned anew each week
// does, learns what stands behind it (the sum of gaps), and changes intake in
// bounded steps.
const (
	trendSD       = 0.35   // kg
	kcalPerKg     = 8000.0 // of the tissue that a gap is
	soonestDays   = 21.0   // in which a gap is closed
	steerSum      = 40.0   // kcal a day per kg of gap and week
	steerStepKcal = 200.0  // the most that a week changes
)

// steering is what a coach remembers from week to week, kcal a day, and whether
// some week's intake had to stand at the floor.
type steering struct {
	correction, learned float64
	atFloor             bool
}

// steer sets the week's correction of intake from the weight of tissue as it
// looks to the coach, with so many days of diet left.
func (f *flight) steer(c *steering, d *Day, looksKg, daysLeft float64) {
	gap := looksKg - d.WeightKg
	learned := c.learned - steerSum*gap
	next := learned - kcalPerKg/max(soonestDays, daysLeft)*gap
	next = max(c.correction-steerStepKcal, min(c.correction+steerStepKcal, next))
	held := false // at a bound the sum of gaps would only wind up
	if floor := d.LeastKcal/f.p.RatioMean - d.EnergyKcal - d.ReserveKcal; d.LeastKcal > 0 && next < floor {
		next, held = floor, true
		if gap > 1 {
			c.atFloor = true
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
