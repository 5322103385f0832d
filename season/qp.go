package season

import "math"

// qp is the quadratic programme of a round: over the weeks' efforts x,
//
//	min  lean'(x - e) + curve/2 (x - e)^2 + weight x^2 + changeKg (x - x')^2
//	s.t. miss'(x - e) = 0,  0 <= x <= the greatest effort,  |x - e| <= radius.
//
// At a price of landing its matrix is tridiagonal and an M-matrix, for which the
// primal-dual active set method ends in a few steps (Hintermueller, Ito & Kunisch
// 2003, SIAM J Optim 13:865), each one tridiagonal elimination (Thomas 1949). What
// is missed falls with the price and is linear between changes of the active set,
// so Newton's method, kept inside a bracket, finds the price.
type qp struct {
	from, best, toward []float64 // efforts by week: where a round begins, the solution, the cheapest way to more
	index              []int     // the weeks that are free to choose
	diag, rhs, y, z, u []float64 // by place in index
	fixed              []int8    // -1 at the least, 1 at the greatest
	lower, upper       []float64
}

func (q *qp) grow(n int) {
	all := make([]float64, 10*n)
	for _, v := range []*[]float64{&q.from, &q.best, &q.toward, &q.diag, &q.rhs, &q.y, &q.z, &q.u, &q.lower, &q.upper} {
		*v, all = all[:n:n], all[n:]
	}
	q.index, q.fixed = make([]int, 0, n), make([]int8, n)
}

// solve fills best and toward, and returns the price of landing, kg of lean for
// a point of body fat.
func (q *qp) solve(c *course, radius float64) (price float64) {
	q.index = q.index[:0]
	for w := range c.legs {
		g := &c.legs[w]
		q.from[w], q.best[w], q.toward[w] = g.effort, g.effort, 0
		if !g.free() {
			continue
		}
		i := len(q.index)
		q.index = append(q.index, w)
		q.lower[i], q.upper[i], q.fixed[i] = math.Max(0, g.effort-radius), math.Min(1, g.effort+radius), 0
		if g.bound {
			q.upper[i] = g.effort
		}
	}
	price = q.land(c)
	for i, w := range q.index {
		q.best[w] = math.Max(q.lower[i], math.Min(q.upper[i], q.u[i]))
		if q.fixed[i] == 0 {
			q.toward[w] = -q.z[i]
		}
	}
	most := 0.0
	for _, t := range q.toward {
		most = math.Max(most, math.Abs(t))
	}
	for w := range q.toward {
		if most > 0 {
			q.toward[w] /= most
		} else {
			q.toward[w] = 1 // all at a bound
		}
	}
	return price
}

// land finds the price at which the efforts land.
func (q *qp) land(c *course) float64 {
	price, low, high := c.price, 0.0, math.Inf(1)
	for range 60 {
		short, pull := q.at(c, price)
		if math.Abs(short) < 1e-7 {
			break
		}
		if short > 0 {
			low = price
		} else {
			high = price
		}
		next := math.Inf(1)
		if pull > 0 {
			next = price + short/pull
		}
		if next <= low || next >= high {
			next = (low + high) / 2
			if math.IsInf(high, 1) {
				next = 2*price + 0.1
			}
		}
		price = next
	}
	return price
}

// at is the programme at a price: what is missed at its solution, and how fast
// that falls with the price.
func (q *qp) at(c *course, price float64) (short, pull float64) {
	for range 2*len(q.index) + 4 {
		short, pull = q.eliminate(c, price)
		if !q.exchange(c, price) {
			break
		}
	}
	return short, pull
}

// row is the diagonal and the right-hand side of a week without its neighbours.
func (q *qp) row(c *course, i int) (diag, rhs float64) {
	g := &c.legs[q.index[i]]
	diag, rhs = g.curve+2*g.weight-q.link(c, i)-q.link(c, i+1), g.curve*g.effort-g.lean
	if q.index[i] == 0 && g.linked {
		diag += 2 * changeKg
		rhs += 2 * changeKg * c.last
	}
	return diag, rhs
}

// link is the entry of the matrix between a week and the one before it.
func (q *qp) link(c *course, i int) float64 {
	if i == 0 || i == len(q.index) || !c.legs[q.index[i]].linked {
		return 0
	}
	return -2 * changeKg
}

// eliminate solves for the weeks that are not fixed; u holds the efforts of all.
func (q *qp) eliminate(c *course, price float64) (short, pull float64) {
	n := len(q.index)
	for i := range n {
		g := &c.legs[q.index[i]]
		switch q.fixed[i] {
		case -1:
			q.u[i] = q.lower[i]
		case 1:
			q.u[i] = q.upper[i]
		}
		if q.fixed[i] != 0 {
			short += g.miss * (q.u[i] - g.effort)
			q.y[i], q.z[i], q.diag[i] = q.u[i], 0, 1
			continue
		}
		d, r := q.row(c, i)
		z := g.miss
		if off := q.link(c, i); off != 0 {
			if q.fixed[i-1] != 0 {
				r -= off * q.u[i-1]
			} else {
				k := off / q.diag[i-1]
				d -= k * off
				r -= k * q.y[i-1]
				z -= k * q.z[i-1]
			}
		}
		if i+1 < n && q.fixed[i+1] != 0 {
			r -= q.link(c, i+1) * q.bound(i+1)
		}
		q.diag[i], q.y[i], q.z[i] = d, r, z
	}
	for i := n - 1; i >= 0; i-- {
		if q.fixed[i] != 0 {
			continue
		}
		g := &c.legs[q.index[i]]
		if off := q.link(c, i+1); off != 0 && q.fixed[i+1] == 0 {
			q.y[i] -= off * q.y[i+1]
			q.z[i] -= off * q.z[i+1]
		}
		q.y[i] /= q.diag[i]
		q.z[i] /= q.diag[i]
		q.u[i] = q.y[i] - price*q.z[i]
		short += g.miss * (q.u[i] - g.effort)
		pull += g.miss * q.z[i]
	}
	return short, pull
}

func (q *qp) bound(i int) float64 {
	if q.fixed[i] == 1 {
		return q.upper[i]
	}
	return q.lower[i]
}

// exchange fixes the weeks that are out of bounds and lets go of those that a
// bound need no longer hold; false where there is nothing to exchange.
func (q *qp) exchange(c *course, price float64) bool {
	const near = 1e-9
	changed := false
	for i, w := range q.index {
		g := &c.legs[w]
		was := q.fixed[i]
		if was == 0 {
			switch {
			case q.u[i] < q.lower[i]-near:
				q.fixed[i] = -1
			case q.u[i] > q.upper[i]+near:
				q.fixed[i] = 1
			}
		} else {
			d, r := q.row(c, i)
			force := d*q.u[i] - r + price*g.miss
			if off := q.link(c, i); off != 0 {
				force += off * q.u[i-1]
			}
			if off := q.link(c, i+1); off != 0 {
				force += off * q.u[i+1]
			}
			if float64(was)*force > near {
				q.fixed[i] = 0
			}
		}
		changed = changed || q.fixed[i] != was
	}
	return changed
}
