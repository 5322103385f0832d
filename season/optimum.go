package season

import "math"

const (
	landsNear = 1e-4 // points of body fat to which a course is brought to its target
	settled   = 2e-5 // kg of cost that a round must bring for another to follow
	roughly   = 1e-3 // the same for a plan that is only to be compared
	rounds    = 30
	widest    = 0.3 // of effort that a round may move a week by, and the least that is tried
	narrowest = 0.001
)

// optimise finds the efforts that reach the target at the least cost, beginning
// near those that the legs have. It returns false, with every week at the
// greatest effort, where no permitted efforts reach it.
//
// It is sequential quadratic programming: each round takes the slopes of the
// true dynamics, solves the quadratic programme that has the landing for its
// equation and the limits for bounds inside a region of trust that shrinks until the
// cost falls, and is brought back to the target.
func (c *course) optimise() bool {
	q := &c.work
	for w := range c.legs {
		q.best[w], q.toward[w] = c.legs[w].effort, 1
	}
	c.set(1)
	if over := c.fly(); over > -landsNear {
		return over <= notTold
	}
	if !c.land() {
		return true // nothing to lose: no effort at all is enough
	}
	radius := widest
	for range rounds {
		c.slopes()
		cost, over, now := c.cost(), c.over, 0.0
		for ; radius > narrowest; radius /= 3 {
			c.price = q.solve(c, radius)
			if c.land() {
				// What is left of the landing is priced, so that it hides nothing.
				if now = c.cost() + c.price*(c.over-over); now < cost {
					break
				}
			}
			c.back()
		}
		if radius <= narrowest || cost-now < c.settled {
			break
		}
		radius = math.Min(widest, 2*radius)
	}
	return true
}

// back flies the efforts from which the round began.
func (c *course) back() {
	for w := range c.legs {
		c.legs[w].effort = c.work.from[w]
	}
	c.fly()
}

// set gives every week the same effort.
func (c *course) set(effort float64) {
	for w := range c.legs {
		c.legs[w].effort = effort
	}
}

// try flies the best efforts of a quadratic programme, and so much more, or less.
func (c *course) try(more float64) float64 {
	q := &c.work
	for w := range c.legs {
		c.legs[w].effort = math.Max(0, math.Min(1, q.best[w]+more*q.toward[w]))
	}
	return c.fly()
}

// land brings the best efforts to the target, by more or less of all; false where that is not possible. Less is missed with more effort, so the
// root is kept between two tries once there are two (regula falsi, else the
// secant).
func (c *course) land() bool {
	at, over := 0.0, c.try(0)
	low, high := -1.0, 1.0 // enough to saturate every week
	lowKnown, highKnown := false, false
	slope := 0.0
	for w := range c.legs {
		slope += c.legs[w].miss * c.work.toward[w]
	}
	if slope > -1e-3 {
		slope = math.Min(-1e-3, -2*math.Abs(over)) // as if half the effort were enough
	}
	for range 40 {
		if math.Abs(over) < landsNear {
			return true
		}
		if over > 0 {
			low, lowKnown = at, true
		} else {
			high, highKnown = at, true
		}
		next := at - over/slope
		if next <= low || next >= high {
			switch {
			case lowKnown && highKnown:
				next = (low + high) / 2
			case over > 0:
				next = high
			default:
				next = low
			}
		}
		if next == at {
			return false
		}
		was, wasOver := at, over
		at = next
		over = c.try(at)
		if s := (over - wasOver) / (at - was); s < 0 {
			slope = s
		}
	}
	return false
}
