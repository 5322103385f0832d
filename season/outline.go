package season

import (
	"math"

	"glidepath/civil"
	"glidepath/dynamics"
)

// A pre-prep diet: the share of the fastest permitted pace at which it runs, how
// short and long it may be, and what must lie between it and the prep
// (judgement).
const (
	prePrepPace    = 0.75
	prePrepMin     = 4
	prePrepMax     = 12
	minReturnWeeks = 8
)

// outline is when the diets begin.
type outline struct {
	prePrepWeeks int
	start        civil.Date
	gain         bool // weight may be gained in the off-season before
}

// outline starts the prep as late as a sensible pace allows, less a week in
// hand. Where that makes it too long, no weight is gained until then; where it is
// still too long, and there is time, a pre-prep diet comes first. Nobody diets while they recover from a show unless the next leaves no
// choice.
func (p *Problem) outline(fastest *descent) outline {
	if p.Dieting {
		return outline{start: p.AsOf}
	}
	o := outline{start: p.startFrom(fastest, p.State, p.AsOf, true), gain: true}
	if p.weeksToShow(o.start) <= LongPrepWeeks {
		return o
	}
	o = outline{start: p.startFrom(fastest, p.State, p.AsOf, false)}
	if p.weeksToShow(o.start) <= LongPrepWeeks || p.AsOf < p.RecoverUntil {
		return o
	}
	s := p.State
	for n := 1; n <= prePrepMax; n++ {
		on := p.AsOf.AddDays(7 * n)
		p.prePrepWeek(&s, on.AddDays(-7))
		start := p.startFrom(fastest, s, on, false)
		if n < prePrepMin || start < on.AddDays(7*minReturnWeeks) {
			continue
		}
		o = outline{prePrepWeeks: n, start: start}
		if p.weeksToShow(start) <= LongPrepWeeks-1 {
			break
		}
	}
	return o
}

func (p *Problem) prePrepWeek(s *dynamics.State, on civil.Date) {
	r := p.ranges(s, on)
	effort, _ := p.greatestEffort(s, &r)
	p.Live(s, r.instruction(p, prePrepPace*effort), 7)
}

func (p *Problem) startFrom(fastest *descent, s dynamics.State, on civil.Date, gain bool) civil.Date {
	return max(on, p.sensibleStart(fastest, s, on, gain).AddDays(-7))
}

func (p *Problem) weeksToShow(from civil.Date) float64 {
	return float64(p.Show.Date.DaysSince(from)) / 7
}

// sensibleStart is the latest date from which a sensible pace arrives when the
// time until then, from a state on a date, is recovery or off-season. Where it has passed it
// lies before that date.
func (p *Problem) sensibleStart(fastest *descent, s dynamics.State, from civil.Date, gain bool) civil.Date {
	spare := func(s *dynamics.State, on civil.Date) float64 {
		return float64(p.dietDays(on)) - fastest.needDays(s.FatKg)/sensiblePace
	}
	now := spare(&s, from)
	if now < 0 {
		return from.AddDays(int(math.Floor(now)))
	}
	on := from
	for on < p.Show.Date {
		next := s
		_, in := p.betweenWeek(&s, on, gain)
		p.Live(&next, in, 7)
		if spare(&next, on.AddDays(7)) < 0 {
			break
		}
		s, on = next, on.AddDays(7)
	}
	return on
}
