package season

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
)

// Start is a week in which the prep could begin, and what it would come to.
type Start struct {
	Date             civil.Date `json:"date"`
	WeeksOut         float64    `json:"weeks_out"`
	Lands            bool       `json:"lands"`
	LowestEnergyKcal float64    `json:"lowest_energy_kcal"` // of a week of the diet, a day
	MostCardio       float64    `json:"most_cardio_minutes"`
	LeanLostKg       float64    `json:"lean_lost_kg"` // from today to the stage; what an off-season gains first is taken off
	RatePct          float64    `json:"rate_pct"`     // mean of the diet, % of body weight a week
	SlackWeeks       float64    `json:"slack_weeks"`  // left on that day
	// Dominated: another start that lands is no earlier, asks no less food and
	// loses no more lean, and is better in one of them.
	Dominated bool `json:"dominated,omitempty"`
	Chosen    bool `json:"chosen,omitempty"` // by the map
}

// frontierStarts is about how many starts are tried: more would tell no more.
const frontierStarts = 12

// frontier tries starts from today, or from the end of a pre-prep diet, to the
// first that comes too late; none for somebody who has begun.
func (p *Problem) frontier(c *Corridor, m *Map) []Start {
	if p.Dieting || m.Start.IsZero() {
		return nil
	}
	f := p.flight()
	first := p.Model.ReferenceFatFreeKg(&f.s)
	for i := range m.Weeks {
		if m.Weeks[i].Phase == athlete.PrePrep {
			p.prePrepWeek(&f.s, f.on)
			f.on = f.on.AddDays(7)
		}
	}
	weeks := 0
	for g := f.branch(); ; weeks++ {
		if g.on >= m.Start && g.slackWeeks(c) < 0 || p.dietDays(g.on) <= 14 {
			break
		}
		g.between(g.on.AddDays(7), m.gain)
	}
	stride := 1 + weeks/frontierStarts
	var out []Start
	for w := 0; w <= weeks; w++ {
		if (m.Start.DaysSince(f.on)/7%stride == 0 || w == weeks) && p.dietDays(f.on) > 7 {
			var known *dietPlan
			if f.on == m.Start {
				known = &m.diet
			}
			s := f.start(c, first, known)
			s.Chosen = known != nil
			out = append(out, s)
		}
		f.between(f.on.AddDays(7), m.gain)
	}
	for i := range out {
		for j := range out {
			out[i].Dominated = out[i].Dominated || out[i].Lands && out[j].dominates(&out[i])
		}
	}
	return out
}

// start plans a diet from where a flight is, or takes the one that is known.
func (f *flight) start(c *Corridor, firstFatFree float64, known *dietPlan) Start {
	g := f.branch()
	own := g.p
	from := tissueKg(&own.Model, &g.s)
	if known == nil {
		known = new(own.diet(g.s, g.on, &c.fastest, roughly))
	}
	g.diet(known)
	weeks := float64(g.on.DaysSince(f.on)) / 7
	st := g.stage(firstFatFree)
	return Start{
		Date: f.on, WeeksOut: own.weeksToShow(f.on), Lands: known.lands,
		LowestEnergyKcal: st.LowestEnergyKcal, MostCardio: st.MostCardio, LeanLostKg: st.LeanLostKg,
		RatePct: meanRate(from, st.WeightKg, weeks), SlackWeeks: f.slackWeeks(c),
	}
}

// slackWeeks is how long a flight could go on as it does before it were too late.
func (f *flight) slackWeeks(c *Corridor) float64 {
	need := math.Max(0, c.fastest.needDays(f.s.FatKg)-c.aheadAfter(f.p, f.on.DaysSince(f.p.AsOf)))
	return (float64(f.p.dietDays(f.on)) - need) / 7
}

// dominates compares starts that differ by more than nobody could tell.
func (s *Start) dominates(o *Start) bool {
	const kcal, kg = 1.0, 0.005
	return s.Lands && s.Date >= o.Date && s.LowestEnergyKcal >= o.LowestEnergyKcal-kcal && s.LeanLostKg <= o.LeanLostKg+kg &&
		(s.Date > o.Date || s.LowestEnergyKcal > o.LowestEnergyKcal+kcal || s.LeanLostKg < o.LeanLostKg-kg)
}

// startOn finds the start on a date.
func startOn(all []Start, on civil.Date) (Start, bool) {
	for i := range all {
		if all[i].Date == on {
			return all[i], true
		}
	}
	return Start{}, false
}
