package training

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/numeric"
)

// What retention needs (judgement): sessions of a lift in the baseline weeks, and
// of late.
const (
	baselineLeast = 3
	recentLeast   = 2
	recentDays    = 28
)

// StrengthReport is how strong an athlete is on a date and how much is kept.
type StrengthReport struct {
	AsOf         civil.Date `json:"as_of"`
	BaselineFrom civil.Date `json:"baseline_from"`
	BaselineTo   civil.Date `json:"baseline_to"`
	Lifts        []Lift     `json:"lifts"`             // big lifts first, then by sessions
	Overall      *Retention `json:"overall,omitempty"` // nil where no lift tells
	OverallFrom  []string   `json:"overall_from,omitempty"`
	// Beyond is Overall without what a lighter or heavier body explains; nil where
	// body weight is not known.
	Beyond   *Retention       `json:"beyond_body_weight,omitempty"`
	Relative *Relative        `json:"relative,omitempty"` // of Overall
	Muscles  []MuscleStrength `json:"muscles,omitempty"`  // those that some lift tells of
	Bridges  []Bridge         `json:"bridges,omitempty"`
	Loss     *Loss            `json:"loss,omitempty"`   // nil where Overall is
	Cannot   []string         `json:"cannot,omitempty"` // what cannot be told and why

	path    []pathPoint // of Overall
	earlier *Retention  // Overall without the last day of training; nil from one lift
}

// Lift is one exercise's strength.
type Lift struct {
	Exercise string `json:"exercise"` // the catalogue's name, or the athlete's own
	Known    bool   `json:"known"`    // the catalogue knows it
	Big      bool   `json:"big"`
	Sessions int    `json:"sessions"`
	// BodyShare is the part of body weight that is lifted and counted in all weights
	// here but AsSetKg, 0 to 1.
	BodyShare float64 `json:"body_share,omitempty"`
	// E1RMKg is the level on the date, as an estimate of a tested maximum: its
	// interval includes the formulas' own error. It is read at the fewest repetitions
	// to failure trained of late, where the formulas err least.
	E1RMKg numeric.Interval `json:"e1rm_kg"`
	Series []StrengthPoint  `json:"series"`
	// BaselineKg is the mean level over the baseline's sessions; of an exercise that
	// took over from another, what it would have been.
	BaselineKg *float64   `json:"baseline_kg,omitempty"`
	Retention  *Retention `json:"retention,omitempty"`
	// Beyond is Retention without what a lighter or heavier body explains.
	Beyond   *Retention `json:"beyond_body_weight,omitempty"`
	Relative *Relative  `json:"relative,omitempty"`
	// BridgedFrom are the exercises that it took over from, the first one first. They
	// have no retention of their own.
	BridgedFrom []string `json:"bridged_from,omitempty"`

	muscles []athlete.Share
	stands  bool // for strength as a whole: it is big, or took over from one that is
	path    []pathPoint
	days    []deviation
	doubt   float64        // variance of the change, from what is not known of the lifter's curve
	ride    numeric.Normal // exponent of body weight
	weights [2]float64     // log of body weight now and over the baseline
}

// pathPoint is the level of a lift, or of those it took over from, or of several lifts,
// over the mean of the baseline, as a logarithm.
type pathPoint struct {
	date civil.Date
	log  numeric.Normal
}

// StrengthPoint is a day of a lift. The level's interval leaves out the formulas'
// own error, which is the same along the series.
type StrengthPoint struct {
	Date civil.Date `json:"date"`
	// BestKg is from the day's best set, as the lifter's own repetitions count.
	BestKg   float64          `json:"best_kg"`
	LevelKg  numeric.Interval `json:"level_kg"`
	Weight   float64          `json:"weight"`    // of the day: 1 and above as usual, near 0 out of line
	Reps     float64          `json:"reps"`      // to failure, of the best set
	AsSetKg  float64          `json:"as_set_kg"` // weight of the best set, as logged
	BodyKg   float64          `json:"body_kg,omitempty"`
	PerKg    float64          `json:"per_kg,omitempty"` // level over body weight
	Baseline bool             `json:"baseline,omitempty"`
}

