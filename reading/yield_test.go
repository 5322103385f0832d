package reading

import (
	"math"
	"math/rand/v2"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
)

// moving is a log of somebody of whose activity a given share adds to expenditure, and
// whose steps and cardio go up by swing kcal per kg a day for every other eight weeks. It is from the
// filter's own model, with their own expenditure and body fat.
func moving(seed uint64, days int, yield, swing float64) Input {
	r := rand.New(rand.NewPCG(seed, 7))
	a := &athlete.Athlete{
		ID: "t", Name: "T", Sex: athlete.Male, BirthDate: civil.Of(1995, 3, 1), HeightCm: 178,
		WeightKg: 84, WeighedOn: civil.Of(2026, 1, 1), StepsPerDay: 8000,
	}
	const habit = 6.0
	in := Input{Athlete: a, HabitKcalPerKg: habit, AsOf: a.WeighedOn.AddDays(days - 1)}
	probe, _ := newFilter(&Input{Athlete: a, AsOf: a.WeighedOn, HabitKcalPerKg: habit}, Settings{}.withDefaults())
	m := probe.model
	m.RestKcal += 220*r.NormFloat64() + (priorYield-yield)*habit*a.WeightKg
	m.ActivityYield = yield
	fat := a.WeightKg * (0.16 + 0.05*r.NormFloat64())
	s := m.Fresh(fat, a.WeightKg-fat, 0)
	balance := m.BalanceKcal(&s, habit)
	slow := 0.0
	const slowDays = 9
	for i := range days {
		e := balance - 300 + 120*r.NormFloat64()
		act := habit + 0.8*r.NormFloat64()
		if i/56%2 == 1 {
			act += swing
		}
		slow = slow*math.Exp(-1.0/slowDays) + 0.4*math.Sqrt(1-math.Exp(-2.0/slowDays))*r.NormFloat64()
		d := athlete.Day{Date: a.WeighedOn.AddDays(i), WeightKg: new(s.WeightKg() + slow + 0.34*r.NormFloat64())}
		if r.Float64() < 0.9 {
			d.EnergyKcal, d.CarbohydrateG = new(e), new(0.45*e/4)
		}
		in.Days = append(in.Days, d)
		in.Activity = append(in.Activity, math.Max(0, act))
		m.Step(&s, dynamics.Input{EnergyKcal: e, CarbohydrateKcal: 0.45 * e, ActivityKcalPerKg: math.Max(0, act)})
	}
	return in
}

// learned reads seasons of 24 weeks and tells what became of the yield.
type learned struct{ mean, sd, rmse, inside, right float64 }

func learn(t *testing.T, athletes int, swing float64, yield func(i int) float64) learned {
	t.Helper()
	const days = 168
	var out learned
	for i := range athletes {
		truth := yield(i)
		r, err := Read(moving(1000+uint64(i), days, truth, swing), Settings{})
		if err != nil {
			t.Fatal(err)
		}
		y := r.Now.Of(Yield)
		out.mean += y.Mean
		out.sd += y.SD
		out.rmse += sq(y.Mean - truth)
		if v := y.Interval(); v.Low90 <= truth && truth <= v.High90 {
			out.inside++
		}
		if (y.Mean-priorYield)*(truth-priorYield) > 0 {
			out.right++
		}
	}
	n := float64(athletes)
	out = learned{out.mean / n, out.sd / n, math.Sqrt(out.rmse / n), out.inside / n, out.right / n}
	t.Logf("%.1f kcal/kg: mean %.2f, SD %.3f, error %.3f, 90 %% interval holds %.0f %%, the right way %.0f %%",
		swing, out.mean, out.sd, out.rmse, 100*out.inside, 100*out.right)
	return out
}

// What the reading learns of compensation in 24 weeks in which activity goes up by 8
// kcal per kg a day, far more than a preparation asks for, for eight weeks on end: the
// estimate moves the right way from the prior of 0.75 and the interval narrows. The
// figures are in docs/cardio.md.
func TestLearnsTheYield(t *testing.T) {
	half := learn(t, 60, 8, func(int) float64 { return 0.5 })
	if half.mean > 0.70 || half.sd > 0.8*priorYieldSD || half.right < 0.75 || half.inside < 0.72 {
		t.Errorf("half adds: %+v", half)
	}
	all := learn(t, 60, 8, func(int) float64 { return 1 })
	if all.mean < 0.83 || all.sd > 0.85*priorYieldSD || all.right < 0.85 || all.inside < 0.85 {
		t.Errorf("all adds: %+v", all)
	}
	// With people as the prior has them the interval holds what it should, and the
	// estimate errs less than the prior.
	r := rand.New(rand.NewPCG(5, 5))
	people := make([]float64, 200)
	for i := range people {
		people[i] = priorYield + priorYieldSD*r.NormFloat64()
	}
	of := func(i int) float64 { return people[i] }
	if every := learn(t, len(people), 8, of); every.inside < 0.84 || every.inside > 0.97 || every.rmse > 0.85*priorYieldSD {
		t.Errorf("people of every kind: %+v", every)
	}
	// A preparation changes activity by some 4 kcal per kg, and tells little.
	if prep := learn(t, len(people), 4, of); prep.inside < 0.84 || prep.sd < 0.8*priorYieldSD {
		t.Errorf("as in a preparation: %+v", prep)
	}
	if none := learn(t, 60, 0.2, func(int) float64 { return 0.5 }); math.Abs(none.mean-priorYield) > 0.05 || none.sd < 0.95*priorYieldSD {
		t.Errorf("it claims to have learned of activity that does not vary: %+v", none)
	}
}
