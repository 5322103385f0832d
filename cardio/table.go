package cardio

import (
	"bytes"
	"encoding/json"
	"slices"

	"glidepath/athlete"
	"glidepath/fault"
)

// uses lists muscles in the domain's order.
func uses(share map[athlete.Muscle]float64) []athlete.Share {
	var out []athlete.Share
	for _, m := range athlete.Muscles() {
		if v := share[m]; v > 0 {
			out = append(out, athlete.Share{Muscle: m, Share: v})
		}
	}
	return out
}

type shares = map[athlete.Muscle]float64

// DefaultFatigue is the table that is used where none is given; see FatigueTable for
// what it rests on.
func DefaultFatigue() FatigueTable {
	joints := func(r ...athlete.Region) []athlete.Region { return r }
	legs := joints(athlete.Hip, athlete.Knee, athlete.Ankle, athlete.Foot)
	legsAndBack := append(slices.Clone(legs), athlete.LowerBack)
	return FatigueTable{
		Rows: []FatigueRow{
			{athlete.Walking, 0.95, 0.05, legs, nil, uses(shares{athlete.Calves: 0.2})},
			{
				athlete.InclineWalk, 1.10, 0.05, legsAndBack, joints(athlete.Ankle),
				uses(shares{athlete.Glutes: 0.5, athlete.Calves: 0.6, athlete.Hamstrings: 0.4, athlete.Quadriceps: 0.3}),
			},
			{
				athlete.Posing, 1.15, 0, joints(athlete.Shoulder, athlete.LowerBack), nil,
				uses(shares{athlete.Abdominals: 0.3, athlete.Quadriceps: 0.3}),
			},
			{
				athlete.Cycling, 1.20, 0, joints(athlete.Hip, athlete.Knee, athlete.LowerBack, athlete.Neck, athlete.Wrist), nil,
				uses(shares{athlete.Quadriceps: 0.8, athlete.Glutes: 0.5, athlete.Hamstrings: 0.3, athlete.Calves: 0.3}),
			},
			{
				athlete.Elliptical, 1.23, 0.02, append(slices.Clone(legs), athlete.Shoulder), nil,
				uses(shares{athlete.Quadriceps: 0.5, athlete.Glutes: 0.5, athlete.Hamstrings: 0.3, athlete.Calves: 0.2}),
			},
			{
				athlete.Swimming, 1.35, 0, joints(athlete.Shoulder, athlete.Elbow, athlete.Neck), joints(athlete.Shoulder),
				uses(shares{athlete.Back: 0.7, athlete.Shoulders: 0.7, athlete.Triceps: 0.3, athlete.Chest: 0.3}),
			},
			{
				athlete.Rowing, 1.50, 0,
				joints(athlete.LowerBack, athlete.Hip, athlete.Knee, athlete.Shoulder, athlete.Elbow, athlete.Wrist), joints(athlete.LowerBack),
				uses(shares{athlete.Back: 0.7, athlete.Quadriceps: 0.5, athlete.Hamstrings: 0.4, athlete.Glutes: 0.4, athlete.Biceps: 0.4}),
			},
			{
				athlete.StairClimbing, 1.40, 0.10, legs, joints(athlete.Knee),
				uses(shares{athlete.Glutes: 0.8, athlete.Quadriceps: 0.8, athlete.Calves: 0.5, athlete.Hamstrings: 0.3}),
			},
			{
				athlete.Running, 1.35, 0.45, legsAndBack, legs,
				uses(shares{athlete.Calves: 1.0, athlete.Hamstrings: 0.7, athlete.Quadriceps: 0.6, athlete.Glutes: 0.6}),
			},
			{
				athlete.Intervals, 2.00, 0.20, legsAndBack, joints(athlete.Hip, athlete.Knee, athlete.Ankle),
				uses(shares{athlete.Quadriceps: 0.8, athlete.Glutes: 0.7, athlete.Hamstrings: 0.6, athlete.Calves: 0.6}),
			},
		},
		Overlap: 0.03, SameDay: 0.5, HardRise: 0.5, LeanRise: 1,
		SecondKind: 40, SecondADay: 60, NoDayOff: 50, MostMETFar: 12, MostMETLean: 7,
	}
}

