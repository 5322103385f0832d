package season

import (
	"math"
	"strings"
	"testing"

	"glidepath/athlete"

	"pgregory.net/rapid"
)

// The starts: the plan's own among them with the plan's figures, each later one
// with less slack, and those called dominated are so by their figures and no others
// are (checked pair by pair, without the engine's word for it).
func TestFrontier(t *testing.T) {
	seen, dominated, missed := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		s := Solve(p)
		if p.Dieting {
			if len(s.Frontier) > 0 {
				t.Errorf("%d starts of a prep that is under way", len(s.Frontier))
			}
			return
		}
		if len(s.Frontier) < 3 {
			return
		}
		seen++
		chosen := 0
		for i := range s.Frontier {
			f := &s.Frontier[i]
			if f.Chosen {
				chosen++
				if f.Date != s.Map.Start || math.Abs(f.LeanLostKg-s.Map.Stage.LeanLostKg) > 0.02 || f.Lands != s.Map.Lands {
					t.Errorf("the plan's start %+v, the plan's stage %+v", *f, s.Map.Stage)
				}
			}
			if i > 0 {
				b := &s.Frontier[i-1]
				if waited := float64(f.Date.DaysSince(b.Date)) / 7; f.SlackWeeks > b.SlackWeeks+0.05*waited {
					t.Errorf("slack %.2f weeks on %s, %.2f on %s", b.SlackWeeks, b.Date, f.SlackWeeks, f.Date)
				}
			}
			if !f.Lands {
				missed++
			}
			better := false
			for j := range s.Frontier {
				o := &s.Frontier[j]
				if o.Lands && f.Lands && o.Date > f.Date && o.LowestEnergyKcal > f.LowestEnergyKcal-1 && o.LeanLostKg < f.LeanLostKg+0.005 {
					better = true
				}
			}
			if better {
				dominated++
			}
			if better != f.Dominated {
				t.Errorf("dominated: %v, said of %+v", better, *f)
			}
		}
		if chosen > 1 || chosen == 0 && p.dietDays(s.Map.Start) > 7 {
			t.Errorf("%d starts are the plan's", chosen)
		}
		if n := len(s.Frontier); n > 2*frontierStarts {
			t.Errorf("%d starts", n)
		}
	})
	if seen < 20 || dominated < 5 || missed < 5 {
		t.Errorf("%d frontiers, %d starts dominated, %d that miss: the test says little", seen, dominated, missed)
	}
}

// A diet break is taken where the plan is the cheaper for it, as the test prices
// it, and refused where there is no week to spare; either is said, with the
// evidence.
func TestBreaksAreDecided(t *testing.T) {
	taken, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := dieter(t, 14, 36)
		s := Solve(p)
		if !s.Map.Lands {
			return
		}
		n := len(s.Map.diet.effort)
		for _, r := range s.Map.Rests {
			sane(t, r.Sentence)
			if !strings.Contains(r.Evidence, "et al.") {
				t.Errorf("%s has no evidence", r.Kind)
			}
			if r.Kind != "diet break" {
				continue
			}
			w := r.From.DaysSince(p.AsOf) / 7
			if r.Taken != s.Map.diet.breaks[w] || w > n-1-breakLast {
				t.Errorf("week %d of %d: %+v", w+1, n, r)
			}
			if !r.Taken {
				refused++
				continue
			}
			taken++
			// At a brisk pace, 85 % of the fastest, there is still a week left over.
			fat := s.Map.Path[7*w].FatKg
			if left := float64(p.dietDays(r.From)) - s.Corridor.fastest.needDays(fat)/0.85; left < 6.9 {
				t.Errorf("a break in week %d of %d with %.1f days to spare", w+1, n, left)
			}
			if taken%3 > 0 {
				continue // pricing takes long
			}
			// The break alone taken out, and the plan made anew without it.
			without := make([]bool, n)
			copy(without, s.Map.diet.breaks)
			without[w] = false
			for v := w + 1; v < n; v++ {
				without[v] = false
			}
			with := append([]bool(nil), without...)
			with[w] = true
			cost := func(breaks []bool) float64 {
				c := p.newCourse(p.State, p.AsOf, breaks, 0)
				if !c.optimise() {
					return math.Inf(1)
				}
				cost, _ := price(&p, c.efforts(), breaks)
				return cost
			}
			if a, b := cost(with), cost(without); a > b+5e-4 {
				t.Errorf("the plan costs %.4f kg with the break in week %d, %.4f kg without", a, w+1, b)
			}
		}
	})
	if taken < 10 || refused < 5 {
		t.Errorf("%d breaks taken, %d refused: the test says little", taken, refused)
	}
}

