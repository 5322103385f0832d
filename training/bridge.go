package training

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// Bridge is one exercise taking over from another that stopped: strength kept is
// counted on over the change, and does not begin anew.
type Bridge struct {
	From string     `json:"from"`
	To   string     `json:"to"`
	On   civil.Date `json:"on"` // first day of the new exercise
	// DaysApart is from the old exercise's last day to On; 0 or less where they
	// overlap, which tells most of how the two compare.
	DaysApart int    `json:"days_apart"`
	Sentence  string `json:"sentence"`
}

// When one exercise takes over from another (judgement).
const (
	// swapGap is the most days between the last of the old and the first of the new.
	swapGap = 42
	// swapSD is what strength may change at a swap, besides wandering, where the two
	// do not overlap.
	swapSD = 0.015
	// A new exercise is not yet lifted as it could be: the noise of its first
	// sessions is greater by newSD, less by a factor e with every newSessions.
	newSD, newSessions = 0.04, 2.0
)

// unfamiliar is the variance that being new adds to an exercise's session, from 0.
func unfamiliar(session int) float64 {
	sd := newSD * math.Exp(-float64(session)/newSessions)
	return sd * sd
}

// chain is the exercises that stand for one lift one after another. Mostly there is
// only one.
type chain []*trained

func (c chain) now() *trained { return c[len(c)-1] }

// chains finds which exercise took over from which, as far as strength in the
// baseline is known: the new one was not trained in the baseline, it began when the
// old one stopped, moves alike and trains a muscle directly that the old one does. Of
// several that fit, the old one that is most alike is taken, then the one that
// stopped last.
func (b *logbook) chains(l *LiftLog) []chain {
	var all []chain
	var fresh []*trained
	for _, t := range b.lifts {
		if t.known && t.between(l.BaselineFrom, l.BaselineTo) < baselineLeast {
			fresh = append(fresh, t)
		} else {
			all = append(all, chain{t})
		}
	}
	slices.SortStableFunc(fresh, func(x, y *trained) int {
		return cmp.Or(x.first().DaysSince(y.first()), strings.Compare(x.name, y.name))
	})
	for _, t := range fresh {
		best, likest := -1, 0.0
		for i, c := range all {
			like := c.now().likeness(t)
			if like == 0 || len(c) == chainMost || c[0].between(l.BaselineFrom, l.BaselineTo) < baselineLeast || !c.now().gaveWay(t) {
				continue
			}
			if best < 0 || like > likest || like == likest && c.now().last() > all[best].now().last() {
				best, likest = i, like
			}
		}
		if best < 0 {
			all = append(all, chain{t})
			continue
		}
		all[best] = append(all[best], t)
	}
	return all
}

// gaveWay tells whether t stopped as the next began.
func (t *trained) gaveWay(next *trained) bool {
	return next.first() > t.first() && next.first().DaysSince(t.last()) <= swapGap && next.since(t.last()) >= recentLeast
}

// likeness of two exercises for a bridge: 0 where none may be built, 1 and the share
// of muscles in common, 3 for two variants of one exercise.
func (t *trained) likeness(next *trained) float64 {
	a, b := &t.exercise, &next.exercise
	switch {
	case !t.known || a.Pattern != b.Pattern:
		return 0
	case a.Name == b.Name:
		return 3
	}
	direct, common := 0.0, 0.0
	for _, s := range a.Muscles {
		if s.Share < Direct {
			continue
		}
		direct++
		if slices.Contains(b.Muscles, s) {
			common++
		}
	}
	if common == 0 || a.Pattern == athlete.SingleJoint && common < direct {
		return 0
	}
	return 1 + common/direct
}

// bridges says where a chain changes from one exercise to the next.
func (c chain) bridges() []Bridge {
	var out []Bridge
	for i := 1; i < len(c); i++ {
		from, to := c[i-1], c[i]
		b := Bridge{From: from.name, To: to.name, On: to.first(), DaysApart: to.first().DaysSince(from.last())}
		how := fmt.Sprintf("%d days after the last %s", b.DaysApart, from.name)
		if b.DaysApart <= 0 {
			how = fmt.Sprintf("with %d days of both", from.since(to.first().AddDays(-1)))
		}
		b.Sentence = fmt.Sprintf("%s took over from %s on %s, %s; strength kept is counted on from the one to the other.",
			to.name, from.name, to.first().Format(longDate), how)
		out = append(out, b)
	}
	return out
}
