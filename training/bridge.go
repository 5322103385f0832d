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
	// A new exercise is not lifted at once as well as it could be: strength in it first
	// rises by skill (Rutherford & Jones 1986, Eur J Appl Physiol 55:100, from memory).
	// By how much the first session falls short, as a logarithm, and in how many
	// sessions that falls by a factor e.
	noviceMean, noviceSD, noviceSessions = 0.03, 0.03, 4.0
)

// noviceShare is the part of the novelty that is left at an exercise's session, from
// 0.
func noviceShare(session int) float64 { return math.Exp(-float64(session) / noviceSessions) }

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
		how := fmt.Sprintf("%d days after its last session", b.DaysApart)
		if b.DaysApart <= 0 {
			how = fmt.Sprintf("which was trained on until %s", from.last().Format(longDate))
		}
		b.Sentence = fmt.Sprintf("On %s %s took over from %s, %s: strength kept is counted on from the one to the other.",
			to.first().Format(longDate), to.name, from.name, how)
		out = append(out, b)
	}
	return out
}
