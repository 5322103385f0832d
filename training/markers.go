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
	SleepH       *float64 `json:"sleep_h,omitempty"`       // mean a night
	Fatigue      *float64 `json:"fatigue,omitempty"`       // mean, 1 to 10, as those below
	Hunger       *float64 `json:"hunger,omitempty"`        //
	Soreness     *float64 `json:"soreness,omitempty"`      //
	Motivation   *float64 `json:"motivation,omitempty"`    //
	Mood         *float64 `json:"mood,omitempty"`          //
	RestingPulse *float64 `json:"resting_pulse,omitempty"` // mean, beats a minute
}

// Gather means the markers over the 14 days to a date, that day included.
func Gather(days []athlete.Day, asOf civil.Date) Markers {
	var sleep, fatigue, hunger, soreness, motivation, mood, pulse mean
	for i := range days {
		d := &days[i]
		if d.Date > asOf || d.Date <= asOf.AddDays(-markerDays) {
			continue
		}
		sleep.add(d.SleepH)
		fatigue.add(d.Fatigue)
		hunger.add(d.Hunger)
		soreness.add(d.Soreness)
		motivation.add(d.Motivation)
		mood.add(d.Mood)
		pulse.add(d.RestingPulse)
	}
	return Markers{
		SleepH: sleep.value(), Fatigue: fatigue.value(), Hunger: hunger.value(), Soreness: soreness.value(),
		Motivation: motivation.value(), Mood: mood.value(), RestingPulse: pulse.value(),
	}
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
