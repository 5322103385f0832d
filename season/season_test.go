package season

import (
	"slices"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
	"glidepath/numeric"
	"glidepath/physiology"
)

var asOf = civil.Of(2026, 3, 2)

// problem is an invented athlete: weight, body fat and target in per cent, and
// weeks to the show.
func problem(sex athlete.Sex, weightKg, fatPct, targetPct float64, weeks int) Problem {
	fat := fatPct / 100 * weightKg
	lean := weightKg - fat
	activity := 9000 * 0.00035 // kcal per kg from habitual steps
	lifting := 2.2
	resting, err := physiology.RestingExpenditure(physiology.Body{Sex: sex, WeightKg: weightKg, FatKg: fat, HeightCm: 178, AgeYears: 30}, 0)
	if err != nil {
		panic(err)
	}
	model := dynamics.New(dynamics.Model{
		ActivityKcalPerKg: 3, ActivityYield: 0.75,
		IntakeBaselineKcal:       (resting.Value + 3*weightKg + 0.75*(activity+lifting)*weightKg) / 0.9,
		AdaptationGain:           dynamics.AdaptationGain,
		ThermicEffect:            dynamics.ThermicEffect,
		Partition:                dynamics.Trained(),
		CarbohydrateBaselineKcal: 1300, FluidBaselineKg: 20,
	})
	s := model.Fresh(fat, lean, 0)
	model.RestKcal = model.IntakeBaselineKcal - model.MaintenanceKcal(&s, model.IntakeBaselineKcal, activity+lifting)
	return Problem{
		AsOf: asOf, Sex: sex, Units: athlete.Imperial, Limits: athlete.DefaultLimits(sex),
		Levers: Levers{
			StepsNow: 9000, StepsMax: 15000, StepKcalPerKg: 0.00035,
			CardioMax: 300, CardioKcalPerKgMin: 0.06, LiftingKcalPerKgDay: lifting,
		},
		Model: model, State: s, BodyFat: numeric.Normal{Mean: fatPct, SD: 1.5}, CarbohydrateShare: 0.45,
		Show: athlete.Show{Name: "the show", Date: asOf.AddDays(7 * weeks), TargetBodyFatPct: targetPct},
	}
}

const lb = athlete.KgPerPound

// losing is a man who has so many pounds to lose to 6.5 %, by the appraisal's
// own count: body fat at the start is searched for.
func losing(t *testing.T, pounds float64, weeks int) Season {
	t.Helper()
	low, high := 6.5, 45.0
	var s Season
	for range 16 {
		pct := (low + high) / 2
		const lean = 75.0
		s = Solve(problem(athlete.Male, lean/(1-pct/100), pct, 6.5, weeks))
		if s.Appraisal.LoseKg.Value/lb < pounds {
			low = pct
		} else {
			high = pct
		}
	}
	return s
}

// Common practice, no source: about 30 lb over 22 to 24 weeks is the most that
// suits; 50 lb in 16 weeks is far too fast; 12 to 16 weeks is not enough for
// most, who have some 20 to 25 lb to lose.
func TestCommonPractice(t *testing.T) {
	for _, c := range []struct {
		pounds           float64
		weeks            int
		verdicts         []Verdict
		needLow, needTop float64 // weeks of the fastest permitted descent
	}{
		{30, 24, []Verdict{Tight, Enough}, 18, 25},
		{30, 16, []Verdict{NoTime}, 18, 25},
		{50, 16, []Verdict{NoTime}, 30, 45},
		{22, 14, []Verdict{NoTime, Tight}, 11, 19},
		{12, 16, []Verdict{Enough, Early}, 5, 12},
	} {
		a := losing(t, c.pounds, c.weeks).Appraisal
		t.Logf("%.0f lb in %d weeks: %s", c.pounds, c.weeks, a.Sentence)
		if !slices.Contains(c.verdicts, a.Verdict) {
			t.Errorf("%.0f lb in %d weeks: %q, want one of %q", c.pounds, c.weeks, a.Verdict, c.verdicts)
		}
		if w := a.FastestWeeks.Value; w < c.needLow || w > c.needTop {
			t.Errorf("%.0f lb: the fastest descent takes %.1f weeks, want %.0f to %.0f", c.pounds, w, c.needLow, c.needTop)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, c := range []struct {
		name    string
		weeks   int
		dieting bool
	}{{"dieting-26", 26, true}, {"dieting-40", 40, true}, {"start-40", 40, false}} {
		b.Run(c.name, func(b *testing.B) {
			p := problem(athlete.Male, 92, 14, 5.5, c.weeks)
			p.Dieting = c.dieting
			b.ReportAllocs()
			for b.Loop() {
				Solve(p)
			}
		})
	}
}
