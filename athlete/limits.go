package athlete

import (
	"math"
	"time"

	"glidepath/civil"
	"glidepath/fault"
)

// Limits bound every plan. A changed one keeps who, when and why.
type Limits struct {
	// Rate of loss, per cent of body weight a week: Far at FarPct body fat and
	// above, falling linearly to Lean at LeanPct and below (Helms et al. 2014,
	// JISSN 11:20: 0.5 to 1 %; Roberts et al. 2020: about 0.5 % late in prep).
	RateFarPctPerWeek  float64 `json:"rate_far_pct_per_week"`
	RateLeanPctPerWeek float64 `json:"rate_lean_pct_per_week"`
	FarBodyFatPct      float64 `json:"far_body_fat_pct"`  // judgement: stage leanness plus 10 points
	LeanBodyFatPct     float64 `json:"lean_body_fat_pct"` // judgement: about stage leanness

	// FatSupplyKcalPerKg is the most energy that a kg of fat gives up in a day
	// (Alpert 2005, J Theor Biol 233:1: 290 kJ).
	FatSupplyKcalPerKg float64 `json:"fat_supply_kcal_per_kg"`

	// EnergyAvailabilityFloor is the lowest planned weekly mean, kcal/kg FFM/day
	// (Loucks & Thuma 2003 for women, Fagerberg 2018 for men).
	EnergyAvailabilityFloor float64 `json:"energy_availability_floor"`
	// LowAvailability allows 5 lower for at most 4 weeks.
	LowAvailability *LowAvailability `json:"low_availability,omitempty"`

	ProteinGPerKgFFM float64 `json:"protein_g_per_kg_ffm"` // floor (Helms et al. 2014, IJSNEM 24:127)
	FatGPerKg        float64 `json:"fat_g_per_kg"`         // floor, per kg body weight
	FibreGPer1000    float64 `json:"fibre_g_per_1000_kcal"`

	Changes []LimitChange `json:"changes,omitempty"`
}

// LowAvailability is a time-limited leave to plan below the floor of energy
// availability.
type LowAvailability struct {
	From  civil.Date `json:"from"`
	Weeks int        `json:"weeks"`
	Why   string     `json:"why"`
	Who   string     `json:"who"`
}

// LimitChange records a limit changed openly.
type LimitChange struct {
	Field string    `json:"field"`
	Old   float64   `json:"old"`
	New   float64   `json:"new"`
	Who   string    `json:"who"`
	When  time.Time `json:"when"`
	Why   string    `json:"why"`
}

// How far a coach may go below the default floor of energy availability, and
// for how long.
const (
	LowAvailabilityStep     = 5.0
	LowAvailabilityMaxWeeks = 4
)

// DefaultLimits gives the limits for a sex.
func DefaultLimits(sex Sex) Limits {
	l := Limits{
		RateFarPctPerWeek:       1.0,
		RateLeanPctPerWeek:      0.5,
		FarBodyFatPct:           25,
		LeanBodyFatPct:          14,
		FatSupplyKcalPerKg:      69.3,
		EnergyAvailabilityFloor: 30,
		ProteinGPerKgFFM:        2.3,
		FatGPerKg:               0.5,
		FibreGPer1000:           10,
	}
	if sex == Male {
		l.FarBodyFatPct, l.LeanBodyFatPct = 15, 6
		l.EnergyAvailabilityFloor = 25
	}
	return l
}

// RatePctPerWeek is the highest permitted rate of loss at a body fat, per cent
// of body weight a week.
func (l *Limits) RatePctPerWeek(bodyFatPct float64) float64 {
	return l.RateLeanPctPerWeek + (1-l.Leanness(bodyFatPct))*(l.RateFarPctPerWeek-l.RateLeanPctPerWeek)
}

// Leanness is how near a body fat is to stage leanness: 0 at FarBodyFatPct and
// above, rising in a straight line to 1 at LeanBodyFatPct and below.
func (l *Limits) Leanness(bodyFatPct float64) float64 {
	t := (l.FarBodyFatPct - bodyFatPct) / (l.FarBodyFatPct - l.LeanBodyFatPct)
	return math.Max(0, math.Min(1, t))
}

