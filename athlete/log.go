package athlete

import (
	"slices"
	"strings"

	"glidepath/civil"
)

// Day is one day of the log, as the athlete reports it.
type Day struct {
	Date          civil.Date    `json:"date"`
	WeightKg      *float64      `json:"weight_kg,omitempty"` // morning, fasted
	EnergyKcal    *float64      `json:"energy_kcal,omitempty"`
	ProteinG      *float64      `json:"protein_g,omitempty"`
	CarbohydrateG *float64      `json:"carbohydrate_g,omitempty"`
	FatG          *float64      `json:"fat_g,omitempty"`
	FibreG        *float64      `json:"fibre_g,omitempty"`
	SodiumMg      *float64      `json:"sodium_mg,omitempty"`
	Steps         *float64      `json:"steps,omitempty"`
	Cardio        []CardioBout  `json:"cardio,omitempty"`
	SleepH        *float64      `json:"sleep_h,omitempty"`
	Hunger        *float64      `json:"hunger,omitempty"`     // 1 (none) to 10
	Fatigue       *float64      `json:"fatigue,omitempty"`    // 1 (none) to 10
	Soreness      *float64      `json:"soreness,omitempty"`   // 1 (none) to 10
	Motivation    *float64      `json:"motivation,omitempty"` // to train, 1 (none) to 10
	Mood          *float64      `json:"mood,omitempty"`       // 1 (low) to 10 (good)
	Pain          *float64      `json:"pain,omitempty"`       // 0 (none) to 10; soreness is no pain
	PainWhere     Region        `json:"pain_where,omitempty"`
	RestingPulse  *float64      `json:"resting_pulse,omitempty"`
	CycleDay      *int          `json:"cycle_day,omitempty"` // 1 is the first day of bleeding
	DayType       DayType       `json:"day_type,omitempty"`
	Notes         string        `json:"notes,omitempty"`
	WeightStands  *WeightStands `json:"weight_stands,omitempty"`
}

// WeightStands is a person's word on a weight that looked like a slip of the
// pen: it was asked about and is to be used, or left out.
type WeightStands struct {
	Use bool   `json:"use"`
	Who string `json:"who,omitempty"`
}

// CardioBout is one stretch of cardio.
type CardioBout struct {
	Kind     CardioKind `json:"kind"`
	Minutes  float64    `json:"minutes"`
	SpeedKmh *float64   `json:"speed_kmh,omitempty"`
	GradePct *float64   `json:"grade_pct,omitempty"`
	Watts    *float64   `json:"watts,omitempty"`
	// Stepping: steps a minute and the height of one.
	StepsPerMin  *float64 `json:"steps_per_min,omitempty"`
	StepHeightCm *float64 `json:"step_height_cm,omitempty"`
	// Code is that of an activity in the Compendium of Physical Activities, for
	// OtherActivity.
	Code string `json:"code,omitempty"`
	// ClaimedKcal is what a machine or a watch says of the bout, as it shows it.
	ClaimedKcal *float64    `json:"claimed_kcal,omitempty"`
	ClaimedBy   ClaimSource `json:"claimed_by,omitempty"`
}

// ClaimSource is what claimed an energy.
type ClaimSource string

// The sources of a claim.
const (
	ByMachine ClaimSource = "machine"
	ByWatch   ClaimSource = "watch"
)

// ClaimSources lists every source.
func ClaimSources() []ClaimSource { return []ClaimSource{ByMachine, ByWatch} }

// CardioKind is a kind of cardio.
type CardioKind string

// The kinds of cardio.
const (
	Walking       CardioKind = "walking"
	InclineWalk   CardioKind = "incline walking"
	Running       CardioKind = "running"
	Cycling       CardioKind = "cycling"
	StairClimbing CardioKind = "stair climbing"
	Elliptical    CardioKind = "elliptical"
	Rowing        CardioKind = "rowing"
	Swimming      CardioKind = "swimming"
	Intervals     CardioKind = "intervals"
	Posing        CardioKind = "posing"
	OtherActivity CardioKind = "other" // by its code
)

// CardioKinds lists every kind that can be planned: all but OtherActivity.
func CardioKinds() []CardioKind {
	return []CardioKind{
		Walking, InclineWalk, Running, Cycling, StairClimbing,
		Elliptical, Rowing, Swimming, Intervals, Posing,
	}
}

// Valid reports whether k is a known kind.
func (k CardioKind) Valid() bool { return k == OtherActivity || k.Plannable() }

