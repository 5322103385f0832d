// Package athlete has the domain: the athlete, the show, the log, the
// prescription and the limits, with the rules that make each valid. It knows no
// storage, no network and no clock.
//
// Quantities are in SI units or the field's own (kcal, per cent), named in the
// identifier. An optional number is a pointer; nil is "not recorded", never zero.
package athlete

import (
	"math"
	"slices"
	"time"

	"glidepath/civil"
	"glidepath/fault"
)

// Sex selects the published equations and the floors that apply.
type Sex string

// The sexes that the published equations distinguish.
const (
	Female Sex = "female"
	Male   Sex = "male"
)

// Units is the system a reader prefers at the edges; inside all is SI.
type Units string

// The systems of units at the edges.
const (
	Metric   Units = "metric"
	Imperial Units = "imperial"
)

// Exact conversion factors (International Yard and Pound Agreement, 1959).
const (
	KgPerPound = 0.45359237
	CmPerInch  = 2.54
)

// Athlete is one person on the roster with all that the reckoning needs to know
// of them besides the logs.
type Athlete struct {
	ID        string     `json:"id"` // short, chosen by the coach; lower-case letters, digits and hyphens
	Name      string     `json:"name"`
	Sex       Sex        `json:"sex"`
	BirthDate civil.Date `json:"birth_date"`
	HeightCm  float64    `json:"height_cm"`
	WeightKg  float64    `json:"weight_kg"` // at WeighedOn, when the profile was made
	WeighedOn civil.Date `json:"weighed_on"`
	Units     Units      `json:"units,omitempty"`
	// Effort is how the athlete says how hard a set was; empty is InReserve.
	Effort EffortScale `json:"effort,omitempty"`

	TrainingYears         float64       `json:"training_years"`
	StageWeights          []StageWeight `json:"stage_weights,omitempty"`
	MaintenanceEnergyKcal *float64      `json:"maintenance_energy_kcal,omitempty"` // as the athlete reports it, if known
	StepsPerDay           float64       `json:"steps_per_day"`                     // habitual
	StepsPerDayMax        float64       `json:"steps_per_day_max,omitempty"`       // what they can keep up; 0 is habit plus 5,000
	TrainingDays          []Weekday     `json:"training_days,omitempty"`
	TrainingMinutes       float64       `json:"training_minutes,omitempty"`   // one lifting session; 0 is 70
	Cardio                []CardioKind  `json:"cardio,omitempty"`             // kinds the athlete has and tolerates
	CardioMinutesPerWeek  float64       `json:"cardio_minutes_per_week"`      // present habit
	CardioMinutesMax      float64       `json:"cardio_minutes_max"`           // most per week
	CardioSessionMax      int           `json:"cardio_session_max,omitempty"` // minutes of one session; 0 is 60
	Equipment             []Equipment   `json:"equipment,omitempty"`          // to train with; empty is everything
	SpareRegions          []Region      `json:"spare_regions,omitempty"`      // joints that cardio and lifts should go easy on
	MenstrualCycle        bool          `json:"menstrual_cycle,omitempty"`
	CycleLengthDays       float64       `json:"cycle_length_days,omitempty"` // 0 is 28
	FoodsLiked            []string      `json:"foods_liked,omitempty"`
	FoodsAvoided          []string      `json:"foods_avoided,omitempty"`

	BodyFat []Measurement `json:"body_fat,omitempty"` // estimates known when the profile is made
	// MethodErrors replace the published error of a method where the coach knows
	// better, say from repeated scans on one machine.
	MethodErrors []MethodError `json:"method_errors,omitempty"`
	Screening    Screening     `json:"screening"`
	Injuries     []Injury      `json:"injuries,omitempty"`
	Shows        []Show        `json:"shows,omitempty"`
	Events       []Event       `json:"events,omitempty"`
	Limits       *Limits       `json:"limits,omitempty"` // nil is DefaultLimits(Sex)
}

// Weekday is a day of the week that reads and writes as its English name.
type Weekday time.Weekday

// StageWeight is how a past season ended.
type StageWeight struct {
	Date       civil.Date `json:"date"`
	WeightKg   float64    `json:"weight_kg"`
	BodyFatPct *float64   `json:"body_fat_pct,omitempty"`
}

// EffectiveLimits is the athlete's own limits, or the defaults for their sex.
func (a *Athlete) EffectiveLimits() Limits {
	if a.Limits != nil {
		return *a.Limits
	}
	return DefaultLimits(a.Sex)
}

// StepsMax is the most steps a day that the athlete can keep up.
func (a *Athlete) StepsMax() float64 {
	if a.StepsPerDayMax > 0 {
		return a.StepsPerDayMax
	}
	return a.StepsPerDay + 5000
}

// NextShow is the first show on or after a date, nil where there is none.
func (a *Athlete) NextShow(on civil.Date) *Show {
	var next *Show
	for i := range a.Shows {
		s := &a.Shows[i]
		if s.Date >= on && (next == nil || s.Date < next.Date) {
			next = s
		}
	}
	return next
}

