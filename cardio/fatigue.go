package cardio

import (
	"math"

	"glidepath/athlete"
	"glidepath/fault"
)

// FatigueRow is what a kind of cardio costs.
type FatigueRow struct {
	Kind    athlete.CardioKind `json:"kind"`
	PerKcal float64            `json:"per_kcal"` // points a net kcal; a kcal of everyday steps is 1
}

// FatigueTable is what expenditure costs in fatigue, in points of our own: one
// net kcal of everyday steps is one point. All of it is judgement, for a coach to
// change; the order follows what is reported of interference with strength
// training: walking and cycling least, running and high intensity most (Wilson et
// al. 2012, J Strength Cond Res 26:2293, from memory; Helms et al. 2015, J Sports
// Med Phys Fitness 55:164).
type FatigueTable struct {
	Rows []FatigueRow `json:"rows"`
	// LeanRise is how much dearer a kcal gets at the hardest intensity and stage
	// leanness: 1 doubles it. It rises with intensity times leanness.
	LeanRise float64 `json:"lean_rise"`
	// SecondKind is what doing a second kind costs a week, for the fuss of it.
	SecondKind float64 `json:"second_kind"`
	// The most intensity taken, MET gross: far from lean and at stage leanness.
	MostMETFar  float64 `json:"most_met_far"`
	MostMETLean float64 `json:"most_met_lean"`
}

// DefaultFatigue is the table that Mix uses where none is given.
func DefaultFatigue() FatigueTable {
	return FatigueTable{
		Rows: []FatigueRow{
			{athlete.Walking, 1.0},
			{athlete.InclineWalk, 1.15},
			{athlete.Posing, 1.15},
			{athlete.Cycling, 1.2},
			{athlete.Elliptical, 1.25},
			{athlete.Swimming, 1.35},
			{athlete.Rowing, 1.5},
			{athlete.StairClimbing, 1.5},
			{athlete.Running, 1.8},
			{athlete.Intervals, 2.2},
		},
		LeanRise: 1, SecondKind: 40, MostMETFar: 12, MostMETLean: 7,
	}
}

// Validate checks a coach's table: every kind once, at 0.1 to 10 points a kcal.
func (t *FatigueTable) Validate() error {
	seen := map[athlete.CardioKind]bool{}
	for _, r := range t.Rows {
		if !r.Kind.Valid() || seen[r.Kind] || !(r.PerKcal >= 0.1 && r.PerKcal <= 10) {
			return fault.New(fault.Invalid, "the row %q at %v points a kcal is unknown, doubled or outside 0.1 to 10.", r.Kind, r.PerKcal).
				WithField("fatigue.rows")
		}
		seen[r.Kind] = true
	}
	for _, k := range athlete.CardioKinds() {
		if !seen[k] {
			return fault.New(fault.Invalid, "the fatigue table has no row for %s.", k).WithField("fatigue.rows")
		}
	}
	if !(t.LeanRise >= 0 && t.LeanRise <= 10 && t.SecondKind >= 0 && t.SecondKind <= 10000) {
		return fault.New(fault.Invalid, "lean_rise %v or second_kind %v is outside 0 to 10 or 0 to 10,000.", t.LeanRise, t.SecondKind).
			WithField("fatigue.lean_rise")
	}
	if !(t.MostMETLean >= 3 && t.MostMETLean <= t.MostMETFar && t.MostMETFar <= 20) {
		return fault.New(fault.Invalid, "the most intensity, %v MET lean and %v MET far, is not in order within 3 to 20.",
			t.MostMETLean, t.MostMETFar).WithField("fatigue.most_met_lean")
	}
	return nil
}

// MostMET is the most intensity taken at a leanness from 0 (far) to 1 (stage).
func (t *FatigueTable) MostMET(leanness float64) float64 {
	return t.MostMETFar + leanness*(t.MostMETLean-t.MostMETFar)
}

// PerKcal is the points a net kcal of a kind costs at an intensity and leanness.
func (t *FatigueTable) PerKcal(kind athlete.CardioKind, met, leanness float64) float64 {
	const easiest, hardest = 3.0, 12.0 // MET between which intensity counts from 0 to 1
	intensity := math.Max(0, math.Min(1, (met-easiest)/(hardest-easiest)))
	for _, r := range t.Rows {
		if r.Kind == kind {
			return r.PerKcal * (1 + t.LeanRise*intensity*leanness)
		}
	}
	return math.Inf(1)
}
