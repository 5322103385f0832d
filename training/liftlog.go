package training

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/physiology"
)

// LiftLog is what strength is read from.
type LiftLog struct {
	Sets []athlete.Set
	// BodyWeights may be empty; then nothing is said of strength against body weight,
	// and exercises that lift the body are left out.
	BodyWeights              []DatedWeight
	BaselineFrom, BaselineTo civil.Date
	AsOf                     civil.Date // what is dated later is not looked at
}

// The days of a lift (judgement, and simulation: docs/training.md).
const (
	// dayNoise is the day-to-day error of a trained lifter's best effort, as a share.
	// Repetitions to failure repeated within a week differ by 0.7 at 90 % of the
	// maximum and 1.1 at 70 % (standard error, Mitter et al. 2022, PLoS One
	// 17:e0268074), which is some 2 to 2.7 % of the maximum; a part of that is found
	// among the sets of a day.
	dayNoise = 0.02
	// working is how far below the day's best, as a logarithm, a set still counts:
	// one further down was a warm-up or meant light.
	working = 0.12
	// sameJudge is the share of a misjudged reserve's variance that the sets of a day
	// have in common.
	sameJudge = 0.3
	// What each set of a day takes from the next, before a lifter's own sets are
	// looked at, and the error of one set for that.
	tiring, tiringSD, setSD = -0.02, 0.02, 0.025
)

// lifted is one set and what it stands for.
type lifted struct {
	date     civil.Date
	weightKg float64 // as logged
	load     float64 // log of what was lifted, with the part of the body that is
	log      float64 // of Kg; at least so much where too many repetitions were done
	tooMany  bool    // repetitions for any formula
	Maximum
}

// trained is one exercise's sets and days.
type trained struct {
	name       string
	known, big bool
	exercise   athlete.Exercise // of the catalogue; the nearest if the name is a variant
	sets       []lifted
	days       []liftDay
}

// liftDay is a day of one exercise: as one observation, at the strength of the first
// set, and as its best set.
type liftDay struct {
	date     civil.Date
	best     *lifted
	log      float64 // of the maximum
	load     float64 // log of what was lifted
	reps     float64 // to failure, as told
	variance float64
}

func (t *trained) first() civil.Date { return t.days[0].date }
func (t *trained) last() civil.Date  { return t.days[len(t.days)-1].date }

// since counts the days of training after a date.
func (t *trained) since(date civil.Date) int {
	n := 0
	for i := len(t.days) - 1; i >= 0 && t.days[i].date > date; i-- {
		n++
	}
	return n
}

// between counts the days of training from and to a date.
func (t *trained) between(from, to civil.Date) int { return t.since(from.AddDays(-1)) - t.since(to) }

// logbook is the sets up to a date by exercise, and what was left out.
type logbook struct {
	lifts []*trained
	// Names, in order of first appearance.
	bodyUnknown, shareUnknown, noWeight, highReps []string
}

func (c *Catalogue) gather(l *LiftLog, weights weighIns) logbook {
	var book logbook
	index := map[string]*trained{}
	names := map[string]*liftName{}
	ordered := inOrder(l.Sets, l.AsOf)
	for _, s := range ordered {
		n, seen := names[s.Exercise]
		if !seen {
			n = c.nameOf(s.Exercise)
			names[s.Exercise] = n
		}
		n.sets++
	}
	for _, s := range ordered {
		n := names[s.Exercise]
		load := book.loadOf(s, n, weights)
		if load == 0 {
			continue
		}
		one := lifted{date: s.Date, weightKg: s.WeightKg, load: math.Log(load)}
		var err error
		if one.Maximum, err = maximumFrom(load, s); err != nil {
			book.highReps = addOnce(book.highReps, n.name)
			one.tooMany, one.log = true, one.load+blendLogs[physiology.MostReps]
		} else {
			one.log = math.Log(one.Kg)
		}
		t, ok := index[n.key]
		if !ok {
			t = &trained{name: n.name, known: n.known, big: n.exercise.Big, exercise: n.exercise, sets: make([]lifted, 0, n.sets)}
			index[n.key] = t
			book.lifts = append(book.lifts, t)
		}
		t.sets = append(t.sets, one)
	}
	book.lifts = slices.DeleteFunc(book.lifts, func(t *trained) bool {
		t.keepWorking()
		t.group()
		return len(t.days) == 0
	})
	slices.SortStableFunc(book.lifts, func(a, b *trained) int {
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

// inOrder is the sets up to a date, in an order that does not depend on the one they
// are given in.
func inOrder(sets []athlete.Set, asOf civil.Date) []*athlete.Set {
	out := make([]*athlete.Set, 0, len(sets))
	for i := range sets {
		if sets[i].Date <= asOf {
			out = append(out, &sets[i])
		}
	}
	slices.SortStableFunc(out, func(a, b *athlete.Set) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Order, b.Order), strings.Compare(a.Exercise, b.Exercise),
			cmp.Compare(b.WeightKg, a.WeightKg), cmp.Compare(b.Reps, a.Reps), cmp.Compare(reserve(a), reserve(b)))
	})
	return out
}

func reserve(s *athlete.Set) float64 {
	if s.RIR == nil {
		return assumedRIR
	}
	return *s.RIR
}

