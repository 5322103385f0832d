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
	Cannot       []string   `json:"cannot,omitempty"` // what cannot be told and why
}

// Lift is one exercise's strength.
type Lift struct {
	Exercise string `json:"exercise"` // the catalogue's name, or the athlete's own
	Known    bool   `json:"known"`    // the catalogue knows it
	Big      bool   `json:"big"`
	Sessions int    `json:"sessions"`
	// E1RMKg is the level on the date, as an estimate of a tested maximum: its
	// interval includes the formulas' own error.
	E1RMKg numeric.Interval `json:"e1rm_kg"`
	Series []StrengthPoint  `json:"series"`
	// BaselineKg is the mean level over the baseline's sessions.
	BaselineKg *float64   `json:"baseline_kg,omitempty"`
	Retention  *Retention `json:"retention,omitempty"`
}

// StrengthPoint is a day of a lift. The level's interval leaves out the formulas'
// own error, which is the same along the series.
type StrengthPoint struct {
	Date     civil.Date       `json:"date"`
	BestKg   float64          `json:"best_kg"` // from the day's best set
	LevelKg  numeric.Interval `json:"level_kg"`
	Weight   float64          `json:"weight"`    // of the day: 1 and above as usual, near 0 out of line
	Reps     float64          `json:"reps"`      // to failure, of the best set
	AsSetKg  float64          `json:"as_set_kg"` // weight of the best set
	Baseline bool             `json:"baseline,omitempty"`
}

// Retention is strength now against the baseline.
type Retention struct {
	Pct numeric.Interval `json:"pct"` // 100 is all kept
	// LossOver2p5 and LossOver5 are the chances that more than 2.5 and 5 % is
	// really lost.
	LossOver2p5 float64 `json:"p_loss_over_2_5"`
	LossOver5   float64 `json:"p_loss_over_5"`

	log numeric.Normal // of the ratio's logarithm
}

// Strength reads the sets up to a date. For each exercise the best set of a day,
// by estimated maximum, is one observation of a level that wanders slowly; a bad
// day is down-weighted. Retention is the level on the date against the mean level
// of the sessions from baselineFrom to baselineTo. The formulas' error cancels in
// retention but for a change in the repetitions trained.
//
// Overall retention is the mean over the big lifts, weighted by precision, with
// the spread between lifts counted (random effects: DerSimonian & Laird 1986,
// Control Clin Trials 7:177).
//
// Sets after asOf are not looked at. Left out, and named in Cannot: exercises
// whose load is the body itself, sets without weight, and sets of more than 12
// repetitions to failure.
func (c *Catalogue) Strength(sets []athlete.Set, baselineFrom, baselineTo, asOf civil.Date) StrengthReport {
	out := StrengthReport{AsOf: asOf, BaselineFrom: baselineFrom, BaselineTo: baselineTo}
	book := c.gather(sets, asOf)
	for _, l := range book.lifts {
		out.Lifts = append(out.Lifts, l.read(&out))
	}
	out.Cannot = append(out.Cannot, book.leftOut()...)
	out.reckonOverall()
	return out
}

// repsMismatch is the error of comparing sets of unlike repetitions, as a share a
// repetition: from 5 to 10 repetitions Epley's formula rises 3.7 % less than
// Brzycki's, 0.7 % a repetition; the blend lies between.
const repsMismatch = 0.005

