package lab

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/scenario"
)

// news is what reached the coach since last week.
type news struct {
	days         []athlete.Day
	measurements []athlete.Measurement
	sets         []athlete.Set
	sessions     []athlete.Session
	truth        []scenario.TruthDay // only for policies that may know it
}

// policy prescribes. week is called on the morning of the appraisal and every
// seven days after it; nil leaves what stands.
type policy interface {
	week(on civil.Date, n news) (*athlete.Prescription, error)
}

// Outcome is how a season went, by the truth.
type Outcome struct {
	Athlete   int
	Target    float64 // body fat, per cent
	StagePct  float64
	StageKg   float64
	Measured  float64 // the last measurement's own body fat less its error of reading: truth + bias
	LeanLost  float64 // kg from the appraisal to the show
	StartLean float64
	Weeks     int
	TooFast   int     // weeks of true loss beyond the permitted rate
	Lowest    float64 // lowest weekly mean prescribed, kcal
	LeastEA   float64 // lowest planned energy availability by true lean mass
	Changes   int     // prescriptions after the first
	Moved     float64 // sum of the changes of energy, kcal
	Told      told
	Checks    []Check
}

// told is what the product said at the appraisal.
type told struct {
	asked    bool
	feasible bool
	slack    float64
}

// Check is one interval against what came.
type Check struct {
	What         string
	Rank         float64 // probability of the forecast below the truth, 0 to 1
	In50, In90   bool
	Chance, Came float64 // for chances
}

// On reports whether the stage body fat is within points of the target.
func (o *Outcome) On(points float64) bool { return math.Abs(o.StagePct-o.Target) <= points }

// OnByMethod is the same on the scale of the athlete's own measurements.
func (o *Outcome) OnByMethod(points float64) bool { return math.Abs(o.Measured-o.Target) <= points }

// live runs one season of a subject under a policy. The person is new each
// time, so every policy meets the same body, habits and noise.
func (s *subject) live(i int, p policy) (Outcome, error) {
	person := scenario.New(s.spec, s.seed)
	out := Outcome{Athlete: i, Target: s.show.TargetBodyFatPct, Lowest: math.Inf(1), LeastEA: math.Inf(1)}
	limits := s.spec.Athlete.EffectiveLimits()
	appraisal := firstDay.AddDays(runInDays)
	var fresh news
	var plan *athlete.Prescription
	var weekStart scenario.TruthDay
	for on := firstDay; on <= s.show.Date; on++ {
		if on >= appraisal && on.DaysSince(appraisal)%7 == 0 && on < s.show.Date {
			next, err := p.week(on, fresh)
			if err != nil {
				return out, err
			}
			fresh = news{}
			if next != nil {
				out.prescribed(plan, next)
				plan = next
			}
		}
		l := person.Live(on, plan)
		if on == s.show.Date {
			out.StagePct, out.StageKg = 100*l.Truth.FatKg/l.Truth.WeightKg, l.Truth.ScaleKg
			out.Measured = out.StagePct + s.biasPct
			out.LeanLost = out.StartLean - l.Truth.LeanKg
		}
		if on == appraisal {
			out.StartLean = l.Truth.LeanKg
		}
		if on >= appraisal && on.DaysSince(appraisal)%7 == 0 {
			if weekStart.WeightKg > 0 {
				out.Weeks++
				lost := 100 * (weekStart.WeightKg - l.Truth.WeightKg) / weekStart.WeightKg
				if lost > 1.1*limits.RatePctPerWeek(100*weekStart.FatKg/weekStart.WeightKg) {
					out.TooFast++
				}
			}
			weekStart = l.Truth
		}
		fresh.days = append(fresh.days, l.Day)
		fresh.sets = append(fresh.sets, l.Sets...)
		if l.Session != nil {
			fresh.sessions = append(fresh.sessions, *l.Session)
		}
		if every := s.cohort.Measuring.EveryDays; every > 0 && on.DaysSince(firstDay)%every == 2 {
			fresh.measurements = append(fresh.measurements, s.measure(on, l.Truth))
		}
		fresh.truth = append(fresh.truth, l.Truth)
	}
	return out, nil
}

func (o *Outcome) prescribed(old, next *athlete.Prescription) {
	kcal := next.MeanEnergyKcal()
	o.Lowest = math.Min(o.Lowest, kcal)
	if old == nil {
		return
	}
	moved := math.Abs(kcal - old.MeanEnergyKcal())
	if moved > 1 || old.Steps != next.Steps || math.Abs(old.CardioMinutes()-next.CardioMinutes()) > 1 {
		o.Changes++
		o.Moved += moved
	}
}
