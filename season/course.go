package season

import (
	"math"

	"glidepath/civil"
	"glidepath/dynamics"
)

// What a plan minimises, in kg of lean mass:
//
//	lean lost + sum over weeks of hardshipKg (1 + t/restedWeeks) e^2
//	          + sum over neighbouring weeks of changeKg (e - e')^2
//
// where e is a week's effort and t the weeks of diet since the last rest. Lean
// lost comes from the dynamics: down to one body fat it is nearly the same on every
// path on which no day's deficit goes beyond what fat supplies (Alpert 2005), and
// more where the days do, as late in a week at that limit. The square of effort
// stands for the lowest energy and the most cardio, which both come with the
// greatest effort; the last sum for abrupt changes, but for those across a rest.
// The prices are judgement, and small: a week at all limits counts as much as 20 g
// of lean.
const (
	hardshipKg = 0.02
	changeKg   = 0.20
	// restedWeeks is how long it takes until effort is twice as hard for want of a
	// rest (judgement; set so that where time is plentiful a rest pays for itself
	// every nine weeks, since hardship a week with a rest every m weeks goes as
	// m/(2 restedWeeks) + 1/m, least at the root of 2 restedWeeks).
	restedWeeks = 40.0
)

// restDays is how many days at maintenance make a week one of rest.
const restDays = 4

// leg is a week of a diet.
type leg struct {
	from    civil.Date
	days    int   // 7, but for the last
	open    uint8 // the days on which a deficit may be planned, a bit each
	weight  float64
	effort  float64
	bound   bool           // a limit holds the effort where it is
	linked  bool           // the week before is one of the same stretch of diet
	resting bool           // most days are at maintenance
	state   dynamics.State // on its first morning
	// By effort: the lean lost and the body fat missed at the end, kg and points,
	// and the curvature of the former.
	lean, miss, curve float64
}

func (g *leg) free() bool { return g.open != 0 }

// course is a diet from a state on a date to the peak week, week by week.
type course struct {
	p     *Problem
	first dynamics.State
	legs  []leg
	end   dynamics.State
	last  float64 // effort of the week before the first, where that is linked to it
	over  float64 // points of body fat over the target at the end
	price float64 // kg of lean for one of them
	work  qp
	// settled is the cost, kg, that a round must bring for another to follow.
	settled float64
}

// newCourse lays out the weeks. restWeeks is how many weeks of diet have gone by
// since the last rest.
func (p *Problem) newCourse(s dynamics.State, from civil.Date, breaks []bool, restWeeks int) *course {
	end := p.Show.Date.AddDays(-readyDays)
	c := &course{p: p, first: s, legs: make([]leg, len(breaks)), settled: settled}
	c.work.grow(len(breaks))
	since := restWeeks
	for w := range c.legs {
		g := &c.legs[w]
		g.from = from.AddDays(7 * w)
		g.days = min(7, end.DaysSince(g.from))
		open := 0
		for day := range g.days {
			if !breaks[w] && !p.maintenanceDay(g.from.AddDays(day)) {
				g.open |= 1 << day
				open++
			}
		}
		g.resting = g.days-open >= restDays
		if g.resting {
			since = 0
		}
		g.weight = hardshipKg * float64(open) / 7 * (1 + float64(since)/restedWeeks)
		if !g.resting {
			g.linked = w > 0 && g.free() && !c.legs[w-1].resting
			since++
		}
	}
	if len(c.legs) > 0 && p.Standing != nil && from == p.AsOf && restWeeks > 0 && !c.legs[0].resting {
		r := p.ranges(&s, from)
		c.last, c.legs[0].linked = p.effort(&r, *p.Standing, tissueKg(&p.Model, &s)), true
	}
	return c
}

// before is the effort of the week before.
func (c *course) before(w int) float64 {
	if w == 0 {
		return c.last
	}
	return c.legs[w-1].effort
}

// boundNear is how near a limit, as a share of it, a week counts as held by it.
const boundNear = 1e-3

// whole reports whether a deficit may be planned on all seven days.
func (g *leg) whole() bool { return g.open == 1<<7-1 }

// live lives the days of a week on an input.
func (c *course) live(s *dynamics.State, g *leg, in dynamics.Input) {
	for day := range g.days {
		if g.open>>day&1 == 1 {
			c.p.Model.Step(s, in)
		} else {
			c.p.hold(s, g.from.AddDays(day))
		}
	}
}

