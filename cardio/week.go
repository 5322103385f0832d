package cardio

import (
	"cmp"
	"math/bits"
	"slices"
	"time"

	"glidepath/athlete"
)

// spreadDays lists the sets of each number of days, those with the fewest days in a
// row first, then the earliest: so that of equals sessions come spread out.
var spreadDays = func() (out [8][]uint8) {
	for set := range daySets {
		n := bits.OnesCount8(uint8(set))
		out[n] = append(out[n], uint8(set))
	}
	for _, sets := range out {
		slices.SortStableFunc(sets, func(a, b uint8) int {
			return cmp.Or(inARow(a)-inARow(b), int(bits.Reverse8(b))-int(bits.Reverse8(a)))
		})
	}
	return out
}()

// inARow counts the days of a set that the next day, round the week, is in as well.
func inARow(set uint8) int {
	next := set>>1 | set<<6&0x7f
	return bits.OnesCount8(set & next)
}

// weekdays are the days of a set, from Monday.
func weekdays(set uint8) []athlete.Weekday {
	var out []athlete.Weekday
	for d := range 7 {
		if set>>d&1 == 1 {
			out = append(out, athlete.Weekday((time.Weekday(d)+time.Monday)%7))
		}
	}
	return out
}

// calendar is what a week costs by how sessions fall on its days.
type calendar struct {
	lifts                        uint8
	secondKind, secondADay, full float64 // points
}

func newCalendar(s *scale) calendar {
	c := calendar{secondKind: s.table.SecondKind, secondADay: s.table.SecondADay, full: s.table.NoDayOff}
	for d := range s.c.Week {
		if s.c.Week[d].Lifts {
			c.lifts |= 1 << d
		}
	}
	if c.lifts == daySets-1 {
		c.full = 0 // there is no day off to keep
	}
	return c
}

// cost is the points of a week with sessions of two kinds on sets of days; the
// second is 0 where there is one kind.
func (c *calendar) cost(first, second uint8) float64 {
	points := c.secondADay * float64(bits.OnesCount8(first&second))
	if second != 0 {
		points += c.secondKind
	}
	if c.lifts|first|second == daySets-1 {
		points += c.full
	}
	return points
}

// near forgives rounding in sums of points and kcal.
const near = 1e-6

// place puts the sessions of a dose on the days that cost least, found by looking at
// every choice of days, and gives the points that the days cost.
func (c *calendar) place(parts []part) float64 {
	a := &parts[0]
	kcal := a.kcal()
	best := 0.0
	found := false
	take := func(points float64, first, second uint8) {
		if !found || points < best-near {
			best, found = points, true
			a.days = first
			if len(parts) > 1 {
				parts[1].days = second
			}
		}
	}
	for _, first := range spreadDays[a.sessions] {
		points := kcal * a.use.overlap[first]
		if len(parts) == 1 {
			take(points+c.cost(first, 0), first, 0)
			continue
		}
		if found && points >= best-near {
			continue
		}
		b := &parts[1]
		each := b.kcal()
		for _, second := range spreadDays[b.sessions] {
			take(points+each*b.use.overlap[second]+c.cost(first, second), first, second)
		}
	}
	return best
}