// read smooths one lift and compares it with its baseline.
func (l *liftLog) read(out *StrengthReport) Lift {
	obs := make([]observation, 0, len(l.days)+1)
	for _, d := range l.days {
		noise := math.Hypot(dayNoise, d.best.JudgedSE)
		obs = append(obs, observation{int(d.date), math.Log(d.best.Kg), noise * noise})
	}
	if last := l.days[len(l.days)-1].date; last < out.AsOf {
		obs = append(obs, observation{day: int(out.AsOf)})
	}
	ps := smoothAll(obs)
	lift := Lift{Exercise: l.name, Known: l.known, Big: l.big, Sessions: len(l.days)}
	var baseline []int
	var baseReps, recentReps, formula mean
	for i, d := range l.days {
		inBaseline := d.date >= out.BaselineFrom && d.date <= out.BaselineTo
		lift.Series = append(lift.Series, StrengthPoint{
			Date: d.date, BestKg: d.best.Kg, LevelKg: logInterval(ps.at(i)),
			Weight: ps.weight(i), Reps: d.best.Reps, AsSetKg: d.weightKg, Baseline: inBaseline,
		})
		if inBaseline {
			baseline = append(baseline, i)
			baseReps.add(&d.best.Reps)
		}
		if d.date > out.AsOf.AddDays(-recentDays) {
			recentReps.add(&d.best.Reps)
			formula.add(&d.best.FormulaSE)
		}
	}
	if formula.n == 0 {
		formula.add(&l.days[len(l.days)-1].best.FormulaSE)
	}
	last := len(obs) - 1
	bias := formula.sum / float64(formula.n)
	level, variance := ps.at(last)
	lift.E1RMKg = logInterval(level, variance+bias*bias)
	if len(baseline) >= baselineLeast {
		var logs float64
		for _, i := range baseline {
			m, _ := ps.at(i)
			logs += m
		}
		lift.BaselineKg = new(math.Exp(logs / float64(len(baseline))))
	}
	if why := l.cannotCompare(out, len(baseline), recentReps.n); why != "" {
		out.Cannot = append(out.Cannot, why)
		return lift
	}
	change, variance := ps.average(func(p *path) (float64, float64) { return p.change(baseline, last) })
	mismatch := repsMismatch * (recentReps.sum/float64(recentReps.n) - baseReps.sum/float64(baseReps.n))
	lift.Retention = retentionOf(change, variance+mismatch*mismatch)
	return lift
}

func retentionOf(change, variance float64) *Retention {
	n := numeric.Normal{Mean: change, SD: math.Sqrt(variance)}
	return &Retention{
		Pct:         logInterval(change, variance).Scale(100),
		LossOver2p5: n.Below(math.Log(0.975)),
		LossOver5:   n.Below(math.Log(0.95)),
		log:         n,
	}
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

// reckonOverall combines the big lifts; without any, every lift that tells.
func (r *StrengthReport) reckonOverall() {
	var told []Lift
	for _, wantBig := range []bool{true, false} {
		for _, l := range r.Lifts {
			if l.Retention != nil && l.Big == wantBig {
				told = append(told, l)
			}
		}
		if len(told) > 0 {
			break
		}
	}
	if len(told) == 0 {
		r.Cannot = append(r.Cannot, "How much strength is kept cannot be told: no lift has enough sessions both in the baseline weeks and of late.")
		return
	}
	if !told[0].Big {
		r.Cannot = append(r.Cannot, "No big lift tells how much strength is kept; smaller ones stand in, which say less.")
	}
	changes, variances := make([]float64, len(told)), make([]float64, len(told))
	for i, l := range told {
		r.OverallFrom = append(r.OverallFrom, l.Exercise)
		changes[i], variances[i] = l.Retention.log.Mean, l.Retention.log.SD*l.Retention.log.SD
	}
	r.Overall = retentionOf(pool(changes, variances))
}

// pool is the random-effects mean of DerSimonian & Laird (1986) and its variance.
func pool(values, variances []float64) (mean, variance float64) {
	weighted := func(between float64) (mean, sum, squares float64) {
		for i, v := range values {
			w := 1 / (variances[i] + between)
			mean += w * v
			sum += w
			squares += w * w
		}
		return mean / sum, sum, squares
	}
	fixed, sum, squares := weighted(0)
	var q float64
	for i, v := range values {
		q += (v - fixed) * (v - fixed) / variances[i]
	}
	between := 0.0
	if free := float64(len(values) - 1); free > 0 {
		between = math.Max(0, (q-free)/(sum-squares/sum))
	}
	mean, sum, _ = weighted(between)
	return mean, 1 / sum
}
