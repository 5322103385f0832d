package season

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
)

// The plan of a diet is optimal control: choose each week's effort so that the
// target stands when the peak week begins, with the least expected loss of lean
// mass and then the least hardship, inside every limit. It is solved by dynamic
// programming (Bellman 1957) over fat mass, with the week's transition and cost
// taken from the dynamics, and then flown with the full state and one scalar
// correction so that it lands.

// hardshipKg weighs a week at full effort against kg of lean mass lost: the
// price at which comfort is bought with muscle (judgement; a setting for later
// is whoever coaches). It grows with the square of effort, which spreads effort
// evenly.
const hardshipKg = 0.02

const (
	gridFat    = 90
	gridEffort = 20
)

// table holds the week's transitions over a grid of fat mass.
type table struct {
	low, step float64
	next      [gridFat][gridEffort + 1]float64 // fat after the week
	cost      [gridFat][gridEffort + 1]float64
	effort    [gridFat]float64 // the greatest permitted
}

func (p *Problem) table(fastest *descent, low, high float64) *table {
	t := &table{low: low, step: (high - low) / (gridFat - 1)}
	for i := range gridFat {
		fat := low + float64(i)*t.step
		fatFree := interpolate(fastest.fatFree, clampIndex(fastest.at(fat), len(fastest.fat)))
		s := p.Model.Fresh(fat, fatFree, 0)
		r := p.ranges(&s, p.AsOf)
		t.effort[i], _ = p.greatestEffort(&s, &r)
		for j := range gridEffort + 1 {
			effort := t.effort[i] * float64(j) / gridEffort
			in := r.instruction(p, effort)
			end := s
			end.AdaptationKcal = p.Model.AdaptationGain * (in.EnergyKcal - p.Model.IntakeBaselineKcal)
			end.IntakeMeanKcal = in.EnergyKcal
			p.Live(&end, in, 7)
			lost := fatFree - p.Model.ReferenceFatFreeKg(&end)
			t.next[i][j] = end.FatKg
			t.cost[i][j] = math.Max(0, lost) + hardshipKg*effort*effort
		}
	}
	return t
}

func clampIndex(at float64, n int) float64 {
	if math.IsNaN(at) {
		return float64(n - 1)
	}
	return at
}

// value interpolates a value function over fat; below the grid it is flat,
// above it goes on as steep as it ends.
func (t *table) value(v *[gridFat]float64, fat float64) float64 {
	at := (fat - t.low) / t.step
	if at <= 0 {
		return v[0]
	}
	i := min(int(at), gridFat-2)
	return v[i] + (at-float64(i))*(v[i+1]-v[i])
}

// policy is the effort, as a share of the greatest permitted, by week and fat.
func (t *table) policy(weeks []bool, target float64) [][gridFat]float64 {
	var value, next [gridFat]float64
	const missed = 40.0 // kg of lean for a kg of fat too much at the end
	for i := range value {
		if over := t.low + float64(i)*t.step - target; over > 0 {
			value[i] = missed * over
		}
	}
	out := make([][gridFat]float64, len(weeks))
	for w := len(weeks) - 1; w >= 0; w-- {
		next = value
		for i := range gridFat {
			if weeks[w] {
				value[i] = t.cost[i][0] + t.value(&next, t.next[i][0])
				continue
			}
			best, at := math.Inf(1), 0
			for j := range gridEffort + 1 {
				if c := t.cost[i][j] + t.value(&next, t.next[i][j]); c < best {
					best, at = c, j
				}
			}
			value[i] = best
			out[w][i] = float64(at) / gridEffort
		}
	}
	return out
}

// dietPlan chooses the efforts of the weeks from a date to the peak week.
type dietPlan struct {
	from   civil.Date
	breaks []bool    // a diet break, by week
	effort []float64 // share of the greatest permitted, by week
	lands  bool
}

