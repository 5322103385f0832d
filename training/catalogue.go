package training

import (
	"slices"
	"strings"
	"sync"

	"glidepath/athlete"
)

// Shares of a set that count for a muscle: 1 where the muscle is trained
// directly, 0.5 where it assists (Pelland et al. 2024, preprint: fractional
// counting fitted best).
const (
	Direct   = 1.0
	Indirect = 0.5
)

// Catalogue is the exercises known to a desk and what its people call them. It is
// never changed once made, and safe for use by many at once. A nil one is Standard.
type Catalogue struct {
	exercises []athlete.Exercise // by name
	index     []known
	names     map[string]string // key of what was typed -> name; "" is a lift of its own
}

// Standard is the catalogue that comes with the program. Which muscles an exercise
// trains directly and which assist is common practice, no source.
var Standard = sync.OnceValue(func() *Catalogue { return NewCatalogue(nil, nil) })

// NewCatalogue is the standard one with a desk's own exercises, each in the place
// of the one with the same name if there is one, and names that were settled.
func NewCatalogue(own []athlete.Exercise, names []athlete.ExerciseName) *Catalogue {
	c := &Catalogue{names: map[string]string{}}
	mine := map[string]bool{}
	for _, e := range own {
		mine[keyOf(e.Name)] = true
		c.exercises = append(c.exercises, e)
	}
	for _, e := range standard {
		if !mine[keyOf(e.Name)] {
			c.exercises = append(c.exercises, e)
		}
	}
	slices.SortFunc(c.exercises, func(a, b athlete.Exercise) int { return strings.Compare(a.Name, b.Name) })
	for i := range c.exercises {
		e := &c.exercises[i]
		for _, name := range append([]string{e.Name}, e.Aliases...) {
			words := wordsOf(name)
			c.index = append(c.index, known{strings.Join(words, " "), words, i})
		}
	}
	for _, n := range names {
		c.names[keyOf(n.Typed)] = n.Exercise
	}
	return c
}

// Exercises is a copy of the entries, by name.
func (c *Catalogue) Exercises() []athlete.Exercise {
	if c == nil {
		c = Standard()
	}
	out := slices.Clone(c.exercises)
	for i := range out {
		out[i].Aliases = slices.Clone(out[i].Aliases)
		out[i].Muscles = slices.Clone(out[i].Muscles)
		out[i].Loads = slices.Clone(out[i].Loads)
	}
	return out
}