// Plannable reports whether k can be prescribed: it stands for one activity.
func (k CardioKind) Plannable() bool { return slices.Contains(CardioKinds(), k) }

func cardioKindList() string {
	var names []string
	for _, k := range CardioKinds() {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}

// DayType is the kind of day that a prescription distinguishes.
type DayType string

// The day types.
const (
	TrainingDay  DayType = "training"
	RestDay      DayType = "rest"
	RefeedDay    DayType = "refeed"
	DietBreakDay DayType = "diet break"
)

// Bounds of the log's numbers: outside them the value is a slip, not a day.
// Weights are wide on purpose, because a weight typed in pounds or with a digit
// too many is better asked about by the reading than refused outright.
func (d *Day) bounds() []struct {
	field     string
	value     *float64
	low, high float64
	unit      string
} {
	type b = struct {
		field     string
		value     *float64
		low, high float64
		unit      string
	}
	return []b{
		{"weight_kg", d.WeightKg, 20, 500, "kg"},
		{"energy_kcal", d.EnergyKcal, 0, 15000, "kcal"},
		{"protein_g", d.ProteinG, 0, 900, "g"},
		{"carbohydrate_g", d.CarbohydrateG, 0, 2500, "g"},
		{"fat_g", d.FatG, 0, 900, "g"},
		{"fibre_g", d.FibreG, 0, 250, "g"},
		{"sodium_mg", d.SodiumMg, 0, 30000, "mg"},
		{"steps", d.Steps, 0, 100000, "steps"},
		{"sleep_h", d.SleepH, 0, 24, "hours"},
		{"hunger", d.Hunger, 0, 10, "on a scale of 1 to 10"},
		{"fatigue", d.Fatigue, 0, 10, "on a scale of 1 to 10"},
		{"soreness", d.Soreness, 0, 10, "on a scale of 1 to 10"},
		{"motivation", d.Motivation, 0, 10, "on a scale of 1 to 10"},
		{"mood", d.Mood, 0, 10, "on a scale of 1 to 10"},
		{"pain", d.Pain, 0, 10, "on a scale of 0 to 10"},
		{"resting_pulse", d.RestingPulse, 20, 200, "beats a minute"},
	}
}

// Validate checks a day.
func (d *Day) Validate() error {
	var c checks
	if d.Date.IsZero() {
		c.add("date", "the day has no date.")
	}
	for _, b := range d.bounds() {
		c.optional(b.field, b.value, b.low, b.high, b.unit)
	}
	if d.CycleDay != nil {
		c.within("cycle_day", float64(*d.CycleDay), 1, 120, "days")
	}
	for _, b := range d.Cardio {
		if !b.Kind.Valid() {
			c.add("cardio_kind", "the cardio kind %q is not one of %s, or other with a code.", b.Kind, cardioKindList())
		}
		c.within("cardio_minutes", b.Minutes, 0, 600, "minutes")
		c.optional("cardio_steps_per_min", b.StepsPerMin, 1, 200, "steps a minute")
		c.optional("cardio_step_height_cm", b.StepHeightCm, 1, 60, "cm")
		c.optional("cardio_claimed_kcal", b.ClaimedKcal, 0, 6000, "kcal")
		if b.ClaimedBy != "" && !slices.Contains(ClaimSources(), b.ClaimedBy) {
			c.add("cardio_claimed_by", "what claimed the energy, %q, is not one of %q.", b.ClaimedBy, ClaimSources())
		}
		if len(b.Code) > 5 || (b.Kind == OtherActivity) != (b.Code != "") {
			c.add("cardio_code", "a code of five digits goes with the kind %q, and with no other.", OtherActivity)
		}
	}
	if d.PainWhere != "" && !d.PainWhere.Valid() {
		c.add("pain_where", "the region %q is not one of %q.", d.PainWhere, Regions())
	}
	switch d.DayType {
	case "", TrainingDay, RestDay, RefeedDay, DietBreakDay:
	default:
		c.add("day_type", "the day type %q is not training, rest, refeed or diet break.", d.DayType)
	}
	return c.err()
}

// Empty reports whether nothing is recorded on the day.
func (d *Day) Empty() bool {
	for _, b := range d.bounds() {
		if b.value != nil {
			return false
		}
	}
	return len(d.Cardio) == 0 && d.CycleDay == nil && d.Notes == "" && d.DayType == "" && d.PainWhere == ""
}

// CardioMinutes is the day's total of cardio.
func (d *Day) CardioMinutes() float64 {
	var sum float64
	for _, b := range d.Cardio {
		sum += b.Minutes
	}
	return sum
}
