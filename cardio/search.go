package cardio

import "sort"

// dose is a week of cardio.
type dose struct {
	parts   []part
	kcal    float64
	points  float64
	minutes int
}

type part struct {
	kind usable
	session
}

// cheapest is the dose of one or two kinds that delivers need kcal a week within
// the minutes for the fewest points; where none does, the dose with the most kcal.
func (m *mixer) cheapest(need float64) dose {
	var best dose
	consider := func(parts ...part) {
		if d := m.weigh(parts); d.minutes <= m.minutesMax && better(d, best, need) {
			best = d
		}
	}
	for i, a := range m.kinds {
		for _, first := range m.within(m.minutesMax) {
			one := part{a, first}
			consider(one)
			for _, b := range m.kinds[i+1:] {
				// Points and kcal both rise with minutes, so only the least second dose
				// that delivers, or the largest that fits, can be best.
				rest := need - a.kcalPerMin*float64(first.minutes)
				options := m.within(m.minutesMax - first.minutes)
				at := sort.Search(len(options), func(k int) bool {
					return b.kcalPerMin*float64(options[k].minutes) >= rest-slack
				})
				if at < len(options) {
					consider(one, part{b, options[at]})
				} else if at > 0 {
					consider(one, part{b, options[at-1]})
				}
			}
		}
	}
	return best
}

// slack forgives rounding where a dose delivers exactly what is needed, kcal.
const slack = 1e-6

// better reports whether a is a better answer than b to a need.
func better(a, b dose, need float64) bool {
	if enoughA, enoughB := a.kcal >= need-slack, b.kcal >= need-slack; enoughA != enoughB {
		return enoughA
	} else if !enoughA && a.kcal != b.kcal {
		return a.kcal > b.kcal
	}
	if a.points != b.points {
		return a.points < b.points
	}
	return a.minutes < b.minutes
}

// within lists the weekly doses of at most so many minutes.
func (m *mixer) within(minutes int) []session {
	return m.options[:sort.Search(len(m.options), func(k int) bool { return m.options[k].minutes > minutes })]
}

func (m *mixer) weigh(parts []part) dose {
	d := dose{parts: parts}
	for i, p := range parts {
		kcal := p.kind.kcalPerMin * float64(p.minutes)
		d.kcal += kcal
		d.points += kcal * p.kind.pointsPerKcal
		d.minutes += p.minutes
		if i > 0 {
			d.points += m.second
		}
	}
	return d
}
