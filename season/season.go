// Package season reckons the season backwards from the stage: whether there is
// time, the corridor of states from which the target can be reached, and the
// plan of least lean loss and then least hardship inside all limits.
//
// Everything is computed with the real dynamics. The control of a week is one
// number, the effort (effort.go), which runs through the levers in the order of
// what they cost the athlete.
package season

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
	"glidepath/numeric"
)

// Problem is an athlete on a date with a show to get to.
type Problem struct {
	AsOf   civil.Date
	Sex    athlete.Sex
	Units  athlete.Units // of the sentences
	Limits athlete.Limits
	Levers Levers

	Model             dynamics.Model // at the estimate's centre
	State             dynamics.State // on the morning of AsOf
	BodyFat           numeric.Normal // how well it is known, per cent
	ExpenditureSD     float64        // how well expenditure is known, kcal a day
	CarbohydrateShare float64        // of intake

	Show   athlete.Show
	Events []athlete.Event
	// Dieting: the prep is under way and goes on from AsOf. Otherwise the map
	// chooses when to start.
	Dieting bool
	// DietWeeks is how long the present diet has run already.
	DietWeeks int
	// Standing is the prescription of a diet under way, from which changes are
	// counted; nil where there is none, or where it is one of rest.
	Standing *Instruction
	// RecoverUntil is the end of the recovery that an earlier show asks for; zero
	// where none does.
	RecoverUntil civil.Date
	// OtherShows are alternatives to look at.
	OtherShows []athlete.Show

	short bool // of time: no more cardio, which slows a descent at the floor
}

// Levers are what can be asked of the athlete beyond food.
type Levers struct {
	StepsNow            float64 `json:"steps_now"`   // a day, as asked today
	StepsHabit          float64 `json:"steps_habit"` // a day, without anybody asking; 0 is StepsNow
	StepsMax            float64 `json:"steps_max"`
	StepKcalPerKg       float64 `json:"step_kcal_per_kg"`          // one step, net
	CardioNow           float64 `json:"cardio_now"`                // minutes a week, as asked today
	CardioHabit         float64 `json:"cardio_habit"`              // minutes a week, without anybody asking
	CardioMax           float64 `json:"cardio_max"`                // minutes a week
	CardioKcalPerKgMin  float64 `json:"cardio_kcal_per_kg_minute"` // net, the least tiring kind
	LiftingKcalPerKgDay float64 `json:"lifting_kcal_per_kg_day"`   // net, mean over the week
	// DoneShare is how much of the activity that is asked for is done; 0 is all.
	DoneShare float64 `json:"done_share,omitempty"`
}

// Instruction is a week's standing orders, as weekly means.
type Instruction struct {
	EnergyKcal    float64 `json:"energy_kcal"`
	StepsPerDay   float64 `json:"steps_per_day"`
	CardioMinutes float64 `json:"cardio_minutes_per_week"`
}

// ActivityKcalPerKg is the activity that an instruction brings, in kcal per kg of
// body weight a day.
func (l *Levers) ActivityKcalPerKg(in Instruction) float64 {
	asked := in.StepsPerDay*l.StepKcalPerKg + in.CardioMinutes/7*l.CardioKcalPerKgMin + l.LiftingKcalPerKgDay
	if l.DoneShare > 0 {
		asked *= l.DoneShare
	}
	return asked
}

// ExerciseKcalPerKg is the part of activity that counts as exercise for energy
// availability: cardio and lifting, not everyday steps.
func (l *Levers) ExerciseKcalPerKg(cardioMinutes float64) float64 {
	return cardioMinutes/7*l.CardioKcalPerKgMin + l.LiftingKcalPerKgDay
}

// What steps and cardio come down by, a week, on their way back to the habit when
// no diet needs them (judgement: a few weeks, so that appetite and food can keep
// up with each other).
const (
	easeSteps  = 1000.0 // a day
	easeCardio = 30.0   // minutes a week
)

// eased are the levers a week later in a phase without a diet.
func (l Levers) eased() Levers {
	if l.StepsHabit > 0 {
		l.StepsNow = math.Max(math.Min(l.StepsNow, l.StepsHabit), l.StepsNow-easeSteps)
	}
	l.CardioNow = math.Max(math.Min(l.CardioNow, l.CardioHabit), l.CardioNow-easeCardio)
	return l
}

// readyDays before the show the condition should stand: the peak week carries
// no deficit (common practice, no source).
const readyDays = 7

// Weeks that practice holds sensible for a prep (common practice, no source):
// most need more than 16, and beyond 26 a diet is better split by a pre-prep.
const (
	ShortPrepWeeks = 16
	LongPrepWeeks  = 26
)

// sensiblePace is the share of the fastest permitted pace that leaves room for
// life: a week lost to illness in six, or a diet break now and then (judgement).
const sensiblePace = 0.8

// tissueKg is body weight at usual hydration.
func tissueKg(m *dynamics.Model, s *dynamics.State) float64 {
	return s.FatKg + m.ReferenceFatFreeKg(s)
}

// bodyFatPct is body fat at usual hydration, per cent.
func bodyFatPct(m *dynamics.Model, s *dynamics.State) float64 {
	return 100 * s.FatKg / tissueKg(m, s)
}

// maintenanceDay reports whether no deficit is planned on a day: an event says
// so, or it falls in the week before the show.
func (p *Problem) maintenanceDay(on civil.Date) bool {
	if on >= p.Show.Date.AddDays(-readyDays) {
		return true
	}
	for i := range p.Events {
		e := &p.Events[i]
		if e.Maintenance && on >= e.From && on <= e.To {
			return true
		}
	}
	return false
}

// dietDays counts the days from a date to the show on which a deficit may be
// planned.
func (p *Problem) dietDays(from civil.Date) int {
	n := 0
	for d := from; d < p.Show.Date; d++ {
		if !p.maintenanceDay(d) {
			n++
		}
	}
	return n
}

// Season is the whole answer.
type Season struct {
	Appraisal Appraisal `json:"appraisal"`
	Corridor  Corridor  `json:"corridor"`
	Map       Map       `json:"map"`
	// Frontier is what each start of the prep comes to; empty where it has begun.
	Frontier []Start `json:"frontier,omitempty"`
}

// shortWeeks is the slack under which an athlete is short of time (judgement).
const shortWeeks = 3.0

// Solve appraises the start, computes the corridor and maps the season. Without
// a show only the map is filled.
func Solve(p Problem) Season {
	var s Season
	if p.Show.Date.IsZero() {
		s.Map = p.plan(&s.Corridor)
		return s
	}
	p.short = true // the edges are those of who has no time to lose
	s.Corridor = p.corridor()
	if p.short = s.Corridor.SlackWeeks.Value < shortWeeks; !p.short {
		s.Map = p.plan(&s.Corridor)
		p.short = !s.Map.Lands
	}
	if p.short {
		s.Map = p.plan(&s.Corridor)
	}
	s.Corridor.weigh(s.Map.Path)
	s.Frontier = p.frontier(&s.Corridor, &s.Map)
	p.short = true
	s.Appraisal = p.appraise(&s.Corridor, &s.Map, s.Frontier)
	return s
}
