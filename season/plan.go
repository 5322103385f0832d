package season

import (
	"glidepath/athlete"
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

// Diet breaks are a week at maintenance. In lean lifters they eased hunger and
// saved neither lean mass nor resting expenditure (Peos et al. 2021, MSSE
// 53:1685), so the dynamics give them no bonus and what they bring is that the
// weeks after one are easier (restedWeeks). One is due every nine weeks of diet,
// counted from its beginning so that it stays where it is when the plan is made
// anew each week, never in the last four; it is taken where the plan costs less
// with it than without, and a brisk pace leaves a week to spare for what cannot be
// foreseen. Spacing and pace are judgement.
const (
	breakEvery = 9
	breakLast  = 4
	breakPace  = 0.85
)

// rest tries the diet breaks that fall due, one after another.
func (p *Problem) rest(best *course, d *dietPlan, done int, fastest *descent) *course {
	n := len(d.breaks)
	spare := float64(p.dietDays(d.from)) - fastest.needDays(best.first.FatKg)/breakPace
	for w := range n - breakLast {
		if (done+w+1)%breakEvery != 0 || spare < 7 || best.legs[w].open == 0 {
			continue
		}
		d.breaks[w] = true
		with := p.newCourse(best.first, d.from, d.breaks, done%breakEvery)
		with.settled = best.settled
		for v := range with.legs {
			with.legs[v].effort = best.legs[v].effort
		}
		if !with.optimise() || with.cost() > best.cost() {
			d.breaks[w] = false
			continue
		}
		d.rests = append(d.rests, best.restIn(with, w))
		spare -= 7
		best = with
	}
	return best
}

// Refeeds: one day a week at about maintenance once lean, the other days so much
// lower that the week's mean stands. Their evidence is comfort, not lean mass
// (Campbell et al. 2020, JFMK 5:19, and the published comment on it).
func refeeds(sex athlete.Sex, bodyFatPct float64) int {
	if sex == athlete.Male && bodyFatPct < 10 || sex == athlete.Female && bodyFatPct < 18 {
		return 1
	}
	return 0
}
