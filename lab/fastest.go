package lab

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/scenario"
	"glidepath/season"
)

// Ground is what was possible for an athlete in truth: when the fastest descent
// that the limits permit, steered with the true state in the true body, reaches the
// target and the edge of its tolerance. No part of the engine is asked. Weeks are
// how much sooner than the week before the show it gets there; negative is how many
// are missing. What takes more than half a year too long counts as half a year.
type Ground struct {
	Athlete int `json:"athlete"`
	// SlackWeeks is to the target, on the scale that it is meant on: that of the
	// athlete's own measurements, with their lasting bias.
	SlackWeeks float64 `json:"slack_weeks"`
	// EdgeWeeks is to the edge of the tolerance, on the same scale.
	EdgeWeeks float64 `json:"edge_weeks"`
	// TrueSlackWeeks is to the target where it is true body fat.
	TrueSlackWeeks float64 `json:"true_slack_weeks"`
}

// Feasible reports whether the target could be reached.
func (g *Ground) Feasible() bool { return g.SlackWeeks >= 0 }

// Infeasible reports whether not even the tolerance could be reached.
func (g *Ground) Infeasible() bool { return g.EdgeWeeks < 0 }

// Borderline is neither: the fastest permitted descent of somebody who knows all
// ends within the tolerance, short of the target.
func (g *Ground) Borderline() bool { return !g.Feasible() && !g.Infeasible() }

// TrueFeasible reports whether the target could be reached as true body fat.
func (g *Ground) TrueFeasible() bool { return g.TrueSlackWeeks >= 0 }

const (
	peakDays    = 7      // before the show in which no deficit is planned (common practice, no source)
	longestOver = 7 * 26 // days after the show that a descent is followed
)

// ground lives the fastest permitted descent.
func (s *subject) ground(i int) Ground {
	person := scenario.New(s.spec, s.seed)
	f := newFastest(s)
	ready := s.show.Date.AddDays(-peakDays)
	last := s.show.Date.AddDays(longestOver)
	target, edge := s.show.TargetBodyFatPct, s.show.TargetBodyFatPct+s.show.Tolerance()
	missing := -longestOver / 7.0
	g := Ground{Athlete: i, SlackWeeks: missing, EdgeWeeks: missing, TrueSlackWeeks: missing}
	appraisal := firstDay.AddDays(runInDays)
	var plan *athlete.Prescription
	for on := firstDay; on <= last; on++ {
		if on >= appraisal && on.DaysSince(appraisal)%7 == 0 {
			f.learn()
			plan = f.week(on, f.truth[len(f.truth)-1].FatKg)
		}
		t := person.Live(on, plan).Truth
		f.truth = append(f.truth, t)
		if on < appraisal {
			continue
		}
		slack := float64(ready.DaysSince(on)) / 7
		pct := 100 * t.FatKg / t.WeightKg
		reached := func(weeks *float64, ok bool) {
			if *weeks == missing && ok {
				*weeks = slack
			}
		}
		reached(&g.TrueSlackWeeks, pct <= target)
		reached(&g.EdgeWeeks, pct+s.biasPct <= edge)
		reached(&g.SlackWeeks, pct+s.biasPct <= target)
		if g.SlackWeeks > missing && g.TrueSlackWeeks > missing {
			break
		}
	}
	return g
}

// fastest asks each week for the permitted rate of loss, by the true body, with
// all the steps there are and the cardio of habit: cardio is exercise, which the
// floor of energy availability gives back.
type fastest struct {
	s     *subject
	body  scenario.Body
	truth []scenario.TruthDay
	// What the weeks so far have shown: eaten over prescribed, and the energy of
	// a kg of tissue lost.
	ratio, density float64
	plan           *athlete.Prescription
}

func newFastest(s *subject) fastest {
	return fastest{s: s, body: scenario.New(s.spec, s.seed).Body(), ratio: 1.03, density: 8500}
}

// week asks for the next week of a body with so much fat as is believed.
func (f *fastest) week(on civil.Date, fatKg float64) *athlete.Prescription {
	a := &f.s.spec.Athlete
	spent := f.lastWeek(func(t *scenario.TruthDay) float64 { return t.ReportedScaleExpenditureKcal })
	steps, asked := a.StepsMax(), a.StepsPerDay
	if f.plan != nil {
		asked = f.plan.Steps
	}
	now := &f.truth[len(f.truth)-1]
	spent += math.Max(0, steps-asked) * f.s.stepKcalPerKg * now.WeightKg
	lose := f.s.limits.RatePctPerWeek(100*fatKg/now.WeightKg) / 100 * now.WeightKg
	in := season.Instruction{StepsPerDay: steps, CardioMinutes: a.CardioMinutesPerWeek}
	in.EnergyKcal = (spent - lose*f.density/7) / f.ratio
	f.plan = f.s.prescribeOverFloor(on, in, athlete.Prep, now.WeightKg, now.WeightKg-fatKg)
	return f.plan
}

// lastWeek is the mean of something over the last seven days.
func (f *fastest) lastWeek(of func(*scenario.TruthDay) float64) float64 {
	mean := 0.0
	for i := len(f.truth) - 7; i < len(f.truth); i++ {
		mean += of(&f.truth[i]) / 7
	}
	return mean
}

// learn takes in what the last week of the plan that stood showed.
func (f *fastest) learn() {
	if f.plan == nil {
		return
	}
	const fatKcalPerKg = 9400 // of triglyceride
	was, now := &f.truth[len(f.truth)-8], &f.truth[len(f.truth)-1]
	fat, lean := was.FatKg-now.FatKg, was.LeanKg-now.LeanKg
	energy := fat*fatKcalPerKg + lean*f.body.LeanEnergyKcalPerKg
	if kg := fat + lean; kg > 0.1 {
		f.density += 0.5 * (math.Max(3000, math.Min(9400, energy/kg)) - f.density)
	}
	eaten := f.lastWeek(func(t *scenario.TruthDay) float64 { return t.IntakeKcal * t.ReportingFactor })
	f.ratio += 0.3 * (eaten/f.plan.MeanEnergyKcal() - f.ratio)
}
