package training

import (
	"fmt"
	"math"

	"glidepath/numeric"
)

// CapacitySettings are how far a diet lowers what training an athlete may be
// expected to recover from. All of it is judgement; the zero value is ours.
//
// The evidence is thin and does not agree. For it: in five days at 30 kcal/kg FFM
// resting muscle protein synthesis fell by 27 %, and lifting with protein brought it
// back (Areta et al. 2014, Am J Physiol Endocrinol Metab 306:E989); a deficit of some
// 500 kcal a day cancels gains of lean mass, not of strength (Murphy & Koehler 2022,
// Scand J Med Sci Sports 32:125); long under 25 kcal/kg FFM men lose muscle and mood
// (Fagerberg 2018, Int J Sport Nutr Exerc Metab 28:385). Against it: 38 trained men at
// 30 kcal/kg of body weight for six weeks kept as much lean mass, sleep and mood on
// five sets an exercise as on three (Roth et al. 2023, Scand J Med Sci Sports 33:20), and
// a review of 15 studies finds too little to say that less volume spares less, with a
// lean towards more (Roth, Schoenfeld & Behringer 2022, Eur J Appl Physiol 122:1129).
// None of them measured what can be recovered from. So the fall is set small, its
// doubt wide, and nothing is taken away for it alone.
type CapacitySettings struct {
	DeficitFull  float64 // deficit as a share of expenditure that counts as a full one; default 0.30
	DeficitCost  float64 // share of capacity lost to a full deficit; default 0.15
	LeannessCost float64 // share lost to stage leanness; default 0.15
}

// Condition is what capacity is judged from.
type Condition struct {
	// Deficit is the share of expenditure that is not eaten, both on the scale that is
	// reported, so that food which is not written down does not count as a deficit.
	Deficit float64
	// Leanness is how near body fat is to the stage's, 0 to 1.
	Leanness float64
	// Available is energy availability, kcal/kg FFM a day, and Floor the athlete's
	// floor of it; under the floor a deficit counts as a full one at least. Zero is
	// not known.
	Available, Floor float64
}

// Capacity is the share of an off-season's weekly hard sets that one may expect an
// athlete to recover from. It is judgement.
type Capacity struct {
	Share    numeric.Interval `json:"share"`
	Deficit  float64          `json:"deficit"`  // share of expenditure
	Leanness float64          `json:"leanness"` // 0 to 1
	Sentence string           `json:"sentence"`
	Evidence string           `json:"evidence"`
}

// capacityEvidence says what the judgement rests on.
const capacityEvidence = "No trial of volume in a diet has measured what can be recovered from. The one in trained men (Roth et al. 2023, 38 men, six weeks) found five sets an exercise borne as well as three; muscle is built more slowly in a deficit (Areta et al. 2014; Murphy & Koehler 2022), and long under 25 kcal/kg FFM men lose muscle and mood (Fagerberg 2018)."

// Doubt about capacity: of an athlete in no deficit, and of what a diet costs, as a
// share of the cost (judgement).
const (
	capacityDoubt     = 0.06
	capacityCostDoubt = 0.5
	mostDeficit       = 1.5 // full deficits beyond which the judgement does not reach
)

// ExpectedCapacity judges capacity; a surplus counts as no deficit.
func ExpectedCapacity(in Condition, s CapacitySettings) Capacity {
	set := func(v *float64, d float64) {
		if *v == 0 {
			*v = d
		}
	}
	set(&s.DeficitFull, 0.30)
	set(&s.DeficitCost, 0.15)
	set(&s.LeannessCost, 0.15)
	c := Capacity{Deficit: in.Deficit, Leanness: math.Max(0, math.Min(1, in.Leanness)), Evidence: capacityEvidence}
	depth := math.Max(0, math.Min(mostDeficit, in.Deficit/s.DeficitFull))
	under := in.Available > 0 && in.Available < in.Floor
	if under {
		depth = math.Max(1, depth)
	}
	share := (1 - s.DeficitCost*depth) * (1 - s.LeannessCost*c.Leanness)
	c.Share = numeric.Normal{Mean: share, SD: math.Hypot(capacityDoubt, capacityCostDoubt*(1-share))}.Interval()
	c.Sentence = capacityWords(&c, under)
	return c
}

func capacityWords(c *Capacity, under bool) string {
	floor := ""
	if under {
		floor = ", energy availability under its floor"
	}
	return fmt.Sprintf("With %s%s, and %.0f %% of the way to stage leanness, one may expect recovery from about %.0f %% of the off-season's hard sets (90 %% between %.0f and %.0f). That is judgement, and its evidence is thin.",
		deficitWords(c.Deficit), floor, 100*c.Leanness, 100*c.Share.Value, 100*c.Share.Low90, 100*c.Share.High90)
}

func deficitWords(share float64) string {
	if share < 0.02 {
		return "no deficit"
	}
	return fmt.Sprintf("a deficit of %.0f %% of expenditure", 100*share)
}