// loadOf is what a set lifts, kg, or 0 with a note of why that is not known.
func (b *logbook) loadOf(s *athlete.Set, n *liftName, weights weighIns) float64 {
	switch {
	case !n.exercise.BodyLoad:
		if s.WeightKg <= 0 {
			b.noWeight = addOnce(b.noWeight, n.name)
		}
		return math.Max(0, s.WeightKg)
	case n.bodyShare == 0:
		b.shareUnknown = addOnce(b.shareUnknown, n.name)
		return 0
	}
	kg, known := weights.on(s.Date)
	if !known {
		b.bodyUnknown = addOnce(b.bodyUnknown, n.name)
		return 0
	}
	if n.helped {
		return math.Max(0, n.bodyShare*kg-s.WeightKg)
	}
	return n.bodyShare*kg + s.WeightKg
}

// ofDay is the end of the sets that share the day of the one at an index.
func (t *trained) ofDay(from int) (to int) {
	for to = from + 1; to < len(t.sets) && t.sets[to].date == t.sets[from].date; to++ {
	}
	return to
}

// keepWorking drops what was a warm-up or meant light, by the day's best, and sets of
// too many repetitions, which count only as a measure of the others.
func (t *trained) keepWorking() {
	kept := t.sets[:0]
	for from := 0; from < len(t.sets); {
		day := t.sets[from:t.ofDay(from)]
		from += len(day)
		best := math.Inf(-1)
		for i := range day {
			best = math.Max(best, day[i].log)
		}
		for i := range day {
			if !day[i].tooMany && day[i].log >= best-working {
				kept = append(kept, day[i])
			}
		}
	}
	t.sets = kept
}

// group makes days of the working sets. Each, brought to the strength of the first by
// what a set takes from the next, is a reading of the day.
func (t *trained) group() {
	step := t.tiring()
	for from := 0; from < len(t.sets); {
		sets := t.sets[from:t.ofDay(from)]
		from += len(sets)
		d := liftDay{date: sets[0].date, best: &sets[0]}
		worth := 0.0
		for place := range sets {
			s := &sets[place]
			if s.log > d.best.log {
				d.best = s
			}
			w := 1 / (s.JudgedSE*s.JudgedSE + setSD*setSD/4)
			d.log += w * (s.log - step*float64(place))
			d.load += w * s.load
			d.reps += w * s.Reps
			worth += w
		}
		d.log, d.load, d.reps = d.log/worth, d.load/worth, d.reps/worth
		d.variance = dayNoise*dayNoise + (sameJudge*float64(len(sets))+1-sameJudge)/worth
		t.days = append(t.days, d)
	}
}

// tiring is what a set takes from the logarithm of the next one's maximum: the slope
// over the working sets of a day, all days together, drawn to the usual.
func (t *trained) tiring() float64 {
	sum, precision := tiring/(tiringSD*tiringSD), 1/(tiringSD*tiringSD)
	for from := 0; from < len(t.sets); {
		sets := t.sets[from:t.ofDay(from)]
		from += len(sets)
		middle := float64(len(sets)-1) / 2
		for place := range sets {
			away := float64(place) - middle
			sum += away * sets[place].log / (setSD * setSD)
			precision += away * away / (setSD * setSD)
		}
	}
	return sum / precision
}

type liftName struct {
	key, name string
	known     bool
	exercise  athlete.Exercise
	bodyShare float64
	helped    bool // weight is taken off the body
	sets      int
}

// nameOf merges spellings of one exercise. A name that is only near one in the
// catalogue keeps a series of its own: it may be a variant with another load.
func (c *Catalogue) nameOf(typed string) *liftName {
	n := &liftName{key: keyOf(typed), name: strings.TrimSpace(typed)}
	if n.key == "" {
		n.key = n.name // no letter or digit to go by
	}
	m, ok := c.Lookup(typed)
	if !ok {
		// Help with an exercise of the body, which the catalogue need not know of.
		m, ok = c.Lookup(unhelped(typed))
		m.Exact = false
		if !ok || !m.Exercise.BodyLoad {
			return n
		}
	}
	n.known, n.exercise = true, m.Exercise
	if m.Exercise.BodyLoad {
		n.bodyShare, n.helped = bodyShares[keyOf(m.Exercise.Name)], helped(typed) || helped(m.Exercise.Name)
	}
	if m.Exact && n.helped == helped(m.Exercise.Name) {
		n.key, n.name = keyOf(m.Exercise.Name), m.Exercise.Name
	}
	return n
}

func addOnce(names []string, name string) []string {
	if slices.Contains(names, name) {
		return names
	}
	return append(names, name)
}

// leftOut says what strength could not be read from.
func (b *logbook) leftOut() []string {
	var out []string
	add := func(names []string, why string) {
		if len(names) > 0 {
			out = append(out, fmt.Sprintf("%s: %s.", strings.Join(names, ", "), why))
		}
	}
	add(b.bodyUnknown, "the load is mostly the body, whose weight is not known on some days; those sets are left out")
	add(b.shareUnknown, "the load is a part of the body that nobody has measured, so strength is not tracked")
	add(b.noWeight, "sets logged without weight are left out")
	add(b.highReps, fmt.Sprintf("sets of more than %d repetitions to failure are left out, as no formula holds there", physiology.MostReps))
	var guessed, all int
	for _, l := range b.lifts {
		for i := range l.days {
			all++
			if l.days[i].best.RIRAssumed {
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
