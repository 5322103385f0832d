// Package decision is the weekly review: from the reading and the re-planned
// season it proposes the smallest sufficient change of the least tiring lever,
// or to hold where the evidence is thin, with its reasons in figures.
//
// Its thresholds are judgement, gathered in Settings; none lets a proposal go
// beyond a limit.
package decision

import (
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/numeric"
	"glidepath/reading"
	"glidepath/season"
)

// Situation is everything a review looks at.
type Situation struct {
	Athlete *athlete.Athlete
	Reading *reading.Reading
	Problem season.Problem
	Season  season.Season
	// Sure is the season planned for a body as fat as it may well be, so that there
	// is still time if it is: what the review asks by. The zero value is Season.
	Sure season.Season
	// Past are the proposals of the last eight weeks, the oldest first.
	Past []Proposal
	// Current is the prescription that stands; nil where none does.
	Current *athlete.Prescription
	// Recovery is what the training log advises; nil where nothing is logged.
	Recovery *Recovery
	Settings Settings
}

// Recovery is the advice on training volume, as plain facts.
type Recovery struct {
	// Change: fewer sets, a deload or another exercise is proposed.
	Change      bool                 `json:"change"`
	Sentence    string               `json:"sentence"`       // what is proposed, or why nothing is
	Sets        []athlete.MuscleSets `json:"sets,omitempty"` // as they would stand; empty leaves what stands
	Reasons     []string             `json:"reasons,omitempty"`
	Expects     []string             `json:"expects,omitempty"`
	ChangesMind []string             `json:"changes_mind,omitempty"`
	Cautions    []string             `json:"cautions,omitempty"`
	// RealLoss is the probability that strength has really fallen by over 5 %.
	RealLoss float64 `json:"real_loss"`
}

// Settings are the thresholds. The zero value is the recommended one.
type Settings struct {
	DeadbandKcal   float64 // smallest gap worth acting on; default 60
	Sure           float64 // least probability of being right to act; default 0.65
	LargestKcal    float64 // most that one review asks for or gives back, over 25; default 200
	SettleDays     int     // days a change is left to show itself; default 12
	LeastWeights   int     // weigh-ins in 14 days; default 5
	LeastLogDays   int     // age of the log; default 14
	AdherenceShare float64 // mean departure from the plan worth talking about; default 0.06
	MostTalks      int     // talks in four weeks after which a departure is taken as it is; default 2
}

func (s Settings) withDefaults() Settings {
	set := func(v *float64, d float64) {
		if *v == 0 {
			*v = d
		}
	}
	set(&s.DeadbandKcal, 60)
	set(&s.Sure, 0.65)
	set(&s.LargestKcal, 200)
	set(&s.AdherenceShare, 0.06)
	if s.MostTalks == 0 {
		s.MostTalks = 2
	}
	if s.SettleDays == 0 {
		s.SettleDays = 12
	}
	if s.LeastWeights == 0 {
		s.LeastWeights = 5
	}
	if s.LeastLogDays == 0 {
		s.LeastLogDays = 14
	}
	return s
}

// Action is what a proposal asks of the coach.
type Action string

// The actions.
const (
	Hold   Action = "hold"
	Change Action = "change"
	Begin  Action = "begin" // a first prescription, or the start of a phase
	Talk   Action = "talk"  // adherence or logging comes first
)

// Lever is what a change moves.
type Lever string

// The levers.
const (
	Food   Lever = "food"
	Steps  Lever = "steps"
	Cardio Lever = "cardio"
	Sets   Lever = "sets"
)

// Proposal is the week's answer.
type Proposal struct {
	AsOf     civil.Date           `json:"as_of"`
	Action   Action               `json:"action"`
	Lever    Lever                `json:"lever,omitempty"`
	Phase    athlete.PhaseKind    `json:"phase"`
	Sentence string               `json:"sentence"`
	From     season.Instruction   `json:"from"`
	To       season.Instruction   `json:"to"`
	Sets     []athlete.MuscleSets `json:"sets,omitempty"`

	GapKcal      numeric.Interval `json:"gap_kcal"` // deficit planned less deficit expected if nothing changes
	ChangeKcal   float64          `json:"change_kcal"`
	Sure         float64          `json:"sure"` // probability that the direction is right
	Reasons      []string         `json:"reasons"`
	Expects      []string         `json:"expects"`
	ChangesMind  []string         `json:"changes_mind"`
	Questions    []string         `json:"questions,omitempty"`
	Cautions     []string         `json:"cautions,omitempty"`
	WeightIn4Kg  numeric.Interval `json:"weight_in_4_weeks_kg"` // on show day where that is sooner
	RatePct      numeric.Interval `json:"rate_pct"`
	PermittedPct float64          `json:"permitted_pct"`
	TooFast      bool             `json:"too_fast,omitempty"` // food comes back because loss is too fast
	// Exchange marks the one change that moves two levers, since neither does it
	// alone: cardio back together with the food that paid for it.
	Exchange bool `json:"exchange,omitempty"`
}