// Validate checks a coach's table: every kind once, at 0.1 to 10 points a kcal, with
// joints and muscles that there are.
func (t *FatigueTable) Validate() error {
	seen := map[athlete.CardioKind]bool{}
	for i := range t.Rows {
		r := &t.Rows[i]
		if !r.Kind.Plannable() || seen[r.Kind] {
			return fault.New(fault.Invalid, "the row %q is unknown or doubled.", r.Kind).WithField("fatigue.rows")
		}
		seen[r.Kind] = true
		if err := r.validate(); err != nil {
			return err
		}
	}
	for _, k := range athlete.CardioKinds() {
		if !seen[k] {
			return fault.New(fault.Invalid, "the fatigue table has no row for %s.", k).WithField("fatigue.rows")
		}
	}
	for _, v := range []struct {
		field     string
		value     float64
		low, high float64
	}{
		{"overlap", t.Overlap, 0, 1},
		{"same_day", t.SameDay, 0, 2},
		{"hard_rise", t.HardRise, 0, 10},
		{"lean_rise", t.LeanRise, 0, 10},
		{"second_kind", t.SecondKind, 0, 10000},
		{"second_a_day", t.SecondADay, 0, 10000},
		{"no_day_off", t.NoDayOff, 0, 10000},
		{"most_met_lean", t.MostMETLean, 3, t.MostMETFar},
		{"most_met_far", t.MostMETFar, 3, 20},
	} {
		if !(v.value >= v.low && v.value <= v.high) {
			return fault.New(fault.Invalid, "%s of %v is outside %v to %v.", v.field, v.value, v.low, v.high).
				WithField("fatigue." + v.field)
		}
	}
	return nil
}

func (r *FatigueRow) validate() error {
	if !(r.Base >= 0.1 && r.Base <= 10 && r.Impact >= 0 && r.Impact <= 10) {
		return fault.New(fault.Invalid, "%s at %v and %v points a kcal is outside 0.1 to 10 and 0 to 10.", r.Kind, r.Base, r.Impact).
			WithField("fatigue.rows")
	}
	for _, j := range slices.Concat(r.Loads, r.Strains) {
		if !j.Valid() {
			return fault.New(fault.Invalid, "%s: the region %q is not one of %q.", r.Kind, j, athlete.Regions()).WithField("fatigue.rows")
		}
	}
	for _, j := range r.Strains {
		if !slices.Contains(r.Loads, j) {
			return fault.New(fault.Invalid, "%s strains the %s, which is not among what it loads.", r.Kind, j).WithField("fatigue.rows")
		}
	}
	for i, m := range r.Muscles {
		if !slices.Contains(athlete.Muscles(), m.Muscle) || !(m.Share >= 0 && m.Share <= 1) ||
			slices.ContainsFunc(r.Muscles[:i], func(o athlete.Share) bool { return o.Muscle == m.Muscle }) {
			return fault.New(fault.Invalid, "%s: the muscle %q with a share of %v is unknown, doubled or outside 0 to 1.", r.Kind, m.Muscle, m.Share).
				WithField("fatigue.rows")
		}
	}
	return nil
}

// UnmarshalJSON implements json.Unmarshaler: it takes a table that is whole and
// valid, with no field that it does not know.
func (t *FatigueTable) UnmarshalJSON(b []byte) error {
	type plain FatigueTable // without this method
	var read plain
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&read); err != nil {
		return fault.New(fault.Invalid, "the fatigue table cannot be read: %v.", err).WithField("fatigue")
	}
	table := FatigueTable(read)
	if err := table.Validate(); err != nil {
		return err
	}
	*t = table
	return nil
}
