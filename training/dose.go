package training

import (
	"math"

	"glidepath/athlete"
)

// Dose is the fewest weekly hard sets that are expected to keep a muscle.
type Dose struct {
	Muscle athlete.Muscle `json:"muscle"`
	// Sets is the least that a proposal leaves in a deficit: judgement.
	Sets float64 `json:"sets"`
	// Studied is a third of the off-season's sets, which kept size in energy balance.
	Studied float64 `json:"studied"`
}

// Shares of the off-season's sets.
const (
	studiedShare = 1.0 / 3
	deficitShare = 0.5 // judgement: the studies were in energy balance
)

// Least weekly hard sets kept for a muscle (judgement). Small muscles are worked
// by the lifts for the large ones as well.
const (
	leastSetsLarge = 6.0
	leastSetsSmall = 4.0
)

// MaintenanceDose is what keeps a muscle that was trained with so many weekly hard
// sets in the off-season.
//
// A third of the sets, and even a ninth, kept muscle size for 32 weeks in people of 20
// to 35 years, not in those of 60 to 75; strength was mostly kept even without (Bickel
// et al. 2011, Med Sci Sports Exerc 43:1177; n 70). A review comes to one session a
// week and one set an exercise for up to 32 weeks, where the load on the bar is kept;
// to two sessions and two or three sets in the old (Spiering et al. 2021, J Strength
// Cond Res 35:1449). None of them was in a deficit, and few were trained for years: so
// half of the sets stay, and never under 4 for a small and 6 for a large muscle. That
// is judgement.
func MaintenanceDose(m athlete.Muscle, offSeasonSets float64) Dose {
	return doseOf(m, offSeasonSets, deficitShare)
}

func doseOf(m athlete.Muscle, offSeasonSets, share float64) Dose {
	least := leastSetsLarge
	switch m {
	case athlete.Biceps, athlete.Triceps, athlete.Calves, athlete.Abdominals:
		least = leastSetsSmall
	}
	return Dose{Muscle: m, Sets: math.Max(least, share*offSeasonSets), Studied: studiedShare * offSeasonSets}
}
