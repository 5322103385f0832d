// Package report makes one HTML file of an athlete's season: a page that needs
// nothing but itself, runs no script, asks for nothing over the network, and
// prints on A4 and US Letter.
//
// A Document is plain data. Each section opens with a sentence that the maker of
// the document writes from the figures; a section without data says what it
// waits for. Weights are in kg and energies in kcal a day on the athlete's own
// reporting scale; the page turns weights into the reader's unit, but takes
// sentences as they are: whoever writes them writes in the reader's unit too.
package report

import (
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
)

// Document is everything that the page says. Every part may be missing.
type Document struct {
	Name string
	Show *Show
	AsOf civil.Date
	// LogsTo is the last day of which anything is logged.
	LogsTo   civil.Date
	Notation chart.Notation
	// Invented says that the athlete is made up; the page says so at its head and
	// its foot.
	Invented bool
	// Lead is the one sentence that says what is so and what to do.
	Lead string
	// Cautions are those that belong to no section; they stand under Lead.
	Cautions []Caution

	Corridor     Corridor
	Review       Review
	Prescription Prescription
	Appraisal    Appraisal
	Season       Season
	Expenditure  Expenditure
	Composition  Composition
	Strength     Strength
	Training     Training // on a page of its own, and not in the report
	Sets         Sets
	Load         Load
	Activity     Activity
	Cardio       Cardio
	Recovery     Recovery
	Chances      Chances
	CannotTell   CannotTell
	// Glossary is added to the page's own, and takes the place of a term that is
	// already in it.
	Glossary []Term
}

// Show is the contest that the page is about.
type Show struct {
	Name, Division string
	Date           civil.Date
}

// Section is how each section opens: a sentence, then the cautions that belong
// to it.
type Section struct {
	Sentence string
	Cautions []Caution
}

// Caution is a plain sentence on a risk, and one on whom to call.
type Caution struct{ Text, Call string }

// Estimate is a value with its 90 % interval. Low and High that are not finite
// or both zero are not shown.
type Estimate struct{ Value, Low, High float64 }

// Corridor is the signature picture and the numbers behind it.
type Corridor struct {
	Section
	Chart chart.Corridor
	Now   *Estimate // trend weight, kg
	// RatePctPerWeek is the present rate of change, % of body weight a week;
	// losing is negative.
	RatePctPerWeek *Estimate
	SlackWeeks     *Estimate
	AtShow         *Estimate // forecast weight on the day, kg
}

// Review is the week's proposal and what the coach did with it.
type Review struct {
	Section
	Date       civil.Date
	Proposal   string // "" where there is no review
	Changes    []Change
	Reasons    []string
	Confidence string // in words
	// ConfidencePct is the same as a number, nil where there is none.
	ConfidencePct *float64
	Expects       string
	WouldChange   []string // what would change its mind
	Decision      Decision
}

// Change is a lever before and after, each with its unit.
type Change struct{ Lever, From, To string }

// Decision is what the coach did with the proposal: State is "" while it waits,
// or accepted, edited or declined.
type Decision struct {
	State, Who, Reason string
	On                 civil.Date
}

// Prescription is the standing instructions.
type Prescription struct {
	Section
	InForce *athlete.Prescription
}

// Appraisal is the verdict on the starting position.
type Appraisal struct {
	Section
	Verdict      string
	SlackWeeks   *Estimate
	WeeksNeeded  *Estimate
	WeeksThere   *float64
	LatestStart  civil.Date
	Binds        []string // the limits that bind, in words with their figures
	Ways         []string // what would make it feasible, or easier
	Alternatives []Alternative
}

// Alternative is another way to the stage. A value that does not apply is nil or
// zero.
type Alternative struct {
	Name         string
	Start, Show  civil.Date
	DietWeeks    *Estimate // how long the diet takes
	SlackWeeks   *Estimate
	LeanChangeKg *Estimate
	LowestKcal   *float64 // the lowest weekly mean on the way
	OnTarget     *float64 // probability
	Note         string
}

// Season is the map: the phases, what each week asks, the rests that were decided
// for and against, and what other starts would come to.
type Season struct {
	Section
	Phases   []Phase
	Weeks    []Week
	Rests    []string
	Evidence []string // for rests, and how good it is
	Starts   chart.Starts
}

// Phase is a phase with a sentence on what it is for.
type Phase struct {
	athlete.Phase
	Note string
}

// Week is what a week of the map asks and the weight expected at its end.
type Week struct {
	From          civil.Date
	Phase         athlete.PhaseKind
	EnergyKcal    *float64
	Steps         *float64
	CardioMinutes *float64
	WeightKg      *Estimate
	Note          string
}

// Expenditure is what the athlete spends, on their own reporting scale.
type Expenditure struct {
	Section
	Now   *Estimate // kcal a day
	Weeks []ExpenditureWeek
}

// ExpenditureWeek is a week's reported energy and estimated expenditure.
type ExpenditureWeek struct {
	From         civil.Date
	DaysLogged   int
	ReportedKcal *float64
	SpentKcal    *Estimate
}

// Composition is body fat and lean mass.
type Composition struct {
	Section
	Chart      chart.Composition
	BodyFatPct *Estimate
	LeanKg     *Estimate
	FatKg      *Estimate
}

// Strength is how much of the off-season strength is left.
type Strength struct {
	Section
	Chart   chart.Strength
	Lifts   []Lift
	Muscles chart.Kept // by muscle
	// OverBody is strength over body weight, % of the baseline's, and FairPct strength
	// over body weight to the power of 2/3, which is fair to a lighter body.
	OverBodyPct, FairPct *Estimate
	Findings             []string // real losses, and exercises that took over from others
	Cannot               []string // which CannotTell has as well
}

// Lift is an estimated one-repetition maximum then and now.
type Lift struct {
	Name        string
	BaselineKg  *Estimate
	NowKg       *Estimate
	RetainedPct *Estimate
	LastLogged  civil.Date
	Note        string // as from what it took over
}

// Activity is steps and cardio.
type Activity struct {
	Section
	Chart chart.Activity
}

// Recovery is sleep, hunger, fatigue and the like, and what they come to.
type Recovery struct {
	Section
	Chart chart.Recovery
	State chart.State
	// Signs are what each marker does to the state.
	Signs    []Sign
	Capacity *Capacity
	Cannot   []string
}

// Sign is one marker of recovery.
type Sign struct {
	Name   string
	Lately *float64 // mean of the week
	Usual  float64
	Effect float64 // on the state
}

// Capacity is the share of an off-season's sets that one may expect an athlete to
// recover from, with what that judgement rests on.
type Capacity struct {
	SharePct           *Estimate
	Sentence, Evidence string
}

// Chances are the probabilities of the forecast.
type Chances struct {
	Section
	Of []Chance
}

// Chance is the probability, from 0 to 1, of an outcome said in words. Low and
// High bound it where they are known.
type Chance struct {
	Of        string
	P         float64
	Low, High *float64
	Note      string
}

// CannotTell is what the data at hand cannot say.
type CannotTell struct {
	Section
	Items []string
}

// Term is a word and what it means here.
type Term struct{ Word, Meaning string }