// diet plans from a state on a date. Weeks are counted from that date; the last
// one may be short.
func (p *Problem) diet(s dynamics.State, from civil.Date, fastest *descent) dietPlan {
	end := p.Show.Date.AddDays(-readyDays)
	n := max(0, (end.DaysSince(from)+6)/7)
	d := dietPlan{from: from, breaks: make([]bool, n), effort: make([]float64, n)}
	if n == 0 {
		d.lands = bodyFatPct(&p.Model, &s) <= p.Show.TargetBodyFatPct+notTold
		return d
	}
	p.placeBreaks(&d, s.FatKg, fastest)
	target := fastest.fat[len(fastest.fat)-1]
	t := p.table(fastest, 0.9*target, math.Max(s.FatKg, target)*1.03+0.5)
	blocked := make([]bool, n)
	for w := range blocked {
		blocked[w] = d.breaks[w] || p.mostlyMaintenance(from.AddDays(7*w))
	}
	policy := t.policy(blocked, target)
	state := s
	for w := range d.effort {
		d.effort[w] = t.value(&policy[w], state.FatKg)
		p.flyWeek(&state, &d, w, d.effort[w], end)
	}
	smooth(d.effort, blocked)
	d.lands = p.land(s, &d, end)
	return d
}

func (p *Problem) mostlyMaintenance(from civil.Date) bool {
	n := 0
	for i := range 7 {
		if p.maintenanceDay(from.AddDays(i)) {
			n++
		}
	}
	return n >= 4
}

// smooth averages each effort with its neighbours, twice, so that the grid's
// stairs do not become changes of prescription.
func smooth(effort []float64, blocked []bool) {
	for range 2 {
		last := math.NaN()
		for w := range effort {
			if blocked[w] {
				continue
			}
			sum, n, here := effort[w]*2, 2.0, effort[w]
			if !math.IsNaN(last) {
				sum, n = sum+last, n+1
			}
			for v := w + 1; v < len(effort); v++ {
				if !blocked[v] {
					sum, n = sum+effort[v], n+1
					break
				}
			}
			last = here
			effort[w] = sum / n
		}
	}
}

// land scales the efforts until the path ends on target; false where even the
// greatest permitted effort does not get there.
func (p *Problem) land(s dynamics.State, d *dietPlan, end civil.Date) bool {
	shape := append([]float64(nil), d.effort...)
	for w := range shape {
		shape[w] = math.Max(shape[w], 0.02)
	}
	miss := func(factor float64) float64 {
		state := s
		for w := range shape {
			d.effort[w] = math.Min(1, factor*shape[w])
			p.flyWeek(&state, d, w, d.effort[w], end)
		}
		return bodyFatPct(&p.Model, &state) - p.Show.TargetBodyFatPct
	}
	const most = 60.0
	if miss(most) > notTold {
		return false
	}
	low, high := 0.0, 1.0
	if miss(1) > 0 {
		low = 1
		for high = 2; high < most && miss(high) > 0; high *= 2 {
			low = high
		}
	}
	for range 40 {
		mid := (low + high) / 2
		v := miss(mid)
		if math.Abs(v) < 0.005 {
			return true
		}
		if v > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	miss(high)
	return true
}

// flyWeek lives one week of the plan.
func (p *Problem) flyWeek(s *dynamics.State, d *dietPlan, w int, share float64, end civil.Date) {
	from := d.from.AddDays(7 * w)
	r := p.ranges(s, from)
	greatest, _ := p.greatestEffort(s, &r)
	input := p.input(r.instruction(p, share*greatest))
	for day := from; day < from.AddDays(7) && day < end; day++ {
		if d.breaks[w] || p.maintenanceDay(day) {
			p.hold(s, day)
			continue
		}
		p.Model.Step(s, input)
	}
}

// Diet breaks are a week at maintenance for comfort and adherence: in lean
// lifters they save neither lean mass nor resting expenditure (Peos et al. 2021,
// MSSE 53:1685), so they are planned only where there is time to spare, at most
// one in nine weeks of a diet of twelve or more, never in the last four.
const (
	breakEvery   = 9
	breakMinimum = 12
	breakLast    = 4
	breakPace    = 0.85
)

func (p *Problem) placeBreaks(d *dietPlan, fatKg float64, fastest *descent) {
	// Counted from the diet's beginning, so that a break stays where it is when
	// the plan is made anew each week.
	done := 0
	if p.Dieting && d.from == p.AsOf {
		done = p.DietWeeks
	}
	n := len(d.breaks)
	if done+n < breakMinimum {
		return
	}
	spare := float64(p.dietDays(d.from)) - fastest.needDays(fatKg)/breakPace
	for w := range n - breakLast {
		if (done+w+1)%breakEvery == 0 && spare >= 7 {
			d.breaks[w] = true
			spare -= 7
		}
	}
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
