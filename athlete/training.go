package athlete

import (
	"glidepath/civil"
)

// Set is one logged working set.
type Set struct {
	Date     civil.Date `json:"date"`
	Exercise string     `json:"exercise"`
	WeightKg float64    `json:"weight_kg"` // on the bar or stack; 0 for body weight alone
	Reps     int        `json:"reps"`
	RIR      *float64   `json:"rir,omitempty"` // repetitions in reserve
	Side     string     `json:"side,omitempty"`
	Order    int        `json:"order"` // place within the day, from 1
	Notes    string     `json:"notes,omitempty"`
}

// Session is the whole of a day's training as it felt.
type Session struct {
	Date    civil.Date `json:"date"`
	Minutes float64    `json:"minutes"`
	RPE     float64    `json:"rpe"` // session rating of perceived exertion, 0 to 10
}

// Validate checks a set.
func (s *Set) Validate() error {
	var c checks
	if s.Date.IsZero() {
		c.add("date", "the set has no date.")
	}
	if s.Exercise == "" {
		c.add("exercise", "the set has no exercise.")
	}
	c.within("weight_kg", s.WeightKg, 0, 600, "kg")
	c.within("reps", float64(s.Reps), 1, 100, "repetitions")
	c.optional("rir", s.RIR, 0, 10, "repetitions in reserve")
	return c.err()
}

// Validate checks a session.
func (s *Session) Validate() error {
	var c checks
	if s.Date.IsZero() {
		c.add("date", "the session has no date.")
	}
	c.within("minutes", s.Minutes, 0, 600, "minutes")
	c.within("rpe", s.RPE, 0, 10, "on a scale of 0 to 10")
	return c.err()
}

// Muscle is a muscle group for counting sets.
type Muscle string

// The muscle groups.
const (
	Chest      Muscle = "chest"
	Back       Muscle = "back"
	Shoulders  Muscle = "shoulders"
	Biceps     Muscle = "biceps"
	Triceps    Muscle = "triceps"
	Quadriceps Muscle = "quadriceps"
	Hamstrings Muscle = "hamstrings"
	Glutes     Muscle = "glutes"
	Calves     Muscle = "calves"
	Abdominals Muscle = "abdominals"
)

// Muscles lists every muscle group.
func Muscles() []Muscle {
	return []Muscle{Chest, Back, Shoulders, Biceps, Triceps, Quadriceps, Hamstrings, Glutes, Calves, Abdominals}
}
