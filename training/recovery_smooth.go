package training

// moment is the mean and variance of something.
type moment struct{ mean, variance float64 }

// backward carries what later days tell, from the last day to the first (r and N
// of Durbin & Koopman, equations 4.44 and 4.45).
type backward struct {
	p *pass
	r stateVector
	n stateMatrix
}

// weeks is the mean of the state over each week, given every value, in order.
func (p *pass) weeks() []moment {
	out := make([]moment, len(p.ends))
	b := backward{p: p}
	end := len(p.ends) - 1
	for t := len(p.until) - 1; t >= 0 && end >= 0; t-- {
		if e := &p.ends[end]; e.day == t {
			out[end] = b.told(e)
			end--
		}
		from := 0
		if t > 0 {
			from = p.until[t-1]
		}
		for i := p.until[t] - 1; i >= from; i-- {
			b.undo(&p.seen[i])
		}
		b.retreat(t)
	}
	return out
}

// told is the week's mean with what later days add.
func (b *backward) told(e *weekEnd) moment {
	row := &e.cov[weekSum]
	out := moment{e.mean[weekSum], row[weekSum]}
	for i := range b.p.n {
		out.mean += row[i] * b.r[i]
		for j := range b.p.n {
			out.variance -= row[i] * b.n[i][j] * row[j]
		}
	}
	return out
}

// undo goes back over one reading.
func (b *backward) undo(in *innovation) {
	z, places := b.p.m.design(in.marker)
	var nk stateVector
	var rk, knk float64
	for i := range b.p.n {
		rk += in.gain[i] * b.r[i]
		for j := range b.p.n {
			nk[i] += b.n[i][j] * in.gain[j]
		}
		knk += in.gain[i] * nk[i]
	}
	for x, i := range places {
		b.r[i] += z[x] * (in.off/in.variance - rk)
		for j := range b.p.n {
			b.n[i][j] -= z[x] * nk[j]
			b.n[j][i] -= z[x] * nk[j]
		}
	}
	for x, i := range places {
		for y, j := range places {
			b.n[i][j] += z[x] * z[y] * (knk + 1/in.variance)
		}
	}
}

// design is how a reading depends on the state: the factors and the states that
// they are of.
func (m *factorModel) design(marker int) (factors [3]float64, states []int) {
	if marker == anchorReading {
		return [3]float64{1}, anchored[:]
	}
	l := m.markers[marker].loading
	return [3]float64{l, l, 1}, shown[marker][:]
}

var (
	anchored = [...]int{usualSum}
	shown    = func() (out [signs][3]int) {
		for k := range out {
			out[k] = [3]int{passing, slow, firstBaseline + k}
		}
		return out
	}()
)

// retreat goes back over the move to a day.
func (b *backward) retreat(t int) {
	b.unsum(usualSum, b.p.m.usualShare(t))
	b.unsum(weekSum, 1.0/7)
	b.scale(passing, b.p.m.keeps)
	if t%7 == 0 {
		b.scale(weekSum, 0)
	}
}

func (b *backward) unsum(from int, share float64) {
	if share == 0 {
		return
	}
	for _, to := range [...]int{passing, slow} {
		b.r[to] += share * b.r[from]
		for j := range b.p.n {
			b.n[to][j] += share * b.n[from][j]
		}
		for j := range b.p.n {
			b.n[j][to] += share * b.n[j][from]
		}
	}
}

func (b *backward) scale(state int, factor float64) {
	b.r[state] *= factor
	for j := range b.p.n {
		b.n[state][j] *= factor
	}
	for j := range b.p.n {
		b.n[j][state] *= factor
	}
}

// contributions are what each marker adds to the mean of the last week: the filter
// is linear in the values, so each runs through it alone, the others at the
// baseline expected of them. They sum to the week's mean.
func (p *pass) contributions() []float64 {
	out := make([]float64, len(p.m.markers))
	for k := range out {
		out[k] = p.alone(k)
	}
	return out
}

func (p *pass) alone(marker int) float64 {
	var mean stateVector // off what was expected
	from := 0
	for t, until := range p.until {
		if t%7 == 0 {
			mean[weekSum] = 0
		}
		mean[passing] *= p.m.keeps
		mean[weekSum] += (mean[passing] + mean[slow]) / 7
		mean[usualSum] += p.m.usualShare(t) * (mean[passing] + mean[slow])
		for i := from; i < until; i++ {
			in := &p.seen[i]
			off := 0.0
			if in.marker == marker {
				off = in.was
			}
			z, places := p.m.design(in.marker)
			for x, j := range places {
				off -= z[x] * mean[j]
			}
			for j := range p.n {
				mean[j] += in.gain[j] * off
			}
		}
		from = until
	}
	return mean[weekSum]
}
