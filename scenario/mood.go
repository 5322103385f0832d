package scenario

import "math"

// mood is what the athlete feels, on a scale of 0 to 1.
type mood struct {
	fatigue  float64
	soreness float64
	noise    stream
	feeling  stream
}

// freshFatigue is the fatigue of a rested athlete.
const freshFatigue = 0.2

func newMood(noise, feeling stream) mood {
	return mood{fatigue: freshFatigue, noise: noise, feeling: feeling}
}

// worn is the fatigue above a rested athlete's, 0 to 1.
func (m *mood) worn() float64 { return clamp((m.fatigue-freshFatigue)/(1-freshFatigue), 0, 1) }

// live moves fatigue toward what the deficit, the cardio and an illness make of
// it, with a lag of ten days (judgement).
func (m *mood) live(depleted, relativeDeficit, cardioKcalKg float64, ill bool) {
	target := freshFatigue + 0.45*depleted + 0.6*clamp(relativeDeficit, -0.2, 0.6) + 0.02*cardioKcalKg
	if ill {
		target += 0.3
	}
	m.fatigue += (clamp(target, 0.05, 1) - m.fatigue) * approach(10)
}

// markers are the day's answers about sleep, hunger, fatigue and pulse.
type markers struct{ sleepH, hunger, fatigue, pulse float64 }

// answers gives them with their scatter; the pulse falls as the athlete gets
// leaner (it fell by a third to a half in the published preparations) and rises
// in an illness.
func (m *mood) answers(depleted float64, ill bool) markers {
	z := [4]float64{m.noise.NormFloat64(), m.noise.NormFloat64(), m.noise.NormFloat64(), m.noise.NormFloat64()}
	out := markers{
		sleepH:  roundTo(clamp(7.5-1.1*m.worn()+0.6*z[0], 4, 10), 0.25),
		hunger:  math.Round(clamp(3+5*m.worn()+2*depleted+0.9*z[1], 1, 10)),
		fatigue: math.Round(clamp(1+9*m.fatigue+0.8*z[2], 1, 10)),
		pulse:   math.Round(60 - 14*depleted + 2.2*z[3]),
	}
	if ill {
		out.pulse += 8
	}
	return out
}
