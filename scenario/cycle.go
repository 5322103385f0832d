package scenario

import "math"

// cycle is the menstrual cycle and the water that comes with it. Long low
// energy availability stops it (in Halliday et al. 2016, Nutrients 8:740, after
// eleven weeks below 30 kcal/kg fat-free mass).
type cycle struct {
	on         bool
	kg         float64 // trough to peak
	meanDays   float64
	lapseBelow float64 // availability below which it stops

	day       int // 1 is the first day of bleeding
	days      int // of this cycle
	available float64
	noise     stream
}

const (
	availabilityMemoryDays = 28.0
	lapseHysteresis        = 4.0 // kcal/kg: bleeding comes back only well above where it stopped
)

// lapsed reports whether bleeding is overdue because it has stopped.
func (c *cycle) lapsed() bool { return c.on && c.day > c.days+7 }

// live moves the cycle on to the next morning.
func (c *cycle) live(availableKcalPerKg float64) {
	next := c.drawDays()
	c.available += (availableKcalPerKg - c.available) * approach(availabilityMemoryDays)
	c.day++
	if c.day <= c.days {
		return
	}
	need := c.lapseBelow
	if c.lapsed() {
		need += lapseHysteresis
	}
	if c.available >= need {
		c.day, c.days = 1, next
	}
}

func (c *cycle) drawDays() int {
	return int(math.Round(c.noise.normal(c.meanDays, 1.3, c.meanDays-4, c.meanDays+5)))
}

// waterKg is the wave about its mean: highest as bleeding starts, with a small
// rise after the middle (the shape in Robinson & Watson 1965, Br J Nutr 19:237).
func (c *cycle) waterKg() float64 {
	if !c.on || c.lapsed() {
		return 0
	}
	turn := 2 * math.Pi * (float64(c.day) - 1.5) / float64(c.days)
	peak := math.Exp(2 * (math.Cos(turn) - 1))
	bump := 0.15 * math.Exp(4*(math.Cos(turn-1.1*math.Pi)-1))
	return c.kg * (peak + bump - cycleMean)
}

// cycleMean is the mean of the wave over a cycle: exp(-k) times the modified
// Bessel function I0(k), for k = 2 and, with weight 0.15, k = 4.
const cycleMean = 0.30851 + 0.15*0.20700
