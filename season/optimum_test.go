package season

import (
	"math"
	"slices"
	"testing"

	"glidepath/athlete"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"
)

// price flies efforts and adds up what a plan minimises, by the words of
// docs/engine.md section 4 and not by the solver's code: kg of lean, and the body
// fat at the end. Efforts over the limits are cut to them.
func price(p *Problem, efforts []float64, breaks []bool) (cost, pct float64) {
	s := p.State
	first := s.LeanKg
	since, last := p.DietWeeks%breakEvery, math.NaN()
	end := p.Show.Date.AddDays(-readyDays)
	for w, e := range efforts {
		from := p.AsOf.AddDays(7 * w)
		r := p.ranges(&s, from)
		greatest, _ := p.greatestEffort(&s, &r)
		e = math.Min(e, greatest)
		in := p.input(r.instruction(p, e))
		diet, rest := 0.0, 0
		for day := from; day < min(from.AddDays(7), end); day++ {
			if breaks != nil && breaks[w] || p.maintenanceDay(day) {
				p.hold(&s, day)
				rest++
				continue
			}
			p.Model.Step(&s, in)
			diet++
		}
		if diet > 0 {
			strain := 1 + float64(since)/40
			cost += 0.02 * diet / 7 * strain * e * e
			if !math.IsNaN(last) {
				cost += 0.2 * (e - last) * (e - last)
			}
			last = e
		}
		if since++; rest >= 4 {
			since, last = 0, math.NaN()
		}
	}
	return cost + first - s.LeanKg, bodyFatPct(&p.Model, &s)
}

