package athlete

import (
	"slices"
	"time"

	"glidepath/civil"
)

// Prescription is the standing instructions from a date on. Prescriptions are
// versions: a new one follows, nothing is overwritten.
type Prescription struct {
	Version int              `json:"version"` // from 1, by athlete
	From    civil.Date       `json:"from"`
	Days    []DayPrescribed  `json:"days"` // one for each day type in use
	Steps   float64          `json:"steps_per_day"`
	Cardio  []CardioPlan     `json:"cardio,omitempty"`
	Sets    []MuscleSets     `json:"hard_sets,omitempty"` // weekly hard sets per muscle; empty leaves training as it is
	Phase   PhaseKind        `json:"phase"`
	Reasons []string         `json:"reasons"`
	Author  string           `json:"author"`
	Rule    string           `json:"rule,omitempty"` // how day types fall in the week, in words
	Refeeds []Weekday        `json:"refeeds,omitempty"`
	Origin  PrescriptionFrom `json:"origin"`
}

// PrescriptionFrom tells how a prescription came about.
type PrescriptionFrom string

// The origins of a prescription.
const (
	FromCoach    PrescriptionFrom = "coach"
	FromProposal PrescriptionFrom = "proposal accepted"
	FromEdit     PrescriptionFrom = "proposal edited"
)

// DayPrescribed is what to eat on a type of day.
type DayPrescribed struct {
	Type          DayType `json:"type"`
	PerWeek       int     `json:"per_week"` // how many such days in a week
	EnergyKcal    float64 `json:"energy_kcal"`
	ProteinG      float64 `json:"protein_g"`
	CarbohydrateG float64 `json:"carbohydrate_g"`
	FatG          float64 `json:"fat_g"`
	FibreG        float64 `json:"fibre_g"`
}

// CardioPlan is a weekly dose of one kind of cardio.
type CardioPlan struct {
	Kind           CardioKind `json:"kind"`
	MinutesPerWeek float64    `json:"minutes_per_week"`
	Sessions       int        `json:"sessions"`
	Days           []Weekday  `json:"days,omitempty"` // of the sessions; empty leaves them to the athlete
	// How hard, where it is told; else as is usual for the kind.
	SpeedKmh *float64 `json:"speed_kmh,omitempty"`
	GradePct *float64 `json:"grade_pct,omitempty"`
	Watts    *float64 `json:"watts,omitempty"`
}

// Told is how hard and on which days the sessions are, as " at 5.0 km/h at 8 %, on
// Monday and Thursday", to follow what they are; "" where neither is told.
func (c *CardioPlan) Told(u Units) string {
	var out string
	if pace := u.Pace(c.SpeedKmh, c.GradePct, c.Watts); pace != "" {
		out = " at " + pace
	}
	for i, d := range c.Days {
		switch {
		case i == 0:
			out += ", on "
		case i == len(c.Days)-1:
			out += " and "
		default:
			out += ", "
		}
		out += time.Weekday(d).String()
	}
	return out
}

// MuscleSets is a weekly number of hard sets for a muscle.
type MuscleSets struct {
	Muscle Muscle  `json:"muscle"`
	Sets   float64 `json:"sets"`
}

// MeanEnergyKcal is the weekly mean of prescribed energy, kcal a day.
func (p *Prescription) MeanEnergyKcal() float64 {
	var sum float64
	var n int
	for _, d := range p.Days {
		sum += d.EnergyKcal * float64(d.PerWeek)
		n += d.PerWeek
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}

// CardioMinutes is the weekly total of cardio.
func (p *Prescription) CardioMinutes() float64 {
	var sum float64
	for _, c := range p.Cardio {
		sum += c.MinutesPerWeek
	}
	return sum
}

// For gives the instructions for a type of day, nil where there are none.
func (p *Prescription) For(t DayType) *DayPrescribed {
	for i := range p.Days {
		if p.Days[i].Type == t {
			return &p.Days[i]
		}
	}
	return nil
}

// PhaseKind is a stretch of the season.
type PhaseKind string

// The phases of a season.
const (
	OffSeason PhaseKind = "off-season"
	PrePrep   PhaseKind = "pre-prep"
	Prep      PhaseKind = "prep"
	PeakWeek  PhaseKind = "peak week"
	ShowDay   PhaseKind = "show day"
	Recovery  PhaseKind = "recovery"
)

// PhaseKinds lists the phases in the order of a season.
func PhaseKinds() []PhaseKind {
	return []PhaseKind{OffSeason, PrePrep, Prep, PeakWeek, ShowDay, Recovery}
}

// Valid reports whether k is a known phase.
func (k PhaseKind) Valid() bool { return slices.Contains(PhaseKinds(), k) }

// Phase is a phase with its dates.
type Phase struct {
	Kind PhaseKind  `json:"kind"`
	From civil.Date `json:"from"`
	To   civil.Date `json:"to"` // inclusive
}

// Validate checks a prescription's shape; the limits are checked by the use
// case that knows the athlete.
func (p *Prescription) Validate() error {
	var c checks
	if p.From.IsZero() {
		c.add("from", "the prescription has no date to start from.")
	}
	if len(p.Days) == 0 {
		c.add("days", "the prescription has no day type.")
	}
	perWeek := 0
	for _, d := range p.Days {
		perWeek += d.PerWeek
		c.within("energy_kcal", d.EnergyKcal, 800, 10000, "kcal")
		c.within("protein_g", d.ProteinG, 0, 600, "g")
		c.within("carbohydrate_g", d.CarbohydrateG, 0, 1500, "g")
		c.within("fat_g", d.FatG, 0, 400, "g")
	}
	if len(p.Days) > 0 && perWeek != 7 {
		c.add("days", "the day types fill %d days of the week, not 7.", perWeek)
	}
	c.within("steps_per_day", p.Steps, 0, 60000, "steps")
	for _, k := range p.Cardio {
		if !k.Kind.Plannable() {
			c.add("cardio", "the cardio kind %q is not one of %s.", k.Kind, cardioKindList())
		}
		c.within("cardio.minutes_per_week", k.MinutesPerWeek, 0, 2500, "minutes")
	}
	return c.err()
}

// SetsOr is the weekly sets of a prescription, or those of another where it has
// none; either may be nil.
func (p *Prescription) SetsOr(other *Prescription) []MuscleSets {
	if p != nil && len(p.Sets) > 0 {
		return p.Sets
	}
	if other != nil {
		return other.Sets
	}
	return nil
}
