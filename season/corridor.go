package season

import (
	"math"
	"sort"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
	"glidepath/numeric"
)

// descent is a way down at the fastest permitted pace, day by day.
type descent struct {
	fat, fatFree []float64 // kg, each morning
	bind         []Bind    // what holds each week back
	arrived      bool
	spare        float64 // part of the last day that was not needed
}

// longestDescent bounds a descent in days; what takes longer is no season.
const longestDescent = 7 * 120

// usualDescent is how many days most descents need no more than.
const usualDescent = 7 * 60

// descend is the fastest permitted way from a state to the target, a deficit on
// every day, given up after longestDescent. Limits are those of the days from a
// date on, or, from noDate, those that always stand.
func (p *Problem) descend(s dynamics.State, from civil.Date) descent {
	d := descent{fat: make([]float64, 0, usualDescent), fatFree: make([]float64, 0, usualDescent)}
	var input dynamics.Input
	before := math.Inf(1)
	for day := 0; ; day++ {
		d.fat = append(d.fat, s.FatKg)
		d.fatFree = append(d.fatFree, p.Model.ReferenceFatFreeKg(&s))
		under := p.Show.TargetBodyFatPct - bodyFatPct(&p.Model, &s)
		if under >= 0 {
			d.arrived = true
			if day > 0 {
				d.spare = under / (under + before)
			}
			return d
		}
		before = -under
		if day == longestDescent {
			return d
		}
		if day%7 == 0 {
			on := from
			if on != noDate {
				on = from.AddDays(day)
			}
			r := p.ranges(&s, on)
			effort, bind := p.greatestEffort(&s, &r)
			input = p.input(r.instruction(p, effort))
			d.bind = append(d.bind, bind)
		}
		p.Model.Step(&s, input)
	}
}

// Corridor is the room between the two edges, by date.
//
// The upper edge is the backward-reachable set of the target: on each day the
// fattest state of this athlete from which the fastest permitted descent still
// arrives. The fastest descents from fatter and leaner states run through the
// same states one after another, so one of them, begun far above and shifted in
// time by the days on which a deficit may be planned, is the edge for every
// date. The lower edge is forward reachability: the fastest permitted descent
// from today.
type Corridor struct {
	Days []CorridorDay `json:"days"`
	// SlackWeeks is how long the athlete could stay at maintenance and still
	// arrive; negative is how much time is missing.
	SlackWeeks Span `json:"slack_weeks"`
	// FastestWeeks is how long the fastest permitted descent takes from here.
	FastestWeeks Span `json:"fastest_weeks"`

	fastest descent // from far above, through today's state, to the target
	// ahead is how many days sooner than fastest the athlete gets there, because
	// their adaptation today is not that of a descent under way, or a leave from
	// a limit is in force.
	ahead float64
}

// Span is a value with its 90 % range.
type Span struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low_90"`
	High  float64 `json:"high_90"`
}

// CorridorDay is the corridor on a morning. The upper edge is unknown where it
// lies far above today's state.
type CorridorDay struct {
	Date     civil.Date     `json:"date"`
	UpperKg  numeric.OrNull `json:"upper_kg"`
	LowerKg  float64        `json:"lower_kg"`
	UpperPct numeric.OrNull `json:"upper_body_fat_pct"`
	LowerPct float64        `json:"lower_body_fat_pct"`
}

// fastestThrough is the fastest descent to the target that passes through the
// athlete's present fat and fat-free mass, begun well above them.
func (p *Problem) fastestThrough() descent {
	fat, fatFree := p.State.FatKg, p.Model.ReferenceFatFreeKg(&p.State)
	// Well above is above all that the fat may be, too.
	high := math.Max(1.45*fat, math.Max(fat+8, p.fatAt(z95)+1))
	k := p.Model.Partition.LossScale
	start := fatFree + k*dynamics.ForbesKg*math.Log(high/fat)
	var d descent
	for range 3 {
		s := p.Model.Fresh(high, start, 0)
		d = p.descend(s, noDate)
		at := d.at(fat)
		if math.IsNaN(at) {
			return d
		}
		gap := fatFree - interpolate(d.fatFree, at)
		start += gap
		if math.Abs(gap) < 0.02 {
			break
		}
	}
	return d
}

// at is the day, with its fraction, on which the descent has a fat mass; NaN
// where it never has.
func (d *descent) at(fatKg float64) float64 {
	n := len(d.fat)
	i := sort.Search(n, func(i int) bool { return d.fat[i] <= fatKg })
	if i == n {
		return math.NaN()
	}
	if i == 0 {
		return 0
	}
	return float64(i) - (fatKg-d.fat[i])/(d.fat[i-1]-d.fat[i])
}

// needDays is how many days of fastest descent lie between a fat mass and the
// target; longestDescent where the descent never gets there.
func (d *descent) needDays(fatKg float64) float64 {
	if !d.arrived {
		return longestDescent
	}
	at := d.at(fatKg)
	if math.IsNaN(at) {
		return 0
	}
	return math.Max(0, d.days()-at)
}

// edgeDays is how long before its end the descent comes under a body fat, per cent.
func (d *descent) edgeDays(pct float64) float64 {
	i := sort.Search(len(d.fat), func(i int) bool { return 100*d.fat[i]/(d.fat[i]+d.fatFree[i]) <= pct })
	return float64(max(0, len(d.fat)-1-i))
}

