package season

import "math"

// qp is the quadratic programme of a round: over the weeks' efforts x,
//
//	min  lean'(x - e) + curve/2 (x - e)^2 + weight x^2 + changeKg (x - x')^2
//	s.t. miss'(x - e) = 0,  0 <= x <= the greatest effort.
//
// Its matrix is tridiagonal and an M-matrix, for which the primal-dual active
// set method ends in a few steps (Hintermueller, Ito & Kunisch 2003, SIAM J Optim
// 13:865); each is one tridiagonal elimination (Thomas 1949) with two right-hand
// sides, and the multiplier of the landing closes it.
type qp struct {
	from, best, toward []float64 // efforts by week: where a round begins, the solution, the cheapest way to more
	index              []int     // the weeks that are free to choose
	diag, rhs, y, z, u []float64 // by place in index
	fixed              []int8    // -1 at nought, 1 at the greatest
	upper              []float64
}

func (q *qp) grow(n int) {
	all := make([]float64, 9*n)
	for _, v := range []*[]float64{&q.from, &q.best, &q.toward, &q.diag, &q.rhs, &q.y, &q.z, &q.u, &q.upper} {
		*v, all = all[:n:n], all[n:]
	}
	q.index, q.fixed = make([]int, 0, n), make([]int8, n)
}

// solve fills best and toward, and returns the price of landing, kg of lean for
// a point of body fat.
func (q *qp) solve(c *course) (price float64) {
	q.index = q.index[:0]
	for w := range c.legs {
		g := &c.legs[w]
		q.from[w], q.best[w], q.toward[w] = g.effort, g.effort, 0
		if !g.free() {
			continue
		}
		i := len(q.index)
		q.index = append(q.index, w)
		q.upper[i], q.fixed[i] = 1, 0
		if g.bound {
			q.upper[i] = g.effort
		}
	}
	for range 2*len(q.index) + 4 {
		price = q.eliminate(c)
		if !q.exchange(c, price) {
			break
		}
	}
	for i, w := range q.index {
		q.best[w] = math.Max(0, math.Min(q.upper[i], q.u[i]))
		if q.fixed[i] == 0 {
			q.toward[w] = -q.z[i]
		}
	}
	most := 0.0
	for _, t := range q.toward {
		most = math.Max(most, math.Abs(t))
	}
	if most > 0 {
		for w := range q.toward {
			q.toward[w] /= most
		}
	}
	return price
}

// row is the diagonal and the right-hand side of a week without its neighbours.
func (q *qp) row(c *course, i int) (diag, rhs float64) {
	g := &c.legs[q.index[i]]
	return g.curve + 2*g.weight + 2*changeKg*q.neighbours(i), g.curve*g.effort - g.lean
}

func (q *qp) neighbours(i int) float64 {
	n := 0.0
	if i > 0 {
		n++
	}
	if i < len(q.index)-1 {
		n++
	}
	return n
}

// eliminate solves for the weeks that are not fixed and returns the multiplier of
// the landing; u holds the efforts of all.
func (q *qp) eliminate(c *course) float64 {
	const off = -2 * changeKg
	n := len(q.index)
	short, pull := 0.0, 0.0
	for i := range n {
		g := &c.legs[q.index[i]]
		switch q.fixed[i] {
		case -1:
			q.u[i] = 0
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
		if i > 0 {
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
			r -= off * q.bound(i+1)
		}
		q.diag[i], q.y[i], q.z[i] = d, r, z
	}
	for i := n - 1; i >= 0; i-- {
		if q.fixed[i] != 0 {
			continue
		}
		g := &c.legs[q.index[i]]
		if i+1 < n && q.fixed[i+1] == 0 {
			q.y[i] -= off * q.y[i+1]
			q.z[i] -= off * q.z[i+1]
		}
		q.y[i] /= q.diag[i]
		q.z[i] /= q.diag[i]
		short += g.miss * (q.y[i] - g.effort)
		pull += g.miss * q.z[i]
	}
	if pull == 0 {
		return 0
	}
	price := short / pull
	for i := range n {
		if q.fixed[i] == 0 {
			q.u[i] = q.y[i] - price*q.z[i]
		}
	}
	return price
}

func (q *qp) bound(i int) float64 {
	if q.fixed[i] == 1 {
		return q.upper[i]
	}
	return 0
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
			case q.u[i] < -near:
				q.fixed[i] = -1
			case q.u[i] > q.upper[i]+near:
				q.fixed[i] = 1
			}
		} else {
			d, r := q.row(c, i)
			force := d*q.u[i] - r + price*g.miss
			if i > 0 {
				force -= 2 * changeKg * q.u[i-1]
			}
			if i+1 < len(q.index) {
				force -= 2 * changeKg * q.u[i+1]
			}
			if float64(was)*force > near {
				q.fixed[i] = 0
			}
		}
		changed = changed || q.fixed[i] != was
	}
	return changed
}
