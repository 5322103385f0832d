package cardio

import (
	"math"

	"glidepath/athlete"
)

// Pace is how hard a kind of cardio is done. One without a figure is as usual for the
// kind.
type Pace struct {
	Name     string   `json:"pace"` // easy, usual or hard
	SpeedKmh *float64 `json:"speed_kmh,omitempty"`
	GradePct *float64 `json:"grade_pct,omitempty"`
	Watts    *float64 `json:"watts,omitempty"`
}

// The names of paces.
const (
	easy  = "easy"
	usual = "usual"
	hard  = "hard"
)

// wattsUnit is the step in which a bicycle can be set.
const wattsUnit = 5.0

// pacesOf lists the paces of a kind from the easiest on (judgement). The usual one is
// that of RateOf. Kinds for which no figure tells how hard they are have only it.
func pacesOf(kind athlete.CardioKind, weightKg float64) []Pace {
	speeds := func(slow, mid, fast float64) []Pace {
		return []Pace{{Name: easy, SpeedKmh: &slow}, {Name: usual, SpeedKmh: &mid}, {Name: hard, SpeedKmh: &fast}}
	}
	perKg := func(w float64) *float64 { return new(math.Ceil(w*weightKg/wattsUnit-near) * wattsUnit) }
	switch kind {
	case athlete.Walking:
		return speeds(4.5, walkKmh, walkKmh)[:2] // faster is another gait, or a slope
	case athlete.InclineWalk:
		ps := speeds(4.5, inclineKmh, inclineKmh)
		ps[0].GradePct, ps[1].GradePct, ps[2].GradePct = new(5.0), new(inclineGradePct), new(12.0)
		return ps
	case athlete.Running:
		return speeds(7.5, runKmh, 10)
	case athlete.Cycling:
		return []Pace{{Name: easy, Watts: perKg(0.9)}, {Name: usual, Watts: perKg(cycleWattsPerKg)}, {Name: hard, Watts: perKg(1.75)}}
	case athlete.Rowing:
		return []Pace{{Name: usual, Watts: new(80.0)}, {Name: hard, Watts: new(120.0)}}
	}
	return []Pace{{Name: usual}}
}

func (p Pace) bout(kind athlete.CardioKind) athlete.CardioBout {
	return athlete.CardioBout{Kind: kind, SpeedKmh: p.SpeedKmh, GradePct: p.GradePct, Watts: p.Watts}
}

// PlanRate is the net energy of a planned kind at the pace that is told, or the
// usual one. Its errors are those of RateOf.
func PlanRate(c athlete.CardioPlan, weightKg float64) (Rate, error) {
	return RateOf(athlete.CardioBout{Kind: c.Kind, SpeedKmh: c.SpeedKmh, GradePct: c.GradePct, Watts: c.Watts}, weightKg)
}

// peakMET is the intensity of the hard parts of a kind.
func peakMET(kind athlete.CardioKind, r Rate, weightKg float64) (float64, error) {
	if kind != athlete.Intervals {
		return r.MET, nil
	}
	hardest, err := fromCode(codeHardest, weightKg)
	return hardest.MET, err
}
