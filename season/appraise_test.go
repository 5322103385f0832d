package season

import (
	"math"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/numeric"

	"pgregory.net/rapid"
)

// What is offered to an athlete without time is really feasible when it is
// solved: a later show at a sensible pace, and the nearer target on the day.
func TestWaysOutAreFeasible(t *testing.T) {
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		p.RecoverUntil = 0
		s := Solve(p)
		a := &s.Appraisal
		if a.Verdict != NoTime {
			return
		}
		if a.never() {
			return
		}
		tried++
		q := p.at(p.Show)
		q.Show.Date = p.sensibleShow(a.SensibleWeeks)
		q.Dieting = true
		if again := Solve(*q); !again.Map.Lands || again.Corridor.SlackWeeks.Value < 0 {
			t.Errorf("%s; on %s instead: %s", a.Sentence, q.Show.Date, again.Appraisal.Sentence)
		}
		if a.ReachableBodyFat > p.Show.TargetBodyFatPct {
			q := p.at(p.Show)
			q.Show.TargetBodyFatPct = math.Ceil(10*a.ReachableBodyFat) / 10
			if again := Solve(*q); !again.Appraisal.Feasible {
				t.Errorf("%s; to %.1f %% instead: %s", a.Sentence, q.Show.TargetBodyFatPct, again.Appraisal.Sentence)
			}
		}
		if len(a.Ways) == 0 {
			t.Errorf("%s: no way out is offered", a.Sentence)
		}
	})
	if tried < 5 {
		t.Errorf("only %d athletes had too little time", tried)
	}
}

// The latest start is the last from which there is time, counted day by day.
func TestLatestStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		need := rapid.Float64Range(0, 200).Draw(t, "need")
		on := p.latestStart(need)
		left := float64(p.dietDays(p.AsOf)) - need
		if left < 0 {
			if want := p.AsOf.AddDays(int(math.Floor(left))); on != want {
				t.Errorf("latest start %s, want %s", on, want)
			}
			return
		}
		if float64(p.dietDays(on)) < need-1e-9 || on < p.Show.Date && float64(p.dietDays(on+1)) >= need && p.dietDays(on) > 0 {
			t.Errorf("%d days of diet from %s, %d from the day after, need %.1f", p.dietDays(on), on, p.dietDays(on+1), need)
		}
	})
}

// The odd corners, each with its verdict and a word of the sentence.
func TestCorners(t *testing.T) {
	change := func(p Problem, f func(*Problem)) Problem { f(&p); return p }
	dieting := func(p *Problem) { p.Dieting = true }
	for _, c := range []struct {
		name    string
		p       Problem
		verdict Verdict
		word    string
	}{
		{"show today", problem(athlete.Male, 80, 6, 6, 0), InReach, "hold condition"},
		{"show in a week, in condition", problem(athlete.Male, 80, 5.9, 6, 1), InReach, "hold condition"},
		{"show in a week, far off", problem(athlete.Male, 90, 14, 6, 1), NoTime, "no day left"},
		{"show in ten days", change(problem(athlete.Male, 80, 6.3, 6, 1), func(p *Problem) { p.Show.Date += 3; p.Dieting = true }), Tight, ""},
		{"under the target in a prep", change(problem(athlete.Female, 58, 12, 13, 6), dieting), InReach, "hold condition"},
		{"under the target, 40 weeks out", problem(athlete.Male, 80, 6, 6.5, 40), Early, "too soon"},
		{"target far above", problem(athlete.Male, 80, 8, 20, 3), InReach, ""},
		{"no levers but food", change(problem(athlete.Male, 90, 12, 6, 30), func(p *Problem) {
			p.Levers.StepsMax, p.Levers.CardioMax = p.Levers.StepsNow, p.Levers.CardioNow
		}), Early, ""},
		{"no levers at all", change(problem(athlete.Male, 90, 12, 6, 30), func(p *Problem) {
			p.Levers.StepsMax, p.Levers.CardioMax, p.Levers.CardioKcalPerKgMin = p.Levers.StepsNow, 0, 0
			p.Model.RestKcal -= 1200
		}), NoTime, "never reached"},
		{"hardly known body fat", change(problem(athlete.Male, 90, 12, 6, 24), func(p *Problem) { p.BodyFat = numeric.Normal{Mean: 12, SD: 9} }), "", ""},
	} {
		s := Solve(c.p)
		a := &s.Appraisal
		if c.verdict != "" && a.Verdict != c.verdict || !strings.Contains(a.Sentence, c.word) {
			t.Errorf("%s: %q: %s", c.name, a.Verdict, a.Sentence)
		}
		sane(t, a.Sentence)
		marshal(t, s)
		for _, v := range []Span{a.LoseKg, a.StageWeightKg, a.SlackWeeks, a.FastestWeeks} {
			if v.Low > v.Value+0.2 || v.High < v.Value-0.2 {
				t.Errorf("%s: span %+v", c.name, v)
			}
		}
	}
}

// The alternatives: starting later leaves less slack, week for week or worse, and
// what is called feasible has slack.
func TestAlternatives(t *testing.T) {
	p := problem(athlete.Male, 92, 13, 6.5, 26)
	p.OtherShows = []athlete.Show{{Name: "the later show", Date: p.Show.Date.AddDays(28), TargetBodyFatPct: 7}}
	s := Solve(p)
	alt := s.Appraisal.Alternatives
	if len(alt) != 5 {
		t.Fatalf("%d alternatives", len(alt))
	}
	for i, a := range alt[:4] {
		if i > 0 {
			waited := float64(a.Start.DaysSince(alt[i-1].Start)) / 7
			if fall := alt[i-1].SlackWeeks - a.SlackWeeks; fall < waited-0.2 || fall > 2*waited {
				t.Errorf("%s: slack falls by %.1f weeks in %.0f", a.What, fall, waited)
			}
		}
		if a.Feasible != (a.SlackWeeks > 0) && math.Abs(a.SlackWeeks) > 0.5 {
			t.Errorf("%s: feasible %v with %.1f weeks of slack", a.What, a.Feasible, a.SlackWeeks)
		}
	}
	if d := alt[4].SlackWeeks - alt[0].SlackWeeks; d < 4 || d > 6 {
		t.Errorf("four weeks more and half a point less to lose bring %.1f weeks of slack", d)
	}
	if math.Abs(alt[0].SlackWeeks-s.Corridor.SlackWeeks.Value) > 1e-9 {
		t.Errorf("slack %.3f from now, the corridor says %.3f", alt[0].SlackWeeks, s.Corridor.SlackWeeks.Value)
	}
}