// Retention is strength now against the baseline.
type Retention struct {
	Pct numeric.Interval `json:"pct"` // 100 is all kept
	// LossOver2p5 and LossOver5 are the chances that more than 2.5 and 5 % is
	// really lost.
	LossOver2p5 float64 `json:"p_loss_over_2_5"`
	LossOver5   float64 `json:"p_loss_over_5"`
	Lost        bool    `json:"lost"` // a real loss is found: LossOver2p5 is at least 0.7

	log numeric.Normal // of the ratio's logarithm
}

// Relative is strength against body weight, now and in the baseline.
type Relative struct {
	BodyKg         float64 `json:"body_kg"`
	BaselineBodyKg float64 `json:"baseline_body_kg"`
	// PerKg is the level over body weight; 0 for several lifts together.
	PerKg         float64 `json:"per_kg,omitempty"`
	BaselinePerKg float64 `json:"baseline_per_kg,omitempty"`
	// Pct is strength over body weight against the baseline's, and ScaledPct strength
	// over body weight to the power of 2/3, which is fair to a lighter body: both
	// stand above 100 where strength falls less than they do.
	Pct       numeric.Interval `json:"pct"`
	ScaledPct numeric.Interval `json:"scaled_pct"`
}

// Strength reads the sets up to a date. For each exercise the working sets of a day
// are one observation of a level that wanders slowly; a bad day is down-weighted, and
// what is peculiar to the lifter, how repetitions count and how strength goes with
// body weight, is learned beside it. Retention is the level on the date against the
// mean level of the sessions from BaselineFrom to BaselineTo. The formulas' error
// cancels in retention, but for what is not known of how repetitions count where they
// have changed.
//
// An exercise that took over from one with a baseline carries that one's retention
// on (see Bridge).
//
// Sets after AsOf are not looked at. Left out, and named in Cannot: exercises that
// lift an unknown part of the body, sets without weight, and sets of more than 12
// repetitions to failure.
func (c *Catalogue) Strength(l LiftLog) StrengthReport {
	out := StrengthReport{AsOf: l.AsOf, BaselineFrom: l.BaselineFrom, BaselineTo: l.BaselineTo}
	weights := weighInsOf(l.BodyWeights, l.AsOf)
	book := c.gather(&l, weights)
	r := reader{log: &l, weights: weights, out: &out}
	lifts := map[*trained]Lift{}
	chains := book.chains(&l)
	for _, ch := range chains {
		r.read(ch, lifts)
	}
	for _, t := range book.lifts {
		out.Lifts = append(out.Lifts, lifts[t])
	}
	for _, ch := range chains {
		out.Bridges = append(out.Bridges, ch.bridges()...)
	}
	out.Cannot = append(out.Cannot, book.leftOut()...)
	r.overall()
	r.muscles()
	out.reckonLoss()
	return out
}

// relativeOf is retention against body weight, the logs of which are now and over
// the baseline.
func relativeOf(kept *Retention, mass [2]float64) *Relative {
	lighter := mass[1] - mass[0]
	return &Relative{
		BodyKg: math.Exp(mass[0]), BaselineBodyKg: math.Exp(mass[1]),
		Pct: kept.Pct.Scale(math.Exp(lighter)), ScaledPct: kept.Pct.Scale(math.Exp(scaling * lighter)),
	}
}

// sureLost is the chance of more than 2.5 % lost at which a loss counts as found, from
// one lift or for a muscle. In simulation it finds a true drop of 5 % in one lift
// within three weeks of two sessions in three of four lifters, and one in sixteen
// is told of one in such a time who has lost nothing
// (docs/training.md; for strength as a whole see Loss).
const sureLost = 0.7

func retentionOf(change, variance float64) *Retention {
	n := numeric.Normal{Mean: change, SD: math.Sqrt(variance)}
	r := Retention{
		Pct:         logInterval(change, variance).Scale(100),
		LossOver2p5: n.Below(math.Log(0.975)),
		LossOver5:   n.Below(math.Log(0.95)),
		log:         n,
	}
	r.Lost = r.LossOver2p5 >= sureLost
	return &r
}

// logInterval turns the normal distribution of a logarithm into its median and
// central intervals.
func logInterval(mean, variance float64) numeric.Interval {
	i := numeric.Normal{Mean: mean, SD: math.Sqrt(variance)}.Interval()
	return numeric.Interval{
		Value: math.Exp(i.Value), Low50: math.Exp(i.Low50), High50: math.Exp(i.High50),
		Low90: math.Exp(i.Low90), High90: math.Exp(i.High90),
	}
}