// days is how long the descent takes.
func (d *descent) days() float64 {
	if !d.arrived {
		return longestDescent
	}
	return float64(len(d.fat)-1) - d.spare
}

func interpolate(v []float64, at float64) float64 {
	i := int(at)
	if i >= len(v)-1 {
		return v[len(v)-1]
	}
	return v[i] + (at-float64(i))*(v[i+1]-v[i])
}

// corridor computes both edges from AsOf to the show, and the slack.
func (p *Problem) corridor() Corridor {
	c := Corridor{fastest: p.fastestThrough()}
	floor := math.Max(p.Show.TargetBodyFatPct-p.Show.Tolerance(), athlete.BodyFatFloorPct(p.Sex))
	days := p.Show.Date.DaysSince(p.AsOf)
	s := p.State
	remaining := p.dietDays(p.AsOf)
	if c.fastest.arrived {
		if own := p.descend(p.State, p.AsOf); own.arrived {
			c.ahead = c.fastest.needDays(p.State.FatKg) - own.days()
		}
	}
	unknown := numeric.OrNull(math.NaN())
	var input dynamics.Input
	c.Days = make([]CorridorDay, 0, days+1)
	for day := 0; day <= days; day++ {
		on := p.AsOf.AddDays(day)
		cd := CorridorDay{Date: on, UpperKg: unknown, UpperPct: unknown}
		if at := c.fastest.days() - float64(remaining) - c.aheadAfter(p, day); c.fastest.arrived && at >= 0 {
			fat, fatFree := interpolate(c.fastest.fat, at), interpolate(c.fastest.fatFree, at)
			cd.UpperPct = numeric.OrNull(100 * fat / (fat + fatFree))
		}
		cd.LowerKg, cd.LowerPct = tissueKg(&p.Model, &s), bodyFatPct(&p.Model, &s)
		c.Days = append(c.Days, cd)
		if day%7 == 0 {
			r := p.ranges(&s, on)
			effort, _ := p.greatestEffort(&s, &r)
			input = p.input(r.instruction(p, effort))
		}
		switch rest := p.maintenanceDay(on); {
		case rest || cd.LowerPct <= floor:
			p.hold(&s, on)
		default:
			p.Model.Step(&s, input)
		}
		if !p.maintenanceDay(on) {
			remaining--
		}
	}
	c.FastestWeeks = p.span(func(fat float64) float64 { return c.needDays(fat) / 7 })
	available := float64(p.dietDays(p.AsOf)) / 7
	c.SlackWeeks = p.span(func(fat float64) float64 { return available - c.needDays(fat)/7 })
	return c
}

// aheadAfter is ahead so many days later: what sets the athlete apart from a
// descent under way wears off as their adaptation does.
func (c *Corridor) aheadAfter(p *Problem, days int) float64 {
	return c.ahead * math.Exp(-float64(days)/p.Model.AdaptationDays)
}

// weigh puts the upper edge in kg: the weight of that body fat on the lean mass
// that the athlete has by the plan.
func (c *Corridor) weigh(path []PathDay) {
	for i := range c.Days {
		d := &c.Days[i]
		d.UpperKg = numeric.OrNull(path[i].FatFreeKg / (1 - float64(d.UpperPct)/100))
	}
}

// needDays is how long the athlete takes from a fat mass, as they are today.
func (c *Corridor) needDays(fatKg float64) float64 {
	if !c.fastest.arrived {
		return longestDescent
	}
	return math.Max(0, c.fastest.needDays(fatKg)-c.ahead)
}

// hold keeps fat and lean for a day while glycogen, fluid and adaptation live.
func (p *Problem) hold(s *dynamics.State, on civil.Date) {
	fat, lean := s.FatKg, s.LeanKg
	p.Model.Step(s, p.input(p.holding(s, on)))
	s.FatKg, s.LeanKg = fat, lean
}

// holding is the instruction of a day at maintenance: today's activity, and
// what a body with today's adaptation spends on it, or the floor.
func (p *Problem) holding(s *dynamics.State, on civil.Date) Instruction {
	in := Instruction{StepsPerDay: p.Levers.StepsNow, CardioMinutes: p.Levers.CardioNow}
	in.EnergyKcal = math.Max(p.Model.BalanceKcal(s, p.Levers.ActivityKcalPerKg(in)), p.floorKcal(s, on, in.CardioMinutes))
	return in
}

// span carries the uncertainty of body fat through a function of fat mass.
func (p *Problem) span(f func(fatKg float64) float64) Span {
	s := Span{f(p.State.FatKg), f(p.fatAt(-z95)), f(p.fatAt(z95))}
	if s.Low > s.High {
		s.Low, s.High = s.High, s.Low
	}
	return s
}

// z95 is the 95th percentile of a standard normal distribution.
const z95 = 1.6448536269514722

// fatAt is the fat mass so many SDs from the mean of what is known of it, kg.
func (p *Problem) fatAt(z float64) float64 {
	pct := p.BodyFat.Mean + z*p.BodyFat.SD
	return math.Max(1, pct/100*tissueKg(&p.Model, &p.State))
}

// clampIndex puts a day that a descent never has at its end.
func clampIndex(at float64, n int) float64 {
	if math.IsNaN(at) {
		return float64(n - 1)
	}
	return at
}
