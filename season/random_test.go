package season

import (
	"math"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"

	"pgregory.net/rapid"
)

// Tolerances of the plan: a step of the solver, not a promise to an athlete.
const (
	rateSlack  = 1.02 // on the permitted rate
	landsPct   = 0.06 // points of body fat
	corridorKg = 0.10
)

// randomProblem draws an invented athlete and season: both sexes, wide in size,
// leanness, appetite of the body, levers, events and time.
func randomProblem(t *rapid.T) Problem {
	sex := rapid.SampledFrom([]athlete.Sex{athlete.Female, athlete.Male}).Draw(t, "sex")
	lean := rapid.Float64Range(38, 60).Draw(t, "lean")
	target := rapid.Float64Range(10, 18).Draw(t, "target")
	if sex == athlete.Male {
		lean = rapid.Float64Range(55, 95).Draw(t, "lean of a man")
		target = rapid.Float64Range(4, 9).Draw(t, "target of a man")
	}
	fat := target + rapid.Float64Range(-1, 16).Draw(t, "above target")
	weeks := rapid.IntRange(0, 60).Draw(t, "weeks")
	p := problem(sex, lean/(1-fat/100), fat, target, weeks)
	p.Show.Date = p.Show.Date.AddDays(rapid.IntRange(0, 6).Draw(t, "days"))
	p.BodyFat.SD = rapid.Float64Range(0.3, 6).Draw(t, "sd")
	// A body that spends less or more than the equations say.
	p.Model.RestKcal += rapid.Float64Range(-350, 400).Draw(t, "offset")
	p.Model.ActivityYield = rapid.Float64Range(0.5, 1).Draw(t, "yield")
	p.Levers.StepsMax = p.Levers.StepsNow + rapid.SampledFrom([]float64{0, 3000, 8000}).Draw(t, "more steps")
	p.Levers.CardioNow = rapid.SampledFrom([]float64{0, 60}).Draw(t, "cardio now")
	p.Levers.StepsHabit = rapid.SampledFrom([]float64{0, 4000, 9000}).Draw(t, "steps habit")
	p.Levers.CardioHabit = rapid.SampledFrom([]float64{0, 40}).Draw(t, "cardio habit")
	p.Levers.CardioMax = p.Levers.CardioNow + rapid.SampledFrom([]float64{0, 120, 420}).Draw(t, "more cardio")
	if p.Dieting = rapid.Bool().Draw(t, "dieting"); p.Dieting {
		p.DietWeeks = rapid.IntRange(0, 14).Draw(t, "diet weeks")
		p.State.AdaptationKcal = rapid.Float64Range(-120, 0).Draw(t, "adaptation")
		if rapid.Bool().Draw(t, "standing") {
			p.Standing = &Instruction{
				EnergyKcal: rapid.Float64Range(1200, 3500).Draw(t, "standing energy"), StepsPerDay: p.Levers.StepsNow, CardioMinutes: p.Levers.CardioNow,
			}
		}
	}
	if rapid.Bool().Draw(t, "event") {
		from := p.AsOf.AddDays(rapid.IntRange(0, 100).Draw(t, "event from"))
		p.Events = append(p.Events, athlete.Event{From: from, To: from.AddDays(rapid.IntRange(0, 13).Draw(t, "event days")), Kind: "holiday", Maintenance: true})
	}
	if rapid.IntRange(0, 5).Draw(t, "recovering") == 0 {
		p.Dieting, p.RecoverUntil = false, p.AsOf.AddDays(rapid.IntRange(1, 70).Draw(t, "recovery"))
	}
	return p
}

func dietPhase(k athlete.PhaseKind) bool { return k == athlete.Prep || k == athlete.PrePrep }

// A plan obeys every limit in every week.
func TestPlanObeysLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		s := Solve(p)
		at := p.AsOf
		for i := range s.Map.Weeks {
			w := &s.Map.Weeks[i]
			if w.From != at || w.Days < 1 || w.Days > 7 {
				t.Fatalf("week %d of %d days begins on %s, want %s", i, w.Days, w.From, at)
			}
			at = at.AddDays(w.Days)
			checkWeek(t, &p, w)
		}
		checkPhases(t, &p, &s.Map)
		checkRest(t, &p, &s.Map)
	})
}

func checkWeek(t *rapid.T, p *Problem, w *Week) {
	permitted := p.Limits.RatePctPerWeek(w.BodyFatPct)
	if w.Days < 7 {
		permitted *= 1.12 // the limit is a week's mean, and loss is quickest in a deficit's first days
	}
	if dietPhase(w.Phase) && w.RatePct > permitted*rateSlack {
		t.Errorf("%s of %s (%d of %d days at rest) loses %.3f %% a week, %.3f %% is permitted", w.Phase, w.From, w.RestDays, w.Days, w.RatePct, permitted)
	}
	if !dietPhase(w.Phase) && w.RatePct > 0.1 {
		t.Errorf("%s of %s loses %.3f %% a week", w.Phase, w.From, w.RatePct)
	}
	if floor := p.Limits.EnergyAvailabilityFloorOn(w.From); w.Available < floor-0.05 {
		t.Errorf("%s of %s, rest %d of %d days: energy availability %.2f, floor %.0f", w.Phase, w.From, w.RestDays, w.Days, w.Available, floor)
	}
	l := &p.Levers
	leastSteps := l.StepsNow
	if l.StepsHabit > 0 {
		leastSteps = min(l.StepsNow, l.StepsHabit)
	}
	if in := w.Asked; in.StepsPerDay < leastSteps-1e-6 || in.StepsPerDay > l.StepsMax+1e-6 ||
		in.CardioMinutes < min(l.CardioNow, l.CardioHabit)-1e-6 || in.CardioMinutes > l.CardioMax+1e-6 || !(in.EnergyKcal > 0) {
		t.Errorf("%s of %s asks %+v of %+v", w.Phase, w.From, in, *l)
	}
	if w.Effort < 0 || w.Effort > 1 || w.DietBreak && (w.Effort != 0 || w.RestDays != w.Days || w.Refeeds != 0) {
		t.Errorf("%+v", *w)
	}
}

