package season

import (
	"glidepath/civil"
	"glidepath/dynamics"
)

// dietPlan is the efforts of the weeks from a date to the peak week.
type dietPlan struct {
	from   civil.Date
	breaks []bool    // a diet break, by week
	effort []float64 // by week
	lands  bool
	rests  []Rest
}

// diet plans from a state on a date. Weeks are counted from that date; the last
// one may be short.
func (p *Problem) diet(s dynamics.State, from civil.Date, fastest *descent, settled float64) dietPlan {
	end := p.Show.Date.AddDays(-readyDays)
	n := max(0, (end.DaysSince(from)+6)/7)
	d := dietPlan{from: from, breaks: make([]bool, n), effort: make([]float64, n)}
	if n == 0 {
		d.lands = bodyFatPct(&p.Model, &s) <= p.Show.TargetBodyFatPct+notTold
		return d
	}
	done := 0
	if p.Dieting && from == p.AsOf {
		done = p.DietWeeks
	}
	// Breaks that fell due before are taken for taken.
	best := p.newCourse(s, from, d.breaks, done%breakEvery)
	best.settled = settled
	d.lands = best.optimise()
	if d.lands {
		best = p.rest(best, &d, done, fastest)
	}
	for w := range best.legs {
		d.effort[w] = best.legs[w].effort
	}
	return d
}