// EnergyAvailabilityFloorOn is the floor on a date, with any leave that is in
// force, kcal/kg FFM/day.
func (l *Limits) EnergyAvailabilityFloorOn(on civil.Date) float64 {
	if la := l.LowAvailability; la != nil && on >= la.From && on < la.From.AddDays(7*la.Weeks) {
		return l.EnergyAvailabilityFloor - LowAvailabilityStep
	}
	return l.EnergyAvailabilityFloor
}

// Validate checks limits; what is beyond the design's floors is Refused.
func (l *Limits) Validate(sex Sex) error {
	var c checks
	c.within("limits.rate_far_pct_per_week", l.RateFarPctPerWeek, 0.2, 1.5, "% a week")
	c.within("limits.rate_lean_pct_per_week", l.RateLeanPctPerWeek, 0.1, math.Max(0.1, l.RateFarPctPerWeek), "% a week")
	if l.FarBodyFatPct <= l.LeanBodyFatPct {
		c.add("limits.far_body_fat_pct", "far (%.1f %%) must be above lean (%.1f %%).", l.FarBodyFatPct, l.LeanBodyFatPct)
	}
	c.within("limits.fat_supply_kcal_per_kg", l.FatSupplyKcalPerKg, 20, 80, "kcal/kg/day")
	floor := DefaultLimits(sex).EnergyAvailabilityFloor
	if l.EnergyAvailabilityFloor < floor {
		c.join(fault.New(fault.Refused,
			"the standing floor of energy availability cannot be set below %.0f kcal/kg FFM/day.", floor).
			WithField("limits.energy_availability_floor").
			WithHint("For at most %d weeks, with a written reason, low_availability allows %.0f lower.",
				LowAvailabilityMaxWeeks, LowAvailabilityStep))
	}
	if la := l.LowAvailability; la != nil {
		if la.Why == "" || la.From.IsZero() || la.Weeks < 1 || la.Weeks > LowAvailabilityMaxWeeks {
			c.join(fault.New(fault.Refused,
				"energy availability below the floor is allowed only from a date, for 1 to %d weeks, with a written reason.",
				LowAvailabilityMaxWeeks).WithField("limits.low_availability"))
		}
	}
	c.within("limits.protein_g_per_kg_ffm", l.ProteinGPerKgFFM, 1.6, 3.5, "g/kg FFM")
	c.within("limits.fat_g_per_kg", l.FatGPerKg, 0.4, 2, "g/kg")
	c.within("limits.fibre_g_per_1000_kcal", l.FibreGPer1000, 5, 30, "g")
	return c.err()
}

// LimitFields lists the limits that can be changed, by their JSON names.
func LimitFields() []string {
	return []string{
		"rate_far_pct_per_week", "rate_lean_pct_per_week", "far_body_fat_pct", "lean_body_fat_pct",
		"fat_supply_kcal_per_kg", "energy_availability_floor", "protein_g_per_kg_ffm", "fat_g_per_kg", "fibre_g_per_1000_kcal",
	}
}

// Field points to the limit with a JSON name, nil where there is none.
func (l *Limits) Field(name string) *float64 {
	switch name {
	case "rate_far_pct_per_week":
		return &l.RateFarPctPerWeek
	case "rate_lean_pct_per_week":
		return &l.RateLeanPctPerWeek
	case "far_body_fat_pct":
		return &l.FarBodyFatPct
	case "lean_body_fat_pct":
		return &l.LeanBodyFatPct
	case "fat_supply_kcal_per_kg":
		return &l.FatSupplyKcalPerKg
	case "energy_availability_floor":
		return &l.EnergyAvailabilityFloor
	case "protein_g_per_kg_ffm":
		return &l.ProteinGPerKgFFM
	case "fat_g_per_kg":
		return &l.FatGPerKg
	case "fibre_g_per_1000_kcal":
		return &l.FibreGPer1000
	}
	return nil
}