// landed moves efforts together until they end on the target, and prices them;
// infinite where they cannot.
func landed(p *Problem, efforts []float64) float64 {
	moved := make([]float64, len(efforts))
	miss := func(by float64) (cost, over float64) {
		for w, e := range efforts {
			moved[w] = math.Max(0, math.Min(1, e+by))
		}
		cost, pct := price(p, moved, nil)
		return cost, pct - p.Show.TargetBodyFatPct
	}
	low, high := -1.0, 1.0
	if _, over := miss(high); over > 0.001 {
		return math.Inf(1)
	}
	for range 40 {
		mid := (low + high) / 2
		if _, over := miss(mid); over > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	cost, _ := miss(high)
	return cost
}

// solved is a diet of one athlete without breaks, and its own cost.
func solved(t failer, p *Problem) (*course, float64) {
	t.Helper()
	n := (p.Show.Date.AddDays(-readyDays).DaysSince(p.AsOf) + 6) / 7
	c := p.newCourse(p.State, p.AsOf, make([]bool, n), p.DietWeeks%breakEvery)
	if !c.optimise() {
		t.Fatalf("no plan lands")
	}
	cost, pct := price(p, c.efforts(), nil)
	if math.Abs(pct-p.Show.TargetBodyFatPct) > 0.01 {
		t.Fatalf("the plan ends at %.3f %%, target %.1f %%", pct, p.Show.TargetBodyFatPct)
	}
	if math.Abs(cost-c.cost()) > 1e-3 {
		t.Errorf("the plan says that it costs %.4f kg, priced by the test %.4f kg", c.cost(), cost)
	}
	return c, cost
}

func (c *course) efforts() []float64 {
	out := make([]float64, len(c.legs))
	for w := range out {
		out[w] = c.legs[w].effort
	}
	return out
}

func dieting(p Problem) Problem {
	p.Dieting = true
	return p
}

// The plan against brute force on the true dynamics: of every mix of five efforts
// over five weeks, the sixth whatever lands, and then of ever closer mixes about
// the best, none is cheaper by over 2 %.
func TestPlanAgainstBruteForce(t *testing.T) {
	for _, p := range []Problem{
		dieting(problem(athlete.Male, 84, 8.4, 6.5, 7)), // close to what fat supplies
		dieting(problem(athlete.Male, 84, 6.2, 5, 7)),
		dieting(problem(athlete.Female, 62, 17, 15, 7)),
		dieting(problem(athlete.Male, 100, 20, 18, 7)),
		dieting(problem(athlete.Male, 90, 10, 9, 7)), // with room to choose
		dieting(problem(athlete.Female, 64, 21, 19.7, 7)),
	} {
		c, cost := solved(t, &p)
		best := bruteForce(&p, len(c.legs))
		t.Logf("plan %.4f kg, brute force %.4f kg, efforts %.2f", cost, best, c.efforts())
		if cost > 1.02*best {
			t.Errorf("the plan costs %.4f kg, brute force finds %.4f kg", cost, best)
		}
		if best > 1.02*cost {
			t.Errorf("brute force finds %.4f kg, the plan costs %.4f kg: the grid says little", best, cost)
		}
	}
}

func bruteForce(p *Problem, weeks int) float64 {
	best := math.Inf(1)
	middle, efforts := make([]float64, weeks), make([]float64, weeks)
	var found []float64
	miss := func(x float64) (cost, over float64) {
		efforts[weeks-1] = x
		cost, pct := price(p, efforts, nil)
		return cost, pct - p.Show.TargetBodyFatPct
	}
	var try func(w, levels int, width float64)
	try = func(w, levels int, width float64) {
		if w < weeks-1 {
			for l := range levels {
				efforts[w] = middle[w] + width*(2*float64(l)/float64(levels-1)-1)
				if efforts[w] >= 0 && efforts[w] <= 1 {
					try(w+1, levels, width)
				}
			}
			return
		}
		_, low := miss(0)
		_, high := miss(1)
		if low < 0 || high > 0 {
			return
		}
		from, to := 0.0, 1.0
		x := low / (low - high)
		for range 16 { // what is missed falls with effort, not always smoothly
			_, over := miss(x)
			if over > 0 {
				from = x
			} else {
				to = x
			}
			if math.Abs(over) < 2e-4 {
				break
			}
			if x += over / (low - high); x <= from || x >= to {
				x = (from + to) / 2
			}
		}
		if cost, over := miss(x); math.Abs(over) < 5e-4 && cost < best {
			best, found = cost, slices.Clone(efforts)
		}
	}
	for w := range middle {
		middle[w] = 0.5
	}
	try(0, 5, 0.5)
	for width := 0.15; width > 0.01; width *= 0.7 {
		copy(middle, found)
		try(0, 3, width)
	}
	return best
}

// The plan against dynamic programming (Bellman 1957) on a reduced problem of two
// states, fat and the last week's effort, on grids much finer than a coach could
// ask for: a body that does not adapt, whose usual intake is the week's and whose
// lean follows from fat. Flown with the full dynamics and brought to the target, its policy costs
// no more than 2 % less than the plan.
func TestPlanAgainstFineDynamicProgramme(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Problem
	}{
		{"lean, with time", problem(athlete.Male, 84, 9, 5, 17)},
		{"tight", problem(athlete.Male, 92, 14, 5.5, 23)},
		{"a woman", problem(athlete.Female, 62, 21, 13, 26)},
		{"fat, with time", problem(athlete.Male, 100, 20, 9, 32)},
	} {
		p := dieting(c.p)
		p.Model.AdaptationGain = 0
		course, cost := solved(t, &p)
		even := landed(&p, make([]float64, len(course.legs)))
		dp := landed(&p, fineProgramme(&p, len(course.legs)))
		t.Logf("%s: plan %.4f kg, programme %.4f kg, even effort %.4f kg", c.name, cost, dp, even)
		if cost > 1.02*dp {
			t.Errorf("%s: the plan costs %.4f kg, dynamic programming finds %.4f kg", c.name, cost, dp)
		}
		if dp > 1.03*cost {
			t.Errorf("%s: dynamic programming finds %.4f kg, the plan costs %.4f kg: the grid says little", c.name, dp, cost)
		}
	}
}

