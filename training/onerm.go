package training

import (
	"math"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/physiology"
)

// What is assumed of a set without repetitions in reserve (judgement: most
// working sets in prep stop one to three short of failure).
const (
	assumedRIR   = 2.0
	assumedRIRSD = 1.5
)

// blend lists the formulas whose geometric mean is taken: they bracket the
// others between 2 and 12 repetitions and cross near 10.
var blend = [...]physiology.OneRMFormula{physiology.Epley, physiology.Brzycki, physiology.Wathan}

// Maximum is the one-repetition maximum that a set stands for.
type Maximum struct {
	Kg float64
	// Reps is the repetitions to failure: those done and those in reserve.
	Reps float64
	// FormulaSE is the share of error that stays with the lifter and the
	// repetitions, 2 to 5 %; between like sets of one lifter it cancels.
	FormulaSE float64
	// JudgedSE is the share of error from judging RIR, anew each time.
	JudgedSE   float64
	RIRAssumed bool
}

// SE is the standard error with both parts, kg.
func (m Maximum) SE() float64 { return m.Kg * math.Hypot(m.FormulaSE, m.JudgedSE) }

// MaximumOf reckons the maximum from one set: a blend of published formulas at
// repetitions done plus in reserve. A set without RIR is taken to have 2 +- 1.5.
// The error of judged RIR grows away from failure (Zourdos et al. 2016, J
// Strength Cond Res 30:267). The error is Invalid for a set that cannot be
// reckoned from: more than physiology.MostReps to failure, or hardly any weight.
func MaximumOf(s athlete.Set) (Maximum, error) { return maximumFrom(s.WeightKg, &s) }

// maximumFrom is MaximumOf with the load that was lifted, body and all.
func maximumFrom(loadKg float64, s *athlete.Set) (Maximum, error) {
	rir, sd, assumed := assumedRIR, assumedRIRSD, s.RIR == nil
	if !assumed {
		rir, sd = *s.RIR, physiology.InReserveSE(*s.RIR)
	}
	reps := float64(s.Reps) + rir
	if assumed && s.Reps <= physiology.MostReps {
		reps = math.Min(reps, physiology.MostReps)
	}
	if !(rir >= 0 && rir <= 10) {
		return Maximum{}, fault.New(fault.Invalid, "%v is outside 0 to 10 repetitions in reserve.", rir).WithField("rir")
	}
	at, share, err := blended(loadKg, reps)
	if err != nil {
		return Maximum{}, err
	}
	// The slope is taken downwards, as the formulas end at MostReps, and not from
	// the single repetition, where they are replaced by the load itself.
	top := math.Max(reps, 3)
	return Maximum{
		Kg: at, Reps: reps, FormulaSE: share, JudgedSE: (blendLog(top) - blendLog(top-1)) * sd, RIRAssumed: assumed,
	}, nil
}

// blended is the geometric mean of the formulas, and their error as a share.
func blended(weightKg, reps float64) (kg, share float64, err error) {
	var logs float64
	for _, f := range blend {
		e, err := physiology.OneRM(f, weightKg, reps)
		if err != nil {
			return 0, 0, err
		}
		logs += math.Log(e.Value)
		share = e.SE / e.Value
	}
	return math.Exp(logs / float64(len(blend))), share, nil
}

// blendLogs are the logarithms of the blend's maximum over the load at 1 to MostReps
// repetitions to failure. At one repetition it is what the formulas give there, not
// the load itself, so that the table rises evenly.
var blendLogs = func() (logs [physiology.MostReps + 1]float64) {
	for r := 2; r <= physiology.MostReps; r++ {
		kg, _, _ := blended(100, float64(r))
		logs[r] = math.Log(kg / 100)
	}
	logs[1] = 2*logs[2] - logs[3]
	return logs
}()

// blendLog is blendLogs between whole repetitions, 1 to MostReps.
func blendLog(reps float64) float64 {
	r := min(int(reps), physiology.MostReps-1)
	return blendLogs[r] + (reps-float64(r))*(blendLogs[r+1]-blendLogs[r])
}
