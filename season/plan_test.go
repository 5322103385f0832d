package season

import (
	"math"
	"testing"

	"glidepath/athlete"

	"pgregory.net/rapid"
)

// More time costs no more lean mass and asks for no less food.
func TestMoreTimeIsKinder(t *testing.T) {
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		p := dieter(t, 8, 26)
		q := p
		q.Show.Date = p.Show.Date.AddDays(7 * rapid.IntRange(1, 8).Draw(t, "more weeks"))
		a, b := Solve(p).Map, Solve(q).Map
		if !a.Lands {
			return
		}
		compared++
		if !b.Lands {
			t.Fatal("lands, but with more time does not")
		}
		if b.Stage.LeanLostKg > a.Stage.LeanLostKg+0.05 {
			t.Errorf("lean lost: %.2f kg, with more time %.2f kg", a.Stage.LeanLostKg, b.Stage.LeanLostKg)
		}
		if b.Stage.LowestEnergyKcal < a.Stage.LowestEnergyKcal-40 {
			t.Errorf("lowest energy: %.0f kcal, with more time %.0f kcal", a.Stage.LowestEnergyKcal, b.Stage.LowestEnergyKcal)
		}
	})
	if compared < 20 {
		t.Errorf("only %d compared", compared)
	}
}

// Diet breaks: one in nine weeks at most, never in the last four of the diet,
// only where a brisk pace leaves the time, and on the same date when the plan is
// made anew a week later.
func TestDietBreaks(t *testing.T) {
	seen := 0
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		s := Solve(p)
		var diet []Week
		for _, w := range s.Map.Weeks {
			if w.Phase == athlete.Prep {
				diet = append(diet, w)
			}
		}
		last := -breakEvery
		for i, w := range diet {
			if !w.DietBreak {
				continue
			}
			seen++
			if i-last < breakEvery || i >= len(diet)-4 {
				t.Errorf("breaks in weeks %d and %d of %d", last+1, i+1, len(diet))
			}
			last = i
			if s.Appraisal.Verdict == NoTime || s.Corridor.SlackWeeks.Value < 1 {
				t.Errorf("a diet break with %.1f weeks of slack", s.Corridor.SlackWeeks.Value)
			}
			before := diet[max(0, i-1)]
			if i > 0 && before.RatePct > 0.2 && w.Asked.EnergyKcal < before.Asked.EnergyKcal {
				t.Errorf("the break asks %.0f kcal, the week before %.0f", w.Asked.EnergyKcal, before.Asked.EnergyKcal)
			}
			if math.Abs(w.RatePct) > 1e-9 {
				t.Errorf("a diet break loses %.2f %%", w.RatePct)
			}
		}
	})
	if seen < 10 {
		t.Errorf("only %d breaks seen", seen)
	}
}

func TestDietBreakStaysWhereItIs(t *testing.T) {
	p := problem(athlete.Male, 92, 13, 6.5, 28)
	p.Dieting = true
	breaks := func(m *Map) (out []int) {
		for _, w := range m.Weeks {
			if w.DietBreak {
				out = append(out, w.From.DaysSince(asOf))
			}
		}
		return out
	}
	first := breaks(new(Solve(p).Map))
	if len(first) == 0 || first[0] != 8*7 {
		t.Fatalf("breaks on days %v, want one after eight weeks", first)
	}
	for week := 1; week <= 8; week++ {
		m := Solve(p).Map
		q := p
		for i := range 7 {
			d := &m.Path[i]
			q.Live(&q.State, m.Weeks[0].Asked, 1)
			q.AsOf = d.Date + 1
		}
		q.DietWeeks = week
		q.BodyFat.Mean = bodyFatPct(&q.Model, &q.State)
		p = q
		if again := breaks(new(Solve(p).Map)); len(again) == 0 || again[0] != first[0] {
			t.Fatalf("after %d weeks: breaks on days %v, first planned on %v", week, again, first)
		}
	}
}

// An athlete far out and far from lean gets a pre-prep diet, a return to
// maintenance, and a prep that is not too long.
func TestPrePrepForAFarOutAthlete(t *testing.T) {
	for _, p := range []Problem{
		problem(athlete.Male, 94, 17, 6, 60),
		problem(athlete.Female, 64, 23, 15, 60),
	} {
		s := Solve(p)
		if s.Appraisal.Verdict != PreDiet || !s.Map.Lands {
			t.Errorf("%q: %s", s.Appraisal.Verdict, s.Appraisal.Sentence)
		}
		sane(t, s.Appraisal.Sentence)
		ph := s.Map.Phases
		if ph[0].Kind != athlete.PrePrep || ph[1].Kind != athlete.OffSeason || ph[2].Kind != athlete.Prep {
			t.Fatalf("phases %v", ph)
		}
		pre, between := ph[0].To.DaysSince(ph[0].From)+1, ph[1].To.DaysSince(ph[1].From)+1
		if pre < 7*prePrepMin || pre > 7*prePrepMax || between < 7*minReturnWeeks {
			t.Errorf("a pre-prep of %d days, then %d days between", pre, between)
		}
		if w := p.weeksToShow(s.Map.Start); w > LongPrepWeeks {
			t.Errorf("a prep of %.1f weeks: %s", w, s.Appraisal.Sentence)
		}
	}
}

// After a show there is recovery before any deficit, where the next show leaves
// the time for it; and the plan for that show still lands.
func TestRecoveryBeforeTheNextDiet(t *testing.T) {
	for _, weeks := range []int{26, 40, 60} {
		p := problem(athlete.Male, 82, 7, 6, weeks)
		p.State.AdaptationKcal = -150
		p.RecoverUntil = p.AsOf.AddDays(63)
		s := Solve(p)
		if !s.Map.Lands || weeks > 30 && s.Map.Start < p.RecoverUntil {
			t.Errorf("%d weeks: %s", weeks, s.Appraisal.Sentence)
		}
		for _, w := range s.Map.Weeks {
			if w.From < min(s.Map.Start, p.RecoverUntil) && (w.Phase != athlete.Recovery || w.RatePct > 0.05) {
				t.Errorf("%d weeks: %s on %s loses %.2f %%", weeks, w.Phase, w.From, w.RatePct)
			}
		}
	}
	// Far out and far from lean: a pre-prep diet would come first, but not now.
	heavy := problem(athlete.Male, 94, 17, 6, 60)
	heavy.RecoverUntil = heavy.AsOf.AddDays(63)
	if ph := Solve(heavy).Map.Phases; ph[0].Kind != athlete.Recovery {
		t.Errorf("phases %v", ph)
	}
	// Three weeks to the next show: condition must stand, so the diet goes on.
	p := problem(athlete.Male, 82, 6.1, 6, 3)
	p.RecoverUntil = p.AsOf.AddDays(69)
	if s := Solve(p); !s.Appraisal.Feasible || math.Abs(s.Map.Stage.BodyFatPct-6) > 1 {
		t.Errorf("a show three weeks on: %.2f %%, %s", s.Map.Stage.BodyFatPct, s.Appraisal.Sentence)
	}
}