// fineProgramme is the efforts that dynamic programming chooses.
func fineProgramme(p *Problem, weeks int) []float64 {
	const fats, efforts = 240, 81
	target := p.Show.TargetBodyFatPct / 100
	fatFree := p.Model.ReferenceFatFreeKg(&p.State)
	lean := func(fat float64) float64 {
		return fatFree - p.Model.Partition.LossScale*10.4*math.Log(p.State.FatKg/fat) // Forbes 1987, scaled
	}
	low := 0.9 * target * fatFree
	step := (p.State.FatKg*1.01 - low) / (fats - 1)
	at := func(v *[fats][efforts]float64, fat float64, j int) float64 {
		x := math.Max(0, math.Min(fats-1.001, (fat-low)/step))
		i := int(x)
		return v[i][j] + (x-float64(i))*(v[i+1][j]-v[i][j])
	}
	var next, cost, value, ahead [fats][efforts]float64
	for i := range fats {
		fat := low + float64(i)*step
		s := p.Model.Fresh(fat, lean(fat), 0)
		r := p.ranges(&s, p.AsOf)
		greatest, _ := p.greatestEffort(&s, &r)
		for j := range efforts {
			effort := float64(j) / (efforts - 1)
			in := r.instruction(p, effort)
			end := s
			end.AdaptationKcal = p.Model.AdaptationGain * (in.EnergyKcal - p.Model.IntakeBaselineKcal)
			end.IntakeMeanKcal = in.EnergyKcal
			p.Live(&end, in, 7)
			next[i][j], cost[i][j] = end.FatKg, s.LeanKg-end.LeanKg
			if effort > greatest {
				cost[i][j] = math.Inf(1)
			}
		}
		// A kg of fat too much is dearer than anything, and one too little is not free.
		value[i][0] = 40 * math.Max(0, fat-target/(1-target)*lean(fat))
		for j := range efforts {
			value[i][j] = value[i][0]
		}
	}
	policy := make([][fats][efforts]uint8, weeks)
	for w := weeks - 1; w >= 0; w-- {
		ahead = value
		hard := 0.02 * (1 + float64(p.DietWeeks%breakEvery+w)/40)
		var gone [fats][efforts]float64 // of a week at effort j, without the change to it
		for i := range fats {
			for j := range efforts {
				e := float64(j) / (efforts - 1)
				gone[i][j] = cost[i][j] + hard*e*e + at(&ahead, next[i][j], j)
			}
		}
		for i := range fats {
			for last := range efforts {
				best, by := math.Inf(1), 0
				for j := range efforts {
					d := float64(j-last) / (efforts - 1)
					v := gone[i][j] + 0.2*d*d
					if w == 0 {
						v = gone[i][j]
					}
					if v < best {
						best, by = v, j
					}
				}
				value[i][last], policy[w][i][last] = best, uint8(by)
			}
		}
	}
	out := make([]float64, weeks)
	s, last := p.State, 0
	for w := range out {
		i := int(math.Max(0, math.Min(fats-1, math.Round((s.FatKg-low)/step))))
		last = int(policy[w][i][last])
		out[w] = float64(last) / (efforts - 1)
		r := p.ranges(&s, p.AsOf)
		greatest, _ := p.greatestEffort(&s, &r)
		p.Live(&s, r.instruction(p, math.Min(out[w], greatest)), 7)
	}
	return out
}

// What the plan is for. A steady effort in a tight prep stays at the limit of what
// the last fat can supply (Alpert 2005), where the end of each week takes lean mass;
// going down faster while there is fat saves it. With time to spare both lose the
// same lean mass, and easing off as the diet wears on makes the plan less hard. Only
// what a plan can change is compared: lean lost beyond k 10.4 kg ln(F0/F1) (Forbes
// 1987, scaled), with hardship and changes.
func TestSteadyEffortCostsMore(t *testing.T) {
	for _, c := range []struct {
		name  string
		p     Problem
		lean  float64 // kg that the plan saves, at least
		share float64 // of what can be changed that a steady effort costs more, at least
	}{
		{"fat and tight", problem(athlete.Male, 92, 17, 5.5, 32), 0.1, 0.2},
		{"fat, with some time", problem(athlete.Male, 92, 17, 5.5, 40), 0.03, 0.1},
		{"lean, with plenty of time", problem(athlete.Male, 84, 9, 5, 25), -0.002, 0.01},
	} {
		p := dieting(c.p)
		plan, _ := solved(t, &p)
		steady := p.newCourse(p.State, p.AsOf, make([]bool, len(plan.legs)), 0)
		for w := range steady.legs {
			steady.work.toward[w] = 1
		}
		if !steady.land() {
			t.Fatal("no steady effort lands")
		}
		lost, byEven := plan.first.LeanKg-plan.end.LeanKg, steady.first.LeanKg-steady.end.LeanKg
		t.Logf("%s: %.3f kg of lean and %.4f kg that can be changed; with a steady effort %.3f and %.4f kg", c.name, lost, changeable(plan), byEven, changeable(steady))
		if byEven-lost < c.lean {
			t.Errorf("%s: %.3f kg of lean lost, %.3f kg with a steady effort", c.name, lost, byEven)
		}
		if changeable(steady) < (1+c.share)*changeable(plan) {
			t.Errorf("%s: what can be changed costs %.4f kg, with a steady effort %.4f kg", c.name, changeable(plan), changeable(steady))
		}
	}
}

