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
//
// Where the minutes are told it has nearly those, and where none delivers, it is the
// dose nearest to them. Where a week has not so many, it has what there are.
func (m *mixer) cheapest(need float64) dose {
	s := search{m: m, need: need, most: m.minutesMax}
	if m.told > 0 {
		s.least, s.most = m.told-minutesAbout, m.told+minutesAbout
	}
	s.all()
	if m.told > 0 && len(s.best.parts) == 0 {
		s.least, s.most = 0, m.told
		s.all()
	}
	return s.best
}

type search struct {
	m           *mixer
	need        float64 // kcal a week
	least, most int     // minutes a week
	best        dose
}

func (s *search) all() {
	m := s.m
	for i := range m.use {
		a := &m.use[i]
		for n := 1; n <= sessionsMost; n++ {
			for length := shortestSession; length <= m.longest; length += minutesUnit {
				first := part{use: a, sessions: n, length: length}
				if first.minutes() > s.most {
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
	left := s.most - first.minutes()
	points := (s.need-rest)*first.use.points + first.kcal()*first.use.least[first.sessions] + s.m.calendar.secondKind
	for j := range others {
		b := &others[j]
		if b.kind == first.use.kind || s.worse(s.need, s.m.told, points+max(0, rest)*(b.points+b.least[1])) {
			continue // even if it delivered the rest on its best day
		}
		for n := 1; n <= sessionsMost && n*shortestSession <= left; n++ {
			longest := min(s.m.longest, left/n/minutesUnit*minutesUnit)
			length := func(least float64) int {
				return min(longest, max(shortestSession, int(math.Ceil(least/minutesUnit))*minutesUnit))
			}
			// Points and kcal both rise with the length, so only the least that delivers
			// the rest, or the longest that fits, can be best.
			least := max((rest-near)/(b.kcalPerMin*float64(n)), float64(missing)/float64(n))
			s.consider(first, part{use: b, sessions: n, length: length(least)})
			if s.m.told > 0 { // or one of the two that are nearest to the minutes told
				nearest := float64(s.m.told-first.minutes()) / float64(n)
				s.consider(first, part{use: b, sessions: n, length: length(nearest)})
				s.consider(first, part{use: b, sessions: n, length: length(nearest - minutesUnit)})
			}
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
	if s.worse(d.kcal, d.minutes, d.points+floor) {
		return
	}
	d.parts = append([]part(nil), parts...)
	d.points += s.m.calendar.place(d.parts)
	if s.better(&d) {
		s.best = d
	}
}

// worse reports whether a dose with so much energy, in so many minutes and at the
// least so many points, cannot be the best.
func (s *search) worse(kcal float64, minutes int, points float64) bool {
	if len(s.best.parts) == 0 {
		return false
	}
	enough, was := kcal >= s.need-near, s.best.kcal >= s.need-near
	switch {
	case enough != was:
		return was
	case !enough && s.off(minutes) != s.off(s.best.minutes):
		return s.off(minutes) > s.off(s.best.minutes)
	case !enough && math.Abs(kcal-s.best.kcal) > near:
		return kcal < s.best.kcal
	}
	return points > s.best.points+near
}

// off is how far minutes are from those told, 0 where none are.
func (s *search) off(minutes int) int {
	if s.m.told == 0 {
		return 0
	}
	return max(minutes-s.m.told, s.m.told-minutes)
}

// better reports whether a dose is a better answer than the best so far: one that
// delivers the need before one that does not, then the fewer points, then the fewer
// minutes, then sessions nearer 40 minutes, then the fewer. Where neither delivers, it
// is the one nearer the minutes told, then that with the more kcal.
func (s *search) better(a *dose) bool {
	b := &s.best
	if len(b.parts) == 0 {
		return true
	}
	if s.worse(a.kcal, a.minutes, a.points) {
		return false
	}
	enoughA, enoughB := a.kcal >= s.need-near, b.kcal >= s.need-near
	switch {
	case enoughA != enoughB:
		return true
	case !enoughA && s.off(a.minutes) != s.off(b.minutes):
		return true
	case !enoughA && math.Abs(a.kcal-b.kcal) > near:
		return true
	case math.Abs(a.points-b.points) > near:
		return true
	case a.minutes != b.minutes:
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
