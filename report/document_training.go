package report

import (
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
)

// Training is what is so of the training as a whole, and what is proposed for it.
type Training struct {
	Section
	Advice    string // what is proposed, or why nothing is
	Exercises []Change
	// Waits are exercises that are left out until a clinician has spoken.
	Waits       []string
	Reasons     []string
	Expects     []string
	WouldChange []string
}

// Sets is the weekly hard sets by muscle, and how heavy and how near to failure
// they were.
type Sets struct {
	Section
	Chart  chart.Muscles
	Reps   chart.Splits
	Effort chart.Splits
	Weeks  []SetsWeek
	// Uncounted are exercises that count for no muscle, since no catalogue knows them.
	Uncounted []string
}

// SetsWeek is what was lifted in a week.
type SetsWeek struct {
	From      civil.Date
	Whole     bool // it is over
	HardSets  int
	TonnageKg float64
	Muscles   []athlete.MuscleSets
}

// Load is how hard each week of training felt.
type Load struct {
	Section
	Chart chart.Loads
	Weeks []LoadWeek
}

// LoadWeek is a whole week; nil is not logged.
type LoadWeek struct {
	From                   civil.Date
	Sessions               int
	Load, Monotony, Strain *float64
	OfUsual                *float64 // of the mean of the four weeks before
}

// Cardio is what the same energy costs by each way of spending it, and what the
// plan has in reserve.
type Cardio struct {
	Section
	Kcal  float64 // that are compared, over rest
	Trade chart.Trade
	Ways  []Way
	Mix   string // the least tiring mix, in sentences
	Yield string // how much of what activity costs adds to the day

	Reserve         chart.Splits
	ReserveSentence string
	ReserveWeeks    []ReserveWeek

	Asked []CardioDay // by day of the week, from Monday; nil where nothing is asked
	// Free are sessions that are on no day.
	Free []string
}

// Way is one way of spending the energy.
type Way struct {
	Name, Amount     string  // minutes, or steps
	Points           float64 // of fatigue
	LowKcal, HiKcal  float64 // 90 % interval of what it costs one person
	Impact, Hardness float64 // of the points: for landing, for how hard it is
	Overlap          float64 // and for the lifting near it
	MET              float64 // gross; 0 where it is not told
	Remark           string  // what speaks against it, or which day suits it
	Open             bool    // the athlete has it, and nothing forbids it
}

// ReserveWeek is what a week of the plan leaves in hand.
type ReserveWeek struct {
	From                 civil.Date
	Phase                athlete.PhaseKind
	UsedKcal, ThereKcal  float64 // a day
	StepsLeft            float64 // a day
	MinutesLeft          float64 // a week
	AddsKcal, FoodToLeft float64 // a day
}

// CardioDay is a day of the week with what is asked on it.
type CardioDay struct {
	Day   string
	Asked []string
}