// changeable is the cost of a course without the lean mass that every way loses.
func changeable(c *course) float64 {
	return c.cost() - c.p.Model.Partition.LossScale*10.4*math.Log(c.first.FatKg/c.end.FatKg)
}

// Nothing near a plan is cheaper: efforts pushed up and down over stretches of
// weeks, brought back to the target, cost as much or more.
func TestNothingNearIsCheaper(t *testing.T) {
	compared, dearer := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := dieter(t, 6, 34)
		c := p.newCourse(p.State, p.AsOf, make([]bool, int(p.weeksToShow(p.AsOf))-1), 0)
		if !c.optimise() {
			return
		}
		plan := c.efforts()
		cost := landed(&p, plan)
		for range 8 {
			near := slices.Clone(plan)
			a := rapid.IntRange(0, len(near)-1).Draw(t, "from")
			b := rapid.IntRange(a, len(near)-1).Draw(t, "to")
			by := rapid.SampledFrom([]float64{-0.2, -0.05, -0.02, 0.02, 0.05, 0.2}).Draw(t, "by")
			for w := a; w <= b; w++ {
				near[w] += by
			}
			other := landed(&p, near)
			if math.IsInf(other, 0) {
				continue
			}
			compared++
			if other > cost+1e-4 {
				dearer++
			}
			if other < cost-0.003-0.003*cost {
				t.Errorf("the plan costs %.4f kg; with weeks %d to %d at %+.2f it costs %.4f kg: %.2f", cost, a+1, b+1, by, other, plan)
			}
		}
	})
	if compared < 200 || dearer < compared/3 {
		t.Errorf("%d compared, %d dearer: the test says little", compared, dearer)
	}
}

// A coach has to prescribe it: from one week of a diet to the next the effort moves
// little, unless a limit moves it.
func TestPlanIsSmooth(t *testing.T) {
	most := 0.0
	rapid.Check(t, func(t *rapid.T) {
		p := dieter(t, 6, 40)
		p.DietWeeks = rapid.IntRange(0, 20).Draw(t, "diet weeks")
		m := Solve(p).Map
		if !m.Lands {
			return
		}
		last := math.NaN()
		turns, way := 0, 0.0
		for w := range m.diet.effort {
			if m.diet.breaks[w] {
				last = math.NaN()
				continue
			}
			e := m.diet.effort[w]
			if d := e - last; !math.IsNaN(d) && math.Abs(d) > 0.01 {
				most = math.Max(most, math.Abs(d))
				if d*way < 0 {
					turns++
				}
				way = d
			}
			last = e
		}
		if turns > 3 {
			t.Errorf("the effort turns %d times: %.2f", turns, m.diet.effort)
		}
	})
	if most > 0.2 {
		t.Errorf("the effort moves by %.2f of all levers in a week", most)
	}
	t.Logf("most change in a week %.3f", most)
}

// Made anew each week by an athlete who follows it, the plan is the rest of the
// plan.
func TestPlanKeepsItsWord(t *testing.T) {
	for _, p := range []Problem{
		problem(athlete.Male, 92, 17, 5.5, 36), problem(athlete.Male, 84, 9, 5, 20),
		problem(athlete.Female, 62, 21, 13, 26), problem(athlete.Male, 92, 14, 5.5, 23),
	} {
		p = dieting(p)
		first := Solve(p).Map
		for week := 1; week < 12; week++ {
			m := Solve(p).Map
			p.Live(&p.State, m.Weeks[0].Asked, 7)
			p.AsOf += 7
			p.DietWeeks++
			p.BodyFat.Mean = bodyFatPct(&p.Model, &p.State)
			if p.Standing = &m.Weeks[0].Asked; m.Weeks[0].DietBreak {
				p.Standing = nil
			}
			for w, e := range Solve(p).Map.diet.effort {
				near := 0.08 // of what a coach is about to prescribe, where one lever hands over to the next; the optimum is flat further on
				if w >= 4 {
					near = 0.1
				}
				if d := e - first.diet.effort[week+w]; math.Abs(d) > near {
					t.Fatalf("after %d weeks, week %d: effort %.3f, first planned %.3f", week, week+w+1, e, first.diet.effort[week+w])
				}
			}
		}
	}
}