// Steps and cardio that a prep has raised come back to the habit after it, a little
// each week, and no further.
func TestLeversComeBackToTheHabit(t *testing.T) {
	p := problem(athlete.Male, 86, 12, 6.5, 60)
	p.Levers.StepsNow, p.Levers.StepsHabit, p.Levers.CardioNow, p.Levers.CardioHabit = 13500, 8000, 160, 40
	weeks := Solve(p).Map.Weeks
	before := Instruction{StepsPerDay: 13500, CardioMinutes: 160}
	home := 0
	for i := range weeks {
		w := &weeks[i]
		if w.Phase != athlete.OffSeason {
			break
		}
		if d := before.StepsPerDay - w.Asked.StepsPerDay; d < -1e-9 || d > 1000+1e-9 || w.Asked.StepsPerDay < 8000 {
			t.Errorf("week %d: steps from %.0f to %.0f", i+1, before.StepsPerDay, w.Asked.StepsPerDay)
		}
		if d := before.CardioMinutes - w.Asked.CardioMinutes; d < -1e-9 || d > 30+1e-9 || w.Asked.CardioMinutes < 40 {
			t.Errorf("week %d: cardio from %.0f to %.0f", i+1, before.CardioMinutes, w.Asked.CardioMinutes)
		}
		if w.Asked.StepsPerDay == 8000 && w.Asked.CardioMinutes == 40 {
			home++
		}
		before = w.Asked
	}
	if home == 0 {
		t.Error("the levers never come back")
	}
}

// Within a prep that asks less than before, cardio goes first and steps stay.
func TestCardioIsGivenBackFirst(t *testing.T) {
	p := problem(athlete.Male, 86, 9, 6.5, 16)
	p.Levers.StepsNow, p.Levers.StepsHabit, p.Levers.CardioNow = 12000, 8000, 150
	r := p.ranges(&p.State, p.AsOf)
	all := (r.kcal[0] + r.kcal[1]) / r.total // food to 45 % and the cardio that stands
	for _, c := range []struct{ effort, cardio, food float64 }{
		{0, 0, 0},
		{r.kcal[0] / r.total, 0, 0.45},
		{(r.kcal[0] + 0.5*r.kcal[1]) / r.total, 75, 0.45},
		{all, 150, 0.45},
	} {
		in := r.instruction(&p, c.effort)
		if math.Abs(in.CardioMinutes-c.cardio) > 1e-6 || math.Abs(in.StepsPerDay-12000) > 1e-6 || math.Abs(in.EnergyKcal-(r.maintain-c.food*r.food)) > 1e-6 {
			t.Errorf("effort %.3f asks %+v, want %.0f minutes of cardio and %.0f %% of the food", c.effort, in, c.cardio, 100*c.food)
		}
		if back := p.effort(&r, in, tissueKg(&p.Model, &p.State)); math.Abs(back-c.effort) > 1e-9 {
			t.Errorf("effort %.4f is taken for %.4f", c.effort, back)
		}
	}
}

// Refeeds are for the lean, and keep the floor on the other days: with a week's mean
// M and one day at maintenance the others have (7 M - maintenance)/6.
func TestRefeedsKeepTheFloor(t *testing.T) {
	for _, c := range []struct {
		sex  athlete.Sex
		pct  float64
		lean bool
	}{{athlete.Male, 9.9, true}, {athlete.Male, 10.1, false}, {athlete.Female, 17.9, true}, {athlete.Female, 18.1, false}} {
		p := problem(c.sex, 75, c.pct, 6, 20)
		floor := p.Limits.EnergyAvailabilityFloor*p.Model.ReferenceFatFreeKg(&p.State) + p.Levers.LiftingKcalPerKgDay*75
		maintain := p.Model.BalanceKcal(&p.State, p.Levers.ActivityKcalPerKg(Instruction{StepsPerDay: 9000}))
		if maintain < floor+100 {
			t.Fatal("no room for a deficit")
		}
		for _, others := range []float64{floor - 5, floor + 5} {
			in := Instruction{EnergyKcal: (6*others + maintain) / 7, StepsPerDay: 9000}
			want := 0
			if c.lean && others > floor {
				want = 1
			}
			if got := p.refeeds(&p.State, p.AsOf, in); got != want {
				t.Errorf("%s at %.1f %%, %.0f kcal over the floor: %d refeeds, want %d", c.sex, c.pct, others-floor, got, want)
			}
		}
	}
}