// LastShow is the latest show before a date, nil where there is none.
func (a *Athlete) LastShow(on civil.Date) *Show {
	var last *Show
	for i := range a.Shows {
		s := &a.Shows[i]
		if s.Date < on && (last == nil || s.Date > last.Date) {
			last = s
		}
	}
	return last
}

// Adult is the age from which a deficit may be planned at all.
const Adult = 18

// Validate checks every field; the error joins a *fault.Error for each that is
// wrong. It does not look at dates against today: the use cases do.
func (a *Athlete) Validate() error {
	var c checks
	if !validID(a.ID) {
		c.add("id", "the id %q is not 1 to 40 lower-case letters, digits and hyphens.", a.ID)
	}
	if a.Name == "" {
		c.add("name", "the name is empty.")
	}
	if a.Sex != Female && a.Sex != Male {
		c.add("sex", "sex is %q; the published equations need female or male.", a.Sex)
	}
	if a.BirthDate.IsZero() {
		c.add("birth_date", "the birth date is missing.")
	}
	c.within("height_cm", a.HeightCm, 120, 230, "cm")
	c.within("weight_kg", a.WeightKg, 35, 220, "kg")
	c.within("training_years", a.TrainingYears, 0, 70, "years")
	c.within("steps_per_day", a.StepsPerDay, 0, 60000, "steps")
	if a.StepsPerDayMax != 0 {
		c.within("steps_per_day_max", a.StepsPerDayMax, a.StepsPerDay, 60000, "steps")
	}
	c.within("cardio_minutes_max", a.CardioMinutesMax, 0, 2500, "minutes a week")
	c.within("cardio_minutes_per_week", a.CardioMinutesPerWeek, 0, 2500, "minutes a week")
	if a.MaintenanceEnergyKcal != nil {
		c.within("maintenance_energy_kcal", *a.MaintenanceEnergyKcal, 900, 8000, "kcal")
	}
	if a.CycleLengthDays != 0 {
		c.within("cycle_length_days", a.CycleLengthDays, 20, 45, "days")
	}
	if a.Units != "" && a.Units != Metric && a.Units != Imperial {
		c.add("units", "units are %q; choose metric or imperial.", a.Units)
	}
	if a.Effort != "" && a.Effort != InReserve && a.Effort != Exertion {
		c.add("effort", "the scale of effort is %q; choose rir or rpe.", a.Effort)
	}
	for _, k := range a.Cardio {
		if !k.Plannable() {
			c.add("cardio", "the cardio kind %q is not one of %s.", k, cardioKindList())
		}
	}
	if a.CardioSessionMax != 0 && (a.CardioSessionMax < 15 || a.CardioSessionMax > 180 || a.CardioSessionMax%5 != 0) {
		c.add("cardio_session_max", "a longest session of %d minutes is not a multiple of 5 from 15 to 180.", a.CardioSessionMax)
	}
	for _, e := range a.Equipment {
		if !slices.Contains(AllEquipment(), e) {
			c.add("equipment", "the equipment %q is not one of %q.", e, AllEquipment())
		}
	}
	for _, r := range a.SpareRegions {
		if !r.Valid() {
			c.add("spare_regions", "the region %q is not one of %q.", r, Regions())
		}
	}
	for i := range a.Injuries {
		c.join(a.Injuries[i].Validate())
	}
	for i := range a.BodyFat {
		c.join(a.BodyFat[i].Validate())
	}
	for i := range a.Shows {
		c.join(a.Shows[i].Validate(a.Sex))
	}
	for i := range a.Events {
		c.join(a.Events[i].Validate())
	}
	for _, e := range a.MethodErrors {
		if e.Series == "" {
			c.add("method_errors.series", "a method's error needs the series it is about, such as %q.", Scan)
		}
		c.within("method_errors.bias_sd", e.BiasSD, 0, 6, "points")
		c.within("method_errors.reading_sd", e.ReadingSD, 0.1, 6, "points")
	}
	c.join(a.Screening.Validate())
	if a.Limits != nil {
		c.join(a.Limits.Validate(a.Sex))
	}
	return c.err()
}

func validID(id string) bool {
	if id == "" || len(id) > 40 {
		return false
	}
	for _, r := range id {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '-' {
			return false
		}
	}
	return true
}

// checks gathers the faults of one value.
type checks struct{ faults []error }

func (c *checks) add(field, format string, args ...any) {
	c.faults = append(c.faults, fault.New(fault.Invalid, format, args...).WithField(field))
}

func (c *checks) within(field string, v, low, high float64, unit string) {
	if math.IsNaN(v) || v < low || v > high {
		c.add(field, "%v is outside %v to %v %s.", v, low, high, unit)
	}
}

func (c *checks) optional(field string, v *float64, low, high float64, unit string) {
	if v != nil {
		c.within(field, *v, low, high, unit)
	}
}

func (c *checks) join(err error) {
	if err != nil {
		c.faults = append(c.faults, err)
	}
}
