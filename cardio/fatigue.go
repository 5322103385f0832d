package cardio

import (
	"math"

	"glidepath/athlete"
)

// FatigueRow is what a kind of cardio costs, in points a net kcal.
type FatigueRow struct {
	Kind athlete.CardioKind `json:"kind"`
	// Base is what a kcal costs at an easy intensity, landings and tomorrow's lifting
	// apart.
	Base float64 `json:"base"`
	// Impact is what landing adds.
	Impact float64 `json:"impact"`
	// Loads are the joints that it works at all, and Strains those of them that it
	// works hard. A kind is left out where one that it loads is hurt, or one that it
	// strains is to be spared.
	Loads   []athlete.Region `json:"loads,omitempty"`
	Strains []athlete.Region `json:"strains,omitempty"`
	// Muscles are those that it uses, by how heavily, 0 to 1 of what lifting does.
	Muscles []athlete.Share `json:"muscles,omitempty"`
}

// FatigueTable is what expenditure costs in fatigue, in points of our own: one
// net kcal of everyday steps is one point. All of it is judgement, for a coach to
// change, and no paper gives such a table. What the order rests on:
//
//   - Interference with strength and size came with running and not with cycling
//     (Wilson et al. 2012, J Strength Cond Res 26:2293; Lundberg et al. 2022, Sports
//     Med 52:2391, in type I fibres only). Others found none of either, but for
//     explosive strength (Schumann et al. 2022, Sports Med 52:601).
//   - Strength of the legs suffers whether the same work is done hard or moderately
//     (Fyfe et al. 2016, Front Physiol 7:487), so hardness alone is dear only when lean.
//   - Strength gains were less with cardio straight after lifting than 6 or 24 hours
//     apart (Robineau et al. 2016, J Strength Cond Res 30:672).
//   - Walking and cycling are what is advised in preparation, and as little as does
//     (Helms et al. 2015, J Sports Med Phys Fitness 55:164).
type FatigueTable struct {
	Rows []FatigueRow `json:"rows"`
	// Overlap is what a net kcal costs for each hard set that is planned tomorrow for
	// a muscle that it uses fully; SameDay is the share of it for today's.
	Overlap float64 `json:"overlap"`
	SameDay float64 `json:"same_day"`
	// HardRise is how much dearer a kcal gets at the hardest intensity, counted from
	// 7 to 12 MET; LeanRise how much more at stage leanness, counted from 3 to 12 MET:
	// 1 doubles it. The latter rises with intensity times leanness.
	HardRise float64 `json:"hard_rise"`
	LeanRise float64 `json:"lean_rise"`
	// What a week costs, in points, for a second kind, for each second session on one
	// day, and for having no day left without lifting or cardio.
	SecondKind float64 `json:"second_kind"`
	SecondADay float64 `json:"second_a_day"`
	NoDayOff   float64 `json:"no_day_off"`
	// The most intensity taken, MET gross: far from lean and at stage leanness.
	MostMETFar  float64 `json:"most_met_far"`
	MostMETLean float64 `json:"most_met_lean"`
}

// Fatigue is what an amount of expenditure costs, in points by where they come
// from.
type Fatigue struct {
	Base      float64 `json:"base"`
	Impact    float64 `json:"impact"`
	Intensity float64 `json:"intensity"`
	Overlap   float64 `json:"overlap"`
	// Week is for a second kind, two sessions on a day and no day off.
	Week float64 `json:"week,omitempty"`
}

// Points is all of it.
func (f Fatigue) Points() float64 { return f.Base + f.Impact + f.Intensity + f.Overlap + f.Week }

// add adds another's points, each times k.
func (f *Fatigue) add(o Fatigue, k float64) {
	f.Base += k * o.Base
	f.Impact += k * o.Impact
	f.Intensity += k * o.Intensity
	f.Overlap += k * o.Overlap
	f.Week += k * o.Week
}

// MostMET is the most intensity taken at a leanness from 0 (far) to 1 (stage).
func (t *FatigueTable) MostMET(leanness float64) float64 {
	return t.MostMETFar + leanness*(t.MostMETLean-t.MostMETFar)
}

// Row is the row of a kind, nil where there is none.
func (t *FatigueTable) Row(kind athlete.CardioKind) *FatigueRow {
	for i := range t.Rows {
		if t.Rows[i].Kind == kind {
			return &t.Rows[i]
		}
	}
	return nil
}

// Of is what a net kcal of a kind costs at an intensity, MET gross, and leanness, 0
// to 1, with so many hard sets beside it (OverlapSets). An unknown kind costs
// infinitely much.
func (t *FatigueTable) Of(kind athlete.CardioKind, met, leanness, overlapSets float64) Fatigue {
	row := t.Row(kind)
	if row == nil {
		return Fatigue{Base: math.Inf(1)}
	}
	const easiest, hard, hardest = 3.0, 7.0, 12.0 // MET
	rise := t.HardRise*share(met, hard, hardest) + t.LeanRise*share(met, easiest, hardest)*leanness
	return Fatigue{
		Base: row.Base, Impact: row.Impact, Intensity: (row.Base + row.Impact) * rise, Overlap: t.Overlap * overlapSets,
	}
}

// share is how far v is from low to high, 0 to 1.
func share(v, low, high float64) float64 {
	return math.Max(0, math.Min(1, (v-low)/(high-low)))
}

// PerKcal is the points of Of, with no lifting near.
func (t *FatigueTable) PerKcal(kind athlete.CardioKind, met, leanness float64) float64 {
	return t.Of(kind, met, leanness, 0).Points()
}

// DayTraining is what is lifted on a day.
type DayTraining struct {
	Lifts bool                 `json:"lifts"`
	Sets  []athlete.MuscleSets `json:"hard_sets,omitempty"` // hard sets; empty where it is not known
}

// OverlapSets is the hard sets that cardio of a kind on a day, 0 to 6, meets: of the
// muscles that it uses, by how heavily; tomorrow's in full and today's by SameDay.
// The week goes round.
func (t *FatigueTable) OverlapSets(kind athlete.CardioKind, week *[7]DayTraining, day int) float64 {
	row := t.Row(kind)
	if row == nil {
		return 0
	}
	return meet(row.Muscles, week[(day+1)%7].Sets) + t.SameDay*meet(row.Muscles, week[day].Sets)
}

func meet(muscles []athlete.Share, sets []athlete.MuscleSets) float64 {
	sum := 0.0
	for _, s := range sets {
		for _, m := range muscles {
			if m.Muscle == s.Muscle {
				sum += m.Share * s.Sets
			}
		}
	}
	return sum
}
