package training

import (
	"glidepath/athlete"
	"glidepath/civil"
)

// markerDays is the window of recovery markers, and markerLeast how many days of
// it must be logged before a mean is trusted (judgement).
const (
	markerDays  = 14
	markerLeast = 5
)

// Markers are the signs of recovery over the last two weeks. A nil mean is too
// little logged, never a good sign.
type Markers struct {
	SleepH  *float64 `json:"sleep_h,omitempty"` // mean a night
	Fatigue *float64 `json:"fatigue,omitempty"` // mean, 1 to 10
	Hunger  *float64 `json:"hunger,omitempty"`  // mean, 1 to 10
}

// Gather means the markers over the 14 days to a date, that day included.
func Gather(days []athlete.Day, asOf civil.Date) Markers {
	var sleep, fatigue, hunger mean
	for i := range days {
		d := &days[i]
		if d.Date > asOf || d.Date <= asOf.AddDays(-markerDays) {
			continue
		}
		sleep.add(d.SleepH)
		fatigue.add(d.Fatigue)
		hunger.add(d.Hunger)
	}
	return Markers{SleepH: sleep.value(), Fatigue: fatigue.value(), Hunger: hunger.value()}
}

type mean struct {
	sum float64
	n   int
}

func (m *mean) add(v *float64) {
	if v != nil {
		m.sum += *v
		m.n++
	}
}

func (m *mean) value() *float64 {
	if m.n < markerLeast {
		return nil
	}
	return new(m.sum / float64(m.n))
}