// checkPhases: the phases cover the weeks, in the order of a season.
func checkPhases(t *rapid.T, p *Problem, m *Map) {
	order := map[athlete.PhaseKind]int{
		athlete.PrePrep: 1, athlete.OffSeason: 2, athlete.Prep: 3, athlete.PeakWeek: 4, athlete.ShowDay: 5, athlete.Recovery: 6,
	}
	at, before := p.AsOf, 0
	for _, ph := range m.Phases {
		n := order[ph.Kind]
		if ph.Kind == athlete.Recovery && before < 2 {
			n = 1
		}
		if ph.From != at || ph.To < ph.From || n <= before {
			t.Errorf("phases %v", m.Phases)
		}
		at, before = ph.To+1, n
	}
	if end := p.Show.Date.AddDays(1 + 7*recoveryWeeks); at != end {
		t.Errorf("the map ends on %s, want %s", at, end)
	}
}

// checkRest: nothing is lost on a day at maintenance of a diet, nor in the week
// before the show.
func checkRest(t *rapid.T, p *Problem, m *Map) {
	for i := range m.Path[:len(m.Path)-1] {
		d, next := &m.Path[i], &m.Path[i+1]
		if d.Date >= m.Start && d.Date <= p.Show.Date && p.maintenanceDay(d.Date) && math.Abs(d.WeightKg-next.WeightKg) > 1e-9 {
			t.Errorf("%s, a day at maintenance, goes from %.3f to %.3f kg", d.Date, d.WeightKg, next.WeightKg)
		}
	}
}

// When a plan says that it lands, it lands, inside the corridor on every day.
func TestPlanLandsInsideCorridor(t *testing.T) {
	landed := 0
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		s := Solve(p)
		target := p.Show.TargetBodyFatPct
		if s.Map.Lands && bodyFatPct(&p.Model, &p.State) > target+landsPct && math.Abs(s.Map.Stage.BodyFatPct-target) > landsPct {
			t.Errorf("lands at %.2f %%, target %.2f %%", s.Map.Stage.BodyFatPct, target)
		}
		if s.Map.Lands && !s.Appraisal.Feasible {
			t.Error("lands, yet infeasible")
		}
		c := &s.Corridor
		if len(c.Days) != p.Show.Date.DaysSince(p.AsOf)+1 {
			t.Fatalf("%d days of corridor", len(c.Days))
		}
		for i := range c.Days {
			d, at := &c.Days[i], &s.Map.Path[i]
			if d.Date != at.Date {
				t.Fatalf("the corridor's day %d is %s, the plan's %s", i, d.Date, at.Date)
			}
			if d.LowerPct > target-p.Show.Tolerance() && d.LowerKg > at.WeightKg+corridorKg {
				t.Errorf("%s: lower edge %.2f kg above the plan's %.2f", d.Date, d.LowerKg, at.WeightKg)
			}
			if s.Map.Lands && d.UpperKg.Known() && at.WeightKg > float64(d.UpperKg)+corridorKg {
				t.Errorf("%s: the plan at %.2f kg is above the upper edge at %.2f", d.Date, at.WeightKg, d.UpperKg)
			}
		}
		if s.Map.Lands {
			landed++
		}
	})
	if landed < 20 {
		t.Errorf("only %d plans landed: the test says little", landed)
	}
}

// Solving twice gives the same season to the last bit.
func TestSolveIsDeterministic(t *testing.T) {
	p := problem(athlete.Female, 68, 24, 13, 30)
	p.OtherShows = []athlete.Show{{Name: "later", Date: p.Show.Date.AddDays(42), TargetBodyFatPct: 14}}
	a, b := marshal(t, Solve(p)), marshal(t, Solve(p))
	if a != b {
		t.Error("two solutions of one problem differ")
	}
}

// Nothing that is written has a number that is none, whatever the problem.
func TestSeasonIsWritable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		p.OtherShows = []athlete.Show{{Name: "another", Date: p.AsOf.AddDays(rapid.IntRange(0, 300).Draw(t, "other")), TargetBodyFatPct: p.Show.TargetBodyFatPct + 1}}
		if rapid.IntRange(0, 9).Draw(t, "no show") == 0 {
			p.Show.Date = civil.Date(0)
		}
		s := Solve(p)
		marshal(t, s)
		if p.Show.Date.IsZero() {
			return
		}
		sane(t, s.Appraisal.Sentence)
		for _, w := range s.Appraisal.Ways {
			sane(t, w.Sentence)
		}
		for _, b := range s.Appraisal.Binds {
			sane(t, b)
		}
	})
}
