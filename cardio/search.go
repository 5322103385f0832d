package cardio

import "math"

// dose is a week of cardio.
type dose struct {
	parts   []part
	kcal    float64
	points  float64
	minutes int
}

// part is sessions of one kind at one pace.
type part struct {
	use              *usable
	sessions, length int
	days             uint8
}

func (p *part) minutes() int  { return p.sessions * p.length }
func (p *part) kcal() float64 { return p.use.kcalPerMin * float64(p.length) } // of one session

// cheapest is the dose of one or two kinds that delivers need kcal a week within
// the minutes for the fewest points; where none does, the dose with the most kcal.
// Every choice of kinds, paces, sessions and lengths is looked at, or is passed over
// because it cannot be the best, with the days that suit it best.
func (m *mixer) cheapest(need float64) dose {
	s := search{m: m, need: need, least: m.minutesMin}
	s.all()
	if len(s.best.parts) == 0 && s.least > 0 {
		s.least = 0 // there are not so many minutes in a week of what can be used
		s.all()
	}
	return s.best
}

type search struct {
	m     *mixer
	need  float64
	least int // minutes
	best  dose
}

func (s *search) all() {
	m := s.m
	for i := range m.use {
		a := &m.use[i]
		for n := 1; n <= sessionsMost; n++ {
			for length := shortestSession; length <= m.longest; length += minutesUnit {
				first := part{use: a, sessions: n, length: length}
				if first.minutes() > m.minutesMax {
					break
				}
				s.consider(first)
				s.seconds(first, m.use[i+1:])
			}
		}
	}
}

// seconds considers a first part with one of another kind.
func (s *search) seconds(first part, others []usable) {
	rest := s.need - first.kcal()*float64(first.sessions)
	missing := s.least - first.minutes()
	if rest <= near && missing <= 0 {
		return // a second kind would only add
	}
	left := s.m.minutesMax - first.minutes()
	points := (s.need-rest)*first.use.points + first.kcal()*first.use.least[first.sessions] + s.m.calendar.secondKind
	for j := range others {
		b := &others[j]
		if b.kind == first.use.kind || s.worse(s.need, points+max(0, rest)*(b.points+b.least[1])) {
			continue // even if it delivered the rest on its best day
		}
		for n := 1; n <= sessionsMost && n*shortestSession <= left; n++ {
			// Points and kcal both rise with the length, so only the least that delivers
			// the rest, or the longest that fits, can be best.
			needed := max((rest-near)/(b.kcalPerMin*float64(n)), float64(missing)/float64(n))
			length := max(shortestSession, int(math.Ceil(needed/minutesUnit))*minutesUnit)
			s.consider(first, part{use: b, sessions: n, length: min(length, s.m.longest, left/n/minutesUnit*minutesUnit)})
		}
	}
}

// consider takes a dose if it is better than the best so far.
func (s *search) consider(parts ...part) {
	d := dose{minutes: minutesOf(parts)}
	if d.minutes < s.least {
		return
	}
	floor := 0.0 // of the points that the days cost
	for i := range parts {
		p := &parts[i]
		kcal := p.kcal() * float64(p.sessions)
		d.kcal += kcal
		d.points += kcal * p.use.points
		floor += p.kcal() * p.use.least[p.sessions]
	}
	if len(parts) > 1 {
		floor += s.m.calendar.secondKind
	}
	if s.worse(d.kcal, d.points+floor) {
		return
	}
	d.parts = append([]part(nil), parts...)
	d.points += s.m.calendar.place(d.parts)
	if better(&d, &s.best, s.need) {
		s.best = d
	}
}

// worse reports whether a dose with so much energy, and at the least so many points,
// cannot be the best.
func (s *search) worse(kcal, points float64) bool {
	if len(s.best.parts) == 0 {
		return false
	}
	enough, was := kcal >= s.need-near, s.best.kcal >= s.need-near
	switch {
	case enough != was:
		return was
	case !enough && math.Abs(kcal-s.best.kcal) > near:
		return kcal < s.best.kcal
	}
	return points > s.best.points+near
}

// better reports whether a is a better answer than b to a need: one that delivers it
// before the other, then the fewer points, then the fewer minutes, then sessions
// nearer 40 minutes, then the fewer. Where neither delivers, it is the one with the
// more kcal.
func better(a, b *dose, need float64) bool {
	if len(a.parts) == 0 || len(b.parts) == 0 {
		return len(a.parts) > 0
	}
	if enoughA, enoughB := a.kcal >= need-near, b.kcal >= need-near; enoughA != enoughB {
		return enoughA
	} else if !enoughA && math.Abs(a.kcal-b.kcal) > near {
		return a.kcal > b.kcal
	}
	if math.Abs(a.points-b.points) > near {
		return a.points < b.points
	}
	if a.minutes != b.minutes {
		return a.minutes < b.minutes
	}
	offA, sessionsA := shape(a.parts)
	offB, sessionsB := shape(b.parts)
	if math.Abs(offA-offB) > near {
		return offA < offB
	}
	return sessionsA < sessionsB
}

// shape is how far sessions are from 40 minutes, on average, and how many there are.
func shape(parts []part) (off float64, sessions int) {
	const liked = 40
	for i := range parts {
		p := &parts[i]
		off += float64(p.sessions * max(p.length-liked, liked-p.length))
		sessions += p.sessions
	}
	return off / float64(sessions), sessions
}

func minutesOf(parts []part) int {
	sum := 0
	for i := range parts {
		sum += parts[i].minutes()
	}
	return sum
}
