package training

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/physiology"
)

// liftLog is one exercise's days, each with its best set.
type liftLog struct {
	name       string
	known, big bool
	days       []liftDay
}

type liftDay struct {
	date     civil.Date
	best     Maximum
	weightKg float64
}

// logbook is the sets up to a date, sorted by exercise, and what was left out.
type logbook struct {
	lifts                        []liftLog
	bodyLoad, noWeight, highReps []string // names, in order of first appearance
}

func (c *Catalogue) gather(sets []athlete.Set, asOf civil.Date) logbook {
	var book logbook
	ordered := slices.Clone(sets)
	slices.SortStableFunc(ordered, func(a, b athlete.Set) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Order, b.Order))
	})
	index := map[string]int{} // key of an exercise -> place in book.lifts
	names := map[string]liftName{}
	for _, s := range ordered {
		if s.Date > asOf {
			break
		}
		n, seen := names[s.Exercise]
		if !seen {
			n = c.nameOf(s.Exercise)
			names[s.Exercise] = n
		}
		switch m, err := MaximumOf(s); {
		case n.bodyLoad:
			book.bodyLoad = addOnce(book.bodyLoad, n.name)
		case s.WeightKg <= 0:
			book.noWeight = addOnce(book.noWeight, n.name)
		case err != nil:
			book.highReps = addOnce(book.highReps, n.name)
		default:
			i, ok := index[n.key]
			if !ok {
				i = len(book.lifts)
				index[n.key] = i
				book.lifts = append(book.lifts, liftLog{name: n.name, known: n.known, big: n.big})
			}
			book.lifts[i].add(s, m)
		}
	}
	slices.SortStableFunc(book.lifts, func(a, b liftLog) int {
		if a.big != b.big {
			if a.big {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(len(b.days), len(a.days)), strings.Compare(a.name, b.name))
	})
	return book
}

func (l *liftLog) add(s athlete.Set, m Maximum) {
	if n := len(l.days); n > 0 && l.days[n-1].date == s.Date {
		if m.Kg > l.days[n-1].best.Kg {
			l.days[n-1].best, l.days[n-1].weightKg = m, s.WeightKg
		}
		return
	}
	l.days = append(l.days, liftDay{s.Date, m, s.WeightKg})
}

type liftName struct {
	key, name            string
	known, big, bodyLoad bool
}

// nameOf merges spellings of one exercise. A name that is only near one in the
// catalogue keeps a series of its own: it may be a variant with another load.
func (c *Catalogue) nameOf(typed string) liftName {
	n := liftName{key: keyOf(typed), name: strings.TrimSpace(typed)}
	if n.key == "" {
		n.key = n.name // no letter or digit to go by
	}
	if m, ok := c.Lookup(typed); ok {
		n.known, n.big, n.bodyLoad = true, m.Exercise.Big, m.Exercise.BodyLoad
		if m.Exact {
			n.key, n.name = keyOf(m.Exercise.Name), m.Exercise.Name
		}
	}
	return n
}

func addOnce(names []string, name string) []string {
	if slices.Contains(names, name) {
		return names
	}
	return append(names, name)
}

// cannotCompare says why a lift has no retention, or nothing.
func (l *liftLog) cannotCompare(out *StrengthReport, baseline, recent int) string {
	switch {
	case baseline < baselineLeast:
		return fmt.Sprintf("%s: %d sessions from %s to %s; a baseline takes at least %d.",
			l.name, baseline, out.BaselineFrom, out.BaselineTo, baselineLeast)
	case recent < recentLeast:
		return fmt.Sprintf("%s: %d sessions in the %d days to %s; a comparison takes at least %d.",
			l.name, recent, recentDays, out.AsOf, recentLeast)
	}
	return ""
}

// leftOut says what strength could not be read from.
func (b *logbook) leftOut() []string {
	var out []string
	add := func(names []string, why string) {
		if len(names) > 0 {
			out = append(out, fmt.Sprintf("%s: %s.", strings.Join(names, ", "), why))
		}
	}
	add(b.bodyLoad, "the load is mostly the body, whose weight changes in prep, so strength is not tracked")
	add(b.noWeight, "sets logged without weight are left out")
	add(b.highReps, fmt.Sprintf("sets of more than %d repetitions to failure are left out, as no formula holds there", physiology.MostReps))
	var guessed, all int
	for _, l := range b.lifts {
		for _, d := range l.days {
			all++
			if d.best.RIRAssumed {
				guessed++
			}
		}
	}
	if guessed > 0 {
		out = append(out, fmt.Sprintf("%d of %d best sets have no repetitions in reserve; %.0f are assumed, which widens the intervals.",
			guessed, all, assumedRIR))
	}
	return out
}