// The levers of a week are drawn as the linear programme of least cost draws them,
// the cost of a kcal rising from stretch to stretch: min c'x, k'x = deficit,
// 0 <= x <= 1, solved by the simplex method of gonum.
func TestLeversAgainstLinearProgramme(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		r := p.ranges(&p.State, p.AsOf)
		if r.total < 1 {
			t.Skip("no levers")
		}
		effort := rapid.Float64Range(0, 1).Draw(t, "effort")
		c := make([]float64, 2*stretches) // shares of the stretches, then what is left of each
		a := mat.NewDense(stretches+1, 2*stretches, nil)
		b := make([]float64, stretches+1)
		b[0] = effort * r.total / 1000
		for i, k := range r.kcal {
			c[i] = float64(i+1) * k / 1000
			a.Set(0, i, k/1000)
			a.Set(i+1, i, 1)
			a.Set(i+1, stretches+i, 1)
			b[i+1] = 1
		}
		_, x, err := lp.Simplex(c, a, b, 1e-10, nil)
		if err != nil {
			t.Skip("degenerate: ", err)
		}
		food := 0.45*x[0] + 0.30*x[3] + 0.25*x[6]
		want := Instruction{
			EnergyKcal:    r.maintain - food*r.food - x[7]*r.pays,
			StepsPerDay:   p.Levers.StepsNow + r.steps*(x[2]+x[4])/2,
			CardioMinutes: min(p.Levers.CardioHabit, p.Levers.CardioNow) + (1-x[7])*(r.stands*x[1]+r.cardio*x[5]),
		}
		got := r.instruction(&p, effort)
		if math.Abs(got.EnergyKcal-want.EnergyKcal) > 0.1 ||
			r.steps*r.kcal[2] > 0 && math.Abs(got.StepsPerDay-want.StepsPerDay) > 1 ||
			r.kcal[5] > 0 && math.Abs(got.CardioMinutes-want.CardioMinutes) > 0.1 {
			t.Errorf("effort %.3f asks %+v, the linear programme %+v", effort, got, want)
		}
	})
}

// The greatest deficit of a day within the floor of energy availability, as a linear
// programme: max food + y k s + y h m over the cut of food, steps s and minutes m of
// cardio, where the food that is left must carry the floor and the cardio. All
// levers at their limits bring what it finds: no cardio, which costs the floor more
// than it brings.
func TestGreatestDeficitAgainstLinearProgramme(t *testing.T) {
	for _, p := range []Problem{
		problem(athlete.Male, 92, 14, 5.5, 26), problem(athlete.Female, 62, 21, 13, 26), problem(athlete.Female, 54, 24, 13, 26),
	} {
		p.short = true
		s := p.State
		weight := tissueKg(&p.Model, &s)
		y := p.Model.ActivityYield
		step, minute := p.Levers.StepKcalPerKg*weight, p.Levers.CardioKcalPerKgMin*weight/7
		floor := p.floorKcal(&s, p.AsOf, 0)
		maintain := p.maintainKcal(&s, Instruction{StepsPerDay: p.Levers.StepsNow})
		// cut, steps, minutes, and a slack for each limit
		c := []float64{-1, -y * step, -y * minute, 0, 0, 0}
		a := mat.NewDense(3, 6, []float64{
			1, 0, minute, 1, 0, 0, // food and cardio keep the floor
			0, 1, 0, 0, 1, 0,
			0, 0, 1, 0, 0, 1,
		})
		b := []float64{maintain - floor, p.Levers.StepsMax - p.Levers.StepsNow, p.Levers.CardioMax / 2}
		best, x, err := lp.Simplex(c, a, b, 1e-9, nil)
		if err != nil {
			t.Fatal(err)
		}
		r := p.ranges(&s, p.AsOf)
		t.Logf("all levers bring %.0f kcal a day, the linear programme %.0f with %.0f minutes of cardio", r.total, -best, x[2])
		if r.total > -best+0.1 {
			t.Errorf("all levers bring %.1f kcal a day, more than the %.1f that are possible", r.total, -best)
		}
		if r.total < -best-0.1 || x[2] > 0 {
			t.Errorf("all levers bring %.1f kcal a day of %.1f that are possible with %.0f minutes of cardio", r.total, -best, x[2])
		}
	}
}
