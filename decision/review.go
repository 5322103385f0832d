package decision

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/numeric"
	"glidepath/season"
)

// review carries a proposal while it is made.
type review struct {
	Situation
	set   Settings
	p     *season.Problem
	out   Proposal
	ratio float64 // eaten over prescribed
	// deficits, kcal a day
	planned, expected float64
	plan              season.Instruction // what the plan asks of the next weeks
	inCase            float64            // kcal a day of planned that are asked in case body fat turns out higher
}

// Review makes the proposal. The reading must have at least one day.
func Review(s Situation) Proposal {
	r := &review{Situation: s, set: s.Settings.withDefaults(), p: &s.Problem}
	r.gather()
	switch {
	case r.phase():
	case r.restWeek():
	case r.tooFast():
	case r.belowFloor():
	case r.thin():
	case r.adherence():
	case r.settling():
	case r.offPlan():
	case r.comeBack():
	case r.training():
	default:
		r.hold(fmt.Sprintf("On the plan: the gap of %s is within what a week can tell.", kcal(math.Abs(r.out.GapKcal.Value))))
	}
	r.finish()
	return r.out
}

// gather works out where the athlete stands against the plan.
func (r *review) gather() {
	o := &r.out
	last := r.last()
	o.AsOf, o.Phase = r.Reading.AsOf, athlete.OffSeason
	if w := r.thisWeek(); w != nil {
		o.Phase = w.Phase
	}
	o.RatePct = last.RatePct
	o.PermittedPct = r.p.Limits.RatePctPerWeek(last.BodyFatPct.Value)
	r.ratio = 1
	if r.Current != nil {
		r.ratio = r.Reading.Adherence.Expected()
	}
	o.From = r.current()
	o.To = o.From
	r.lookAhead()
	r.expected = r.deficit(r.eaten(o.From))
	sd := last.ExpenditureKc.SD()
	o.GapKcal = numeric.Normal{Mean: r.planned - r.expected, SD: sd}.Interval()
	o.Sure = 1 - numeric.Normal{Mean: math.Abs(r.planned - r.expected), SD: math.Max(sd, 1)}.Below(0)
	for _, q := range r.Reading.Queries {
		if o.AsOf.DaysSince(q.Date) < 14 {
			o.Questions = append(o.Questions, q.Reason)
		}
	}
}

func (r *review) last() lastDay {
	d := &r.Reading.Daily[len(r.Reading.Daily)-1]
	return lastDay{d.RatePct, d.BodyFatPct, d.ExpenditureKc, d.TrendKg, d.LeanKg}
}

// lastDay is what the review needs of the last estimate.
type lastDay struct {
	RatePct, BodyFatPct, ExpenditureKc, TrendKg, LeanKg numeric.Interval
}

// weeks are the plan to ask by: that for a body as fat as it may well be where it
// has the athlete in a prep, else that for the likeliest.
func (r *review) weeks() []season.Week {
	if sure := r.Sure.Map.Weeks; len(sure) > 0 && sure[0].Phase == athlete.Prep {
		return sure
	}
	return r.Season.Map.Weeks
}

// thisWeek is the first week of the plan, nil where there is none.
func (r *review) thisWeek() *season.Week {
	weeks := r.weeks()
	if len(weeks) == 0 {
		return nil
	}
	return &weeks[0]
}

// current is the standing prescription as weekly means; without one, what the
// athlete does.
func (r *review) current() season.Instruction {
	if c := r.Current; c != nil {
		return season.Instruction{EnergyKcal: c.MeanEnergyKcal(), StepsPerDay: c.Steps, CardioMinutes: c.CardioMinutes()}
	}
	return season.Instruction{
		EnergyKcal:  r.Reading.Now.IntakeKcal,
		StepsPerDay: r.p.Levers.StepsNow, CardioMinutes: r.p.Levers.CardioNow,
	}
}

// eaten is an instruction as this athlete follows it.
func (r *review) eaten(in season.Instruction) season.Instruction {
	in.EnergyKcal *= r.ratio
	return in
}

// mostAllowed bounds what is added to or taken off a prescription because it is
// eaten otherwise (judgement).
const mostAllowed = 0.1

// asked is what to prescribe so that an instruction is eaten.
func (r *review) asked(in season.Instruction) season.Instruction {
	in.EnergyKcal /= math.Max(1-mostAllowed, math.Min(1+mostAllowed, r.ratio))
	return in
}

// weeksAhead is how many weeks of the plan the next prescription should suit.
const weeksAhead = 3

// mostRest is the days at maintenance from which a week of a diet is one of
// rest.
const mostRest = 4

func resting(w *season.Week) bool {
	return w.RestDays >= mostRest && (w.Phase == athlete.Prep || w.Phase == athlete.PrePrep)
}

// lookAhead takes what the plan asks of the next weeks, and how much of it is asked
// only because body fat may yet turn out higher.
func (r *review) lookAhead() {
	r.plan, r.planned = r.average(r.weeks())
	_, likeliest := r.average(r.Season.Map.Weeks)
	r.inCase = r.planned - likeliest
}

// average is what a plan asks of its next weeks of one phase, weeks of rest left
// out where there are others, and the deficit that comes to.
func (r *review) average(weeks []season.Week) (season.Instruction, float64) {
	var sum season.Instruction
	n, deficit := 0.0, 0.0
	for i := range weeks {
		w := &weeks[i]
		if w.Phase != weeks[0].Phase || n == weeksAhead {
			break
		}
		if resting(w) {
			continue
		}
		sum.EnergyKcal += w.Asked.EnergyKcal
		sum.StepsPerDay += w.Asked.StepsPerDay
		sum.CardioMinutes += w.Asked.CardioMinutes
		deficit += r.deficit(w.Asked)
		n++
	}
	if n == 0 {
		return r.out.From, r.deficit(r.out.From)
	}
	return season.Instruction{EnergyKcal: sum.EnergyKcal / n, StepsPerDay: sum.StepsPerDay / n, CardioMinutes: sum.CardioMinutes / n}, deficit / n
}

// deficit is what an instruction, eaten to the letter, takes from the body now,
// kcal a day.
func (r *review) deficit(in season.Instruction) float64 {
	activity := r.p.Levers.ActivityKcalPerKg(in)
	return r.p.Model.MaintenanceKcal(&r.p.State, in.EnergyKcal, activity) - in.EnergyKcal
}

// dieting reports whether the phase is one of deficit.
func (r *review) dieting() bool {
	return r.out.Phase == athlete.Prep || r.out.Phase == athlete.PrePrep
}

func (r *review) hold(sentence string) {
	o := &r.out
	o.Action, o.Sentence = Hold, sentence
	o.Lever, o.To, o.ChangeKcal = "", o.From, 0
}

func (r *review) talk(format string, args ...any) {
	r.hold(fmt.Sprintf(format, args...))
	r.out.Action = Talk
}

func (r *review) reason(format string, args ...any) {
	r.out.Reasons = append(r.out.Reasons, fmt.Sprintf(format, args...))
}
