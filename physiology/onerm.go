package physiology

import (
	"errors"
	"math"

	"glidepath/fault"
)

// OneRMFormula names a formula for the one-repetition maximum.
type OneRMFormula string

// The formulas, from load w and repetitions r to failure (all second-hand).
const (
	Epley    OneRMFormula = "Epley"    // w (1 + r/30)
	Brzycki  OneRMFormula = "Brzycki"  // 36 w/(37 - r)
	Lombardi OneRMFormula = "Lombardi" // w r^0.10
	Wathan   OneRMFormula = "Wathan"   // 100 w/(48.8 + 53.8 exp(-0.075 r))
	Mayhew   OneRMFormula = "Mayhew"   // 100 w/(52.2 + 41.9 exp(-0.055 r))
	OConner  OneRMFormula = "O'Conner" // w (1 + 0.025 r)
	Lander   OneRMFormula = "Lander"   // 100 w/(101.3 - 2.67123 r)
)

// OneRMFormulas lists every formula.
func OneRMFormulas() []OneRMFormula {
	return []OneRMFormula{Epley, Brzycki, Lombardi, Wathan, Mayhew, OConner, Lander}
}

// MostReps is the most repetitions to failure, those in reserve counted, from
// which a maximum may be reckoned. The formulas part company beyond.
const MostReps = 12

func (f OneRMFormula) fromReps(loadKg, reps float64) (float64, error) {
	switch f {
	case Epley:
		return loadKg * (1 + reps/30), nil
	case Brzycki:
		return 36 * loadKg / (37 - reps), nil
	case Lombardi:
		return loadKg * math.Pow(reps, 0.10), nil
	case Wathan:
		return 100 * loadKg / (48.8 + 53.8*math.Exp(-0.075*reps)), nil
	case Mayhew:
		return 100 * loadKg / (52.2 + 41.9*math.Exp(-0.055*reps)), nil
	case OConner:
		return loadKg * (1 + 0.025*reps), nil
	case Lander:
		return 100 * loadKg / (101.3 - 2.67123*reps), nil
	}
	return 0, fault.New(fault.Invalid, "the formula %q is not known.", f).
		WithField("formula").WithHint("Known are %v.", OneRMFormulas())
}

// OneRM is the one-repetition maximum, kg, from a load of 0.5 to 600 kg lifted
// reps times to failure, 1 to MostReps. One repetition to failure is the load
// itself, whatever the formula says there. The error is 2 % at one repetition to
// 5 % at ten and more: the published span (second-hand), laid along the
// repetitions by judgement.
func OneRM(f OneRMFormula, loadKg, reps float64) (Estimate, error) {
	err := errors.Join(
		within("weight_kg", loadKg, 0.5, 600, "kg"),
		within("reps", reps, 1, MostReps, "repetitions to failure"),
	)
	if err != nil {
		return Estimate{}, err
	}
	v, err := f.fromReps(loadKg, reps)
	if err != nil {
		return Estimate{}, err
	}
	if reps == 1 {
		v = loadKg
	}
	share := math.Min(0.05, 0.02+0.03*(reps-1)/9)
	return Estimate{Value: v, SE: share * v}, nil
}

// OneRMInReserve is OneRM for a set that stopped short of failure: reps + rir
// stand for the repetitions to failure, and the error of judging rir (0 to 10) is
// added. reps from 1, reps + rir up to MostReps.
func OneRMInReserve(f OneRMFormula, loadKg, reps, rir float64) (Estimate, error) {
	err := errors.Join(
		within("reps", reps, 1, MostReps, "repetitions"),
		within("rir", rir, 0, 10, "repetitions in reserve"),
	)
	if err != nil {
		return Estimate{}, err
	}
	e, err := OneRM(f, loadKg, reps+rir)
	if err != nil {
		return Estimate{}, err
	}
	up, err := f.fromReps(loadKg, reps+rir+1)
	if err != nil {
		return Estimate{}, err
	}
	at, err := f.fromReps(loadKg, reps+rir)
	if err != nil {
		return Estimate{}, err
	}
	e.SE = combine(e.SE, (up-at)*InReserveSE(rir))
	return e, nil
}

// Per cent of the one-repetition maximum at which 1 to 12 repetitions can be done
// (second-hand). Copies of the table disagree at 11 and 12 (73 and 70, or 70 and
// 67); the middle is taken.
var (
	tableReps    = []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}
	tablePercent = []float64{100, 95, 93, 90, 87, 85, 83, 80, 77, 75, 71.5, 68.5}
)

// PercentOfOneRM is the per cent of the one-repetition maximum at which so many
// repetitions can be done, by the table, straight between its lines; 1 to
// MostReps repetitions.
func PercentOfOneRM(reps float64) (float64, error) {
	if err := within("reps", reps, 1, MostReps, "repetitions"); err != nil {
		return 0, err
	}
	return interpolate(tableReps, tablePercent, reps), nil
}

// RepsAtPercent is the inverse of PercentOfOneRM; 68.5 to 100 per cent.
func RepsAtPercent(pct float64) (float64, error) {
	if err := within("percent", pct, tablePercent[len(tablePercent)-1], 100, "per cent of the maximum"); err != nil {
		return 0, err
	}
	falling := make([]float64, len(tablePercent))
	for i, p := range tablePercent {
		falling[i] = -p // interpolate wants rising abscissae
	}
	return interpolate(falling, tableReps, -pct), nil
}
