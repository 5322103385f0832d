package app

import (
	"encoding/json"
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/season"
)

// followed is the problem on the scale of what is eaten: who eats more than is
// asked can be asked for no less than the floor, and so eats no less than that
// much more.
func (f *facts) followed(d *Dossier, p season.Problem) season.Problem {
	p.Limits.EnergyAvailabilityFloor *= math.Max(1, d.Reading.Adherence.Expected())
	p.Limits.RateFarPctPerWeek *= Pace
	p.Limits.RateLeanPctPerWeek *= Pace
	return p
}

// Zs is the confidence.
var Zs, Cont, Pace = 0.84, 0.06, 0.93

// sure is the problem for a body as fat as it may be.
func (f *facts) sure(d *Dossier, p season.Problem) season.Problem {
	p = f.followed(d, p)
	if p.Show.Date.IsZero() {
		return p
	}
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	left := p.Show.Date.DaysSince(d.AsOf)
	// What the measurements to come will tell.
	var n, sd float64
	first := d.AsOf
	for _, c := range d.Compositions {
		if d.AsOf.DaysSince(c.Date) < 84 {
			n++
			first = min(first, c.Date)
			sd = c.ReadingSD
		}
	}
	now := last.MethodPct.SD()
	learn := 0.0
	if n > 0 {
		every := math.Max(7, float64(d.AsOf.DaysSince(first))/n)
		more := math.Max(0, float64(left-7)/every)
		end := 1 / math.Sqrt(1/(now*now)+more/(sd*sd))
		learn = math.Sqrt(math.Max(0, now*now-end*end))
	}
	fatter := Zs * learn / 100 * last.TrendKg.Value
	p.State.FatKg += fatter
	p.State.LeanKg -= fatter
	p.BodyFat.Mean += Zs * learn
	if c := int(Cont * float64(left)); c > 0 {
		end := p.Show.Date.AddDays(-8)
		p.Events = append(p.Events[:len(p.Events):len(p.Events)], athlete.Event{From: end.AddDays(1 - c), To: end, Maintenance: true})
	}
	return p
}

// past are the proposals of the last eight weeks, the oldest first.
func (f *facts) past(on civil.Date) []decision.Proposal {
	var out []decision.Proposal
	for i := range f.reviews {
		r := &f.reviews[i]
		if r.Date >= on || on.DaysSince(r.Date) > 56 {
			continue
		}
		var kept Reviewed
		if json.Unmarshal(r.Proposal, &kept) == nil {
			out = append(out, kept.Proposal)
		}
	}
	return out
}
