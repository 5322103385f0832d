package athlete

import (
	"glidepath/civil"
	"glidepath/fault"
)

// Show is a contest on a fixed date with the condition wanted there.
type Show struct {
	ID                string      `json:"id"`
	Name              string      `json:"name"`
	Date              civil.Date  `json:"date"`
	Division          string      `json:"division,omitempty"`
	ClassLimit        *ClassLimit `json:"class_limit,omitempty"`
	TargetBodyFatPct  float64     `json:"target_body_fat_pct"`
	TargetTolerance   float64     `json:"target_tolerance_pct,omitempty"` // body-fat points either way; 0 is 1
	TargetStageWeight *float64    `json:"target_stage_weight_kg,omitempty"`
}

// ClassLimit is the most an athlete may weigh in a class: given outright, or by
// a federation's table as height in cm less a constant plus an allowance.
type ClassLimit struct {
	WeightKg *float64 `json:"weight_kg,omitempty"`
	// HeightLessKg: limit in kg = height in cm - HeightLess + AllowanceKg.
	HeightLess  *float64 `json:"height_less,omitempty"`
	AllowanceKg float64  `json:"allowance_kg,omitempty"`
}

// LimitKg is the class limit for an athlete of a height; ok is false where the
// class has none.
func (c *ClassLimit) LimitKg(heightCm float64) (kg float64, ok bool) {
	switch {
	case c == nil:
		return 0, false
	case c.WeightKg != nil:
		return *c.WeightKg, true
	case c.HeightLess != nil:
		return heightCm - *c.HeightLess + c.AllowanceKg, true
	}
	return 0, false
}

// Tolerance is the body-fat points either way that still count as on target.
func (s *Show) Tolerance() float64 {
	if s.TargetTolerance > 0 {
		return s.TargetTolerance
	}
	return 1
}

// Floors of body fat below which no target is taken, per cent (design limit;
// Garthe et al. 2011 excluded predicted values below 5 % men and 12 % women).
const (
	BodyFatFloorMalePct   = 4.0
	BodyFatFloorFemalePct = 10.0
)

// BodyFatFloorPct is the lowest target body fat taken for a sex, per cent.
func BodyFatFloorPct(sex Sex) float64 {
	if sex == Male {
		return BodyFatFloorMalePct
	}
	return BodyFatFloorFemalePct
}

// Validate checks a show for an athlete of a sex. A target below the floor is
// Refused.
func (s *Show) Validate(sex Sex) error {
	var c checks
	if s.Date.IsZero() {
		c.add("shows.date", "the show %q has no date.", s.Name)
	}
	floor := BodyFatFloorPct(sex)
	switch {
	case s.TargetBodyFatPct < floor:
		c.join(fault.New(fault.Refused,
			"a target of %.1f %% body fat for %q is below the floor of %.0f %% for this athlete; leaner than that the risk to health outweighs the stage.",
			s.TargetBodyFatPct, s.Name, floor).
			WithField("shows.target_body_fat_pct").
			WithHint("Choose %.0f %% or more, and talk to a sports physician about any leaner aim.", floor))
	case s.TargetBodyFatPct > 40:
		c.add("shows.target_body_fat_pct", "a target of %.1f %% body fat is above 40 %%.", s.TargetBodyFatPct)
	}
	if s.TargetTolerance != 0 {
		c.within("shows.target_tolerance_pct", s.TargetTolerance, 0.2, 5, "points")
	}
	c.optional("shows.target_stage_weight_kg", s.TargetStageWeight, 35, 200, "kg")
	return c.err()
}

// Event is a stretch of days on which the plan must bend.
type Event struct {
	From civil.Date `json:"from"`
	To   civil.Date `json:"to"`   // inclusive
	Kind string     `json:"kind"` // travel, holiday, illness or other
	Note string     `json:"note,omitempty"`
	// Maintenance: no deficit is planned on these days.
	Maintenance bool `json:"maintenance,omitempty"`
}

// Validate checks an event.
func (e *Event) Validate() error {
	var c checks
	if e.From.IsZero() || e.To.IsZero() || e.To < e.From {
		c.add("events", "the event %q runs from %q to %q; it needs two dates in order.", e.Kind, e.From, e.To)
	}
	return c.err()
}
