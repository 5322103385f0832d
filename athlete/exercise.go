package athlete

import (
	"slices"
	"strings"
)

// Exercise is one entry of a catalogue of lifts.
type Exercise struct {
	Name      string    `json:"name"`
	Aliases   []string  `json:"aliases,omitempty"`
	Pattern   Pattern   `json:"pattern"`
	Equipment Equipment `json:"equipment"`
	Stability Stability `json:"stability"`
	Muscles   []Share   `json:"muscles"`
	// Big marks lifts of many joints and much load: they stand for strength as a
	// whole.
	Big bool `json:"big,omitempty"`
	// BodyLoad marks exercises whose load is mostly the body itself; the weight
	// logged is not the load lifted.
	BodyLoad bool `json:"body_load,omitempty"`
	// Loads are the regions that an injury there would keep from it.
	Loads []Region `json:"loads,omitempty"`
}

// Share is what a set of an exercise counts for one muscle.
type Share struct {
	Muscle Muscle  `json:"muscle"`
	Share  float64 `json:"share"` // 1 where trained directly, less where it assists
}

// Pattern is the kind of movement.
type Pattern string

// The patterns of movement.
const (
	Squat          Pattern = "squat"
	Hinge          Pattern = "hinge"
	Lunge          Pattern = "lunge"
	HorizontalPush Pattern = "horizontal push"
	VerticalPush   Pattern = "vertical push"
	HorizontalPull Pattern = "horizontal pull"
	VerticalPull   Pattern = "vertical pull"
	SingleJoint    Pattern = "single joint"
)

// Patterns lists every pattern.
func Patterns() []Pattern {
	return []Pattern{Squat, Hinge, Lunge, HorizontalPush, VerticalPush, HorizontalPull, VerticalPull, SingleJoint}
}

// Equipment is what a lift is done with.
type Equipment string

// The kinds of equipment.
const (
	Barbell      Equipment = "barbell"
	Dumbbell     Equipment = "dumbbell"
	Kettlebell   Equipment = "kettlebell"
	CableStack   Equipment = "cable"
	Machine      Equipment = "machine"
	SmithMachine Equipment = "smith machine"
	OwnBody      Equipment = "body weight"
)

// AllEquipment lists every kind.
func AllEquipment() []Equipment {
	return []Equipment{Barbell, Dumbbell, Kettlebell, CableStack, Machine, SmithMachine, OwnBody}
}

// Stability is how much of holding still an exercise leaves to the lifter.
type Stability string

// The grades of stability, from the one that asks least of the lifter.
const (
	Guided       Stability = "guided"        // the machine keeps the path
	Supported    Stability = "supported"     // the body is held, the load is free
	FreeStanding Stability = "free standing" // nothing is held
)

// Stabilities lists every grade, the steadiest first.
func Stabilities() []Stability { return []Stability{Guided, Supported, FreeStanding} }

// Validate checks an entry.
func (e *Exercise) Validate() error {
	var c checks
	const mostName = 80
	if name := strings.TrimSpace(e.Name); name == "" || len(name) > mostName {
		c.add("name", "an exercise has a name of 1 to %d characters.", mostName)
	}
	for _, a := range e.Aliases {
		if strings.TrimSpace(a) == "" || len(a) > mostName {
			c.add("aliases", "the alias %q is empty or longer than %d characters.", a, mostName)
		}
	}
	if !slices.Contains(Patterns(), e.Pattern) {
		c.add("pattern", "the pattern %q is not one of %q.", e.Pattern, Patterns())
	}
	if !slices.Contains(AllEquipment(), e.Equipment) {
		c.add("equipment", "the equipment %q is not one of %q.", e.Equipment, AllEquipment())
	}
	if !slices.Contains(Stabilities(), e.Stability) {
		c.add("stability", "the stability %q is not one of %q.", e.Stability, Stabilities())
	}
	if len(e.Muscles) == 0 {
		c.add("muscles", "an exercise trains at least one muscle.")
	}
	seen := map[Muscle]bool{}
	for _, s := range e.Muscles {
		if !slices.Contains(Muscles(), s.Muscle) || seen[s.Muscle] {
			c.add("muscles", "the muscle %q is twice there, or not one of %q.", s.Muscle, Muscles())
		}
		seen[s.Muscle] = true
		c.within("muscles.share", s.Share, 0.05, 1, "of a set")
	}
	for _, r := range e.Loads {
		if !r.Valid() {
			c.add("loads", "the region %q is not one of %q.", r, Regions())
		}
	}
	return c.err()
}

// ExerciseName is what a person calls an exercise, as it was settled once.
type ExerciseName struct {
	Typed string `json:"typed"`
	// Exercise is the catalogue's name; empty keeps what was typed as a lift of its own.
	Exercise string `json:"exercise"`
}
