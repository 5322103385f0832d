package scenario

import (
	"math"

	"glidepath/athlete"
)

// How soreness comes and goes: what an hour of lifting adds, more when worn, and what
// is left of it the next day (judgement; it is at its height a day or two after).
const (
	sorePerHour = 0.22
	soreWorn    = 0.15
	soreLeft    = 0.55
)

// lift carries a day's lifting into the muscles.
func (m *mood) lift(hours float64) {
	m.soreness = soreLeft*m.soreness + hours*(sorePerHour+soreWorn*m.worn())
}

// feelings are the day's answers about soreness, motivation and mood.
type feelings struct{ soreness, motivation, mood float64 }

// feels gives them with their scatter. Being worn and lean costs motivation most, and
// mood (judgement).
func (m *mood) feels(depleted float64, ill bool) feelings {
	z := [3]float64{m.feeling.NormFloat64(), m.feeling.NormFloat64(), m.feeling.NormFloat64()}
	out := feelings{
		soreness:   1 + 9*m.soreness + 0.8*z[0],
		motivation: 8 - 4.5*m.worn() - 1.5*depleted + 0.9*z[1],
		mood:       7.5 - 3*m.worn() - 1.5*depleted + 0.9*z[2],
	}
	if ill {
		out.motivation -= 2
		out.mood--
	}
	for _, v := range []*float64{&out.soreness, &out.motivation, &out.mood} {
		*v = math.Round(clamp(*v, 1, 10))
	}
	return out
}

// joints are what hurts besides sore muscles: now and then a place, for some days.
type joints struct {
	perYear float64
	where   athlete.Region
	pain    float64 // 0 to 10
	days    int     // that are left
	noise   stream
}

// niggleDays are the longest that a place hurts, and niggleLeast the shortest.
const (
	niggleDays  = 12
	niggleLeast = 3
)

// places that hurt lifters most (judgement).
var places = []athlete.Region{athlete.Shoulder, athlete.LowerBack, athlete.Knee, athlete.Elbow}

// wake begins and ends niggles. Every day draws alike, so that one of them moves
// nothing else.
func (j *joints) wake() {
	begins := j.noise.Float64() < j.perYear/365
	days := niggleLeast + j.noise.IntN(niggleDays-niggleLeast+1)
	where, pain := places[j.noise.IntN(len(places))], 2+float64(j.noise.IntN(3))
	switch {
	case j.days > 0:
		if j.days--; j.days == niggleLeast-1 {
			j.pain = 1 // it goes as it came
		}
	case begins:
		j.days, j.where, j.pain = days, where, pain
	}
}

func (j *joints) hurts() bool { return j.days > 0 }
