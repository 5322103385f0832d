package season

import (
	"math"
	"sort"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
	"glidepath/numeric"
)

// descent is a way down at a share of the fastest permitted pace, day by day.
type descent struct {
	fat, fatFree []float64 // kg, each morning
	bind         []Bind    // what holds each week back
	arrived      bool
}

// longestDescent bounds a descent in days; what takes longer is no season.
const longestDescent = 7 * 120

// descend runs from a state until body fat is down to a per cent or a number
// of days has passed, without regard to the calendar.
func (p *Problem) descend(s dynamics.State, pace, toPct float64, days int) descent {
	var d descent
	var input dynamics.Input
	for day := 0; ; day++ {
		d.fat = append(d.fat, s.FatKg)
		d.fatFree = append(d.fatFree, p.Model.ReferenceFatFreeKg(&s))
		if bodyFatPct(&p.Model, &s) <= toPct {
			d.arrived = true
			return d
		}
		if day == days {
			return d
		}
		if day%7 == 0 {
			r := p.ranges(&s, p.AsOf)
			effort, bind := p.greatestEffort(&s, &r)
			input = p.input(r.instruction(p, pace*effort))
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
	// their adaptation today is not that of a descent under way.
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
	high := math.Max(1.45*fat, fat+8)
	k := p.Model.Partition.LossScale
	start := fatFree + k*dynamics.ForbesKg*math.Log(high/fat)
	var d descent
	for range 3 {
		s := p.Model.Fresh(high, start, 0)
		d = p.descend(s, 1, p.Show.TargetBodyFatPct, longestDescent)
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
	last := len(d.fat) - 1
	if !d.arrived {
		return longestDescent
	}
	if fatKg <= d.fat[last] {
		return 0
	}
	return float64(last) - d.at(fatKg)
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
	last := len(c.fastest.fat) - 1
	remaining := p.dietDays(p.AsOf)
	if c.fastest.arrived {
		if own := p.descend(p.State, 1, p.Show.TargetBodyFatPct, longestDescent); own.arrived {
			c.ahead = c.fastest.needDays(p.State.FatKg) - float64(len(own.fat)-1)
		}
	}
	unknown := numeric.OrNull(math.NaN())
	var input dynamics.Input
	for day := 0; day <= days; day++ {
		on := p.AsOf.AddDays(day)
		cd := CorridorDay{Date: on, UpperKg: unknown, UpperPct: unknown}
		if at := last - remaining - int(math.Round(c.ahead)); c.fastest.arrived && at >= 0 && at <= last {
			kg := c.fastest.fat[at] + c.fastest.fatFree[at]
			cd.UpperKg, cd.UpperPct = numeric.OrNull(kg), numeric.OrNull(100*c.fastest.fat[at]/kg)
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
			p.hold(&s)
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

// needDays is how long the athlete takes from a fat mass, as they are today.
func (c *Corridor) needDays(fatKg float64) float64 {
	if !c.fastest.arrived {
		return longestDescent
	}
	return math.Max(0, c.fastest.needDays(fatKg)-c.ahead)
}

// hold keeps fat and lean for a day while glycogen, fluid and adaptation live.
func (p *Problem) hold(s *dynamics.State) {
	fat, lean := s.FatKg, s.LeanKg
	activity := p.Levers.ActivityKcalPerKg(Instruction{StepsPerDay: p.Levers.StepsNow, CardioMinutes: p.Levers.CardioNow})
	kcal := p.Model.BalanceKcal(s, activity)
	p.Model.Step(s, dynamics.Input{EnergyKcal: kcal, CarbohydrateKcal: p.CarbohydrateShare * kcal, ActivityKcalPerKg: activity})
	s.FatKg, s.LeanKg = fat, lean
}

// span carries the uncertainty of body fat through a function of fat mass.
func (p *Problem) span(f func(fatKg float64) float64) Span {
	const z90 = 1.6448536269514722
	weight := tissueKg(&p.Model, &p.State)
	at := func(z float64) float64 {
		return f(math.Max(1, (p.BodyFat.Mean+z*p.BodyFat.SD)/100*weight))
	}
	s := Span{f(p.State.FatKg), at(-z90), at(z90)}
	if s.Low > s.High {
		s.Low, s.High = s.High, s.Low
	}
	return s
}