// week lives a week at an effort, or at the greatest that is permitted where
// that is less. It returns the effort and whether a limit cut it.
func (c *course) week(s *dynamics.State, g *leg, effort float64) (float64, bool) {
	if !g.free() {
		c.live(s, g, dynamics.Input{})
		return 0, false
	}
	p := c.p
	r := p.ranges(s, g.from)
	in := p.input(r.instruction(p, effort))
	end := *s
	for range 7 {
		p.Model.Step(&end, in)
	}
	rate, supply := p.overLimit(s, &end, &in)
	over := math.Max(rate, supply)
	cut := over > 2*limitNear
	if cut {
		greatest, _ := p.greatestEffort(s, &r)
		effort = math.Min(effort, greatest)
		in = p.input(r.instruction(p, effort))
	}
	if g.whole() && !cut {
		*s = end
	} else {
		c.live(s, g, in)
	}
	return effort, over > -boundNear
}

// fly lives all weeks at their efforts, cut to what is permitted, and returns
// the points of body fat over the target at the end.

func (c *course) fly() float64 {
	s := c.first
	for w := range c.legs {
		g := &c.legs[w]
		g.state = s
		g.effort, g.bound = c.week(&s, g, g.effort)
	}
	c.end = s
	c.over = bodyFatPct(&c.p.Model, &s) - c.p.Show.TargetBodyFatPct
	return c.over
}

// cost is what the course costs as it was flown last, kg.
func (c *course) cost() float64 {
	sum := c.first.LeanKg - c.end.LeanKg
	for w := range c.legs {
		g := &c.legs[w]
		sum += g.weight * g.effort * g.effort
		if g.linked {
			d := g.effort - c.before(w)
			sum += changeKg * d * d
		}
	}
	return sum
}

// slopes finds what each week's effort does to lean mass and to body fat at the
// end: the week's own part by differences, the rest of the way by the adjoint
// equations (Pontryagin; backwards through the weeks' Jacobians over fat, lean,
// adaptation and the usual intake; glycogen and fluid forget within days).
func (c *course) slopes() {
	m := &c.p.Model
	weight := tissueKg(m, &c.end)
	pct := 100 * c.end.FatKg / weight
	lean := [4]float64{0, -1, 0, 0}
	miss := [4]float64{(100 - pct) / weight, -pct / weight, 0, 0}
	for w := len(c.legs) - 1; w >= 0; w-- {
		g := &c.legs[w]
		if g.free() {
			c.ownSlopes(g, &lean, &miss)
		}
		nextLean, nextMiss := lean, miss
		base := &c.end
		if w+1 < len(c.legs) {
			base = &c.legs[w+1].state
		}
		for i, by := range [4]float64{0.05, 0.05, 5, 10} {
			s := g.state
			*component(&s, i) += by
			effort := g.effort
			if g.bound {
				effort = 1 // as far as the limit lets it
			}
			c.week(&s, g, effort)
			nextLean[i], nextMiss[i] = 0, 0
			for j := range 4 {
				slope := (*component(&s, j) - *component(base, j)) / by
				nextLean[i] += lean[j] * slope
				nextMiss[i] += miss[j] * slope
			}
		}
		lean, miss = nextLean, nextMiss
	}
}

func component(s *dynamics.State, i int) *float64 {
	return [4]*float64{&s.FatKg, &s.LeanKg, &s.AdaptationKcal, &s.IntakeMeanKcal}[i]
}

// ownSlopes differentiates by the effort of the week, limits aside.
func (c *course) ownSlopes(g *leg, lean, miss *[4]float64) {
	const by = 0.02
	r := c.p.ranges(&g.state, g.from)
	middle := math.Max(by, math.Min(1-by, g.effort))
	var at [3]dynamics.State
	for i := range at {
		at[i] = g.state
		c.live(&at[i], g, c.p.input(r.instruction(c.p, middle+by*float64(i-1))))
	}
	g.lean, g.miss, g.curve = 0, 0, 0
	for j := range 4 {
		low, mid, high := *component(&at[0], j), *component(&at[1], j), *component(&at[2], j)
		g.lean += lean[j] * (high - low) / (2 * by)
		g.miss += miss[j] * (high - low) / (2 * by)
		g.curve += (lean[j] + c.price*miss[j]) * (high - 2*mid + low) / (by * by)
	}
	g.curve = math.Max(0, g.curve)
}
