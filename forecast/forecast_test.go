package forecast

import (
	"fmt"
	"math"
	"testing"

	"glidepath/civil"
	"glidepath/dynamics"
	"glidepath/reading"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// posterior is an invented man of 85 kg and 13 % on a diet, as sure as scale
// says (0: not a doubt).
func posterior(scale float64) reading.Posterior {
	m := dynamics.New(dynamics.Model{
		RestKcal: 700, ActivityKcalPerKg: 3, ActivityYield: 0.75, IntakeBaselineKcal: 2900,
		AdaptationGain: dynamics.AdaptationGain, ThermicEffect: dynamics.ThermicEffect,
		Partition: dynamics.Trained(), CarbohydrateBaselineKcal: 1300, FluidBaselineKg: 20,
	})
	p := reading.Posterior{Model: m, Water: m.Fresh(0, 0, 0), NoiseSD: 0.5 * scale, SlowFluidSD: 0.35 * scale, SlowFluidDays: 6}
	p.Mean = [reading.Learned]float64{11, 74, -60, 700, 0, 0.75, 0, 1}
	for i, sd := range []float64{1.2, 1.3, 20, 90, 0.5, 0.15, 0.3, 0.2} {
		p.Cov[i*reading.Learned+i] = sd * sd * scale * scale
	}
	return p
}

// plan is an even intake, with the weight that the mean body would have.
func plan(days int) []Day {
	from := posterior(1)
	s := from.State()
	out := make([]Day, days)
	for i := range out {
		out[i] = Day{
			EnergyKcal: 2300, CarbohydrateKcal: 1000, ActivityKcalPerKg: 6,
			WeightKg: s.FatKg + from.Model.ReferenceFatFreeKg(&s), MostKcal: 2900,
		}
		from.Model.Step(&s, dynamics.Input{EnergyKcal: 2300, CarbohydrateKcal: 1000, ActivityKcalPerKg: 6})
	}
	return out
}

func TestSameOnAnyNumberOfCores(t *testing.T) {
	p := Problem{
		From: posterior(1), AsOf: civil.Of(2026, 3, 2), Plan: floored(plan(60), 1900), Steered: true,
		Target: &Target{6, 1}, ClassKg: 82, BodyFatPct: 4, Futures: 500, Seed: 9,
	}
	one := Run(p)
	p.Workers = 3
	three := Run(p)
	if d := cmp.Diff(one, three, cmpopts.EquateNaNs()); d != "" {
		t.Errorf("the answer depends on the number of workers:\n%s", d)
	}
	p.Seed = 10
	if cmp.Equal(one.Weight, Run(p).Weight) {
		t.Error("another seed gave the same futures")
	}
}

// Without doubt and scatter a forecast is one run of the dynamics.
func TestCertainFutureIsTheDynamics(t *testing.T) {
	from := posterior(1e-9)
	days := plan(40)
	f := Run(Problem{From: from, AsOf: civil.Of(2026, 3, 2), Plan: days, RatioSD: 1e-9, DaySD: 1e-9, Futures: 50})
	m, s := from.Model, from.State()
	for _, d := range days {
		m.Step(&s, dynamics.Input{EnergyKcal: d.EnergyKcal, CarbohydrateKcal: d.CarbohydrateKcal, ActivityKcalPerKg: d.ActivityKcalPerKg})
	}
	// What is left is the weekly drift of expenditure and fat that goes for lean:
	// 0.03 kg per root day are 0.22 points of 85 kg in 40 days.
	if got := f.BodyFat.Value; math.Abs(got-100*s.FatKg/(s.FatKg+m.ReferenceFatFreeKg(&s))) > 0.15 {
		t.Errorf("body fat %.3f, the dynamics give %.3f", got, s.BodyFatPct())
	}
	if w := f.BodyFat.High90 - f.BodyFat.Low90; w > 1 {
		t.Errorf("a certain future has an interval of %.2f points", w)
	}
}

// A coach who steers narrows what the scale can see, and says nothing about
// what it cannot.
func TestSteeringNarrowsWeight(t *testing.T) {
	p := Problem{From: posterior(1), AsOf: civil.Of(2026, 3, 2), Plan: floored(plan(120), 1500), Seed: 3, Futures: 1500, RatioSD: 0.05}
	open := Run(p)
	p.Steered = true
	steered := Run(p)
	width := func(f *Forecast) float64 { return f.Weight.High90 - f.Weight.Low90 }
	if width(steered) > 0.6*width(open) {
		t.Errorf("steered 90 %% interval %.2f kg, open %.2f kg", width(steered), width(open))
	}
}

// A target is judged on the scale of the method. Of a hand whose readings say
// what its scale shows, but not what is fat and what is its bias, the chance to
// be on target is that of its scale.
func TestTargetIsOnTheScaleOfTheMethod(t *testing.T) {
	p := Problem{From: posterior(1), AsOf: civil.Of(2026, 3, 2), Plan: plan(60), Futures: 2000, Seed: 4}
	with := func(mean, sd, correlation float64) *Forecast {
		q := p
		q.From.Mean[reading.Bias] = mean
		q.From.Cov[reading.Learned*reading.Learned-1] = sd * sd
		fat := reading.Fat * (reading.Learned + 1)
		between := correlation * sd * math.Sqrt(q.From.Cov[fat])
		q.From.Cov[reading.Fat*reading.Learned+reading.Bias] = between
		q.From.Cov[reading.Bias*reading.Learned+reading.Fat] = between
		q.Target = &Target{Run(q).MethodPct.Value, 1}
		return Run(q)
	}
	none, known := with(0, 0, 0), with(1.5, 0, 0)
	if none.MethodPct != none.BodyFat {
		t.Errorf("without a bias %v and %v", none.MethodPct, none.BodyFat)
	}
	if known.BodyFat != none.BodyFat || known.Fan[60] != none.Fan[60] {
		t.Errorf("a known bias changed the body: %v and %v", known.BodyFat, none.BodyFat)
	}
	if d := known.MethodPct.Low90 - none.BodyFat.Low90; math.Abs(d-1.5) > 1e-9 || known.Chances.OnTarget != none.Chances.OnTarget {
		t.Errorf("a known bias of 1.5 shows as %.3f; on target %.3f and %.3f", d, known.Chances.OnTarget, none.Chances.OnTarget)
	}
	// 1.2 kg of 85 kg are 1.4 points: the bias takes away what fat adds.
	sd := 1.2 / 85 * 100
	hand, apart := with(0, sd, -0.97), with(0, sd, 0)
	if hand.MethodPct.SD() > 0.8*hand.BodyFat.SD() || hand.Chances.OnTarget < none.Chances.OnTarget+0.1 {
		t.Errorf("SD by the method %.2f, of body fat %.2f; on target %.3f, without a bias %.3f",
			hand.MethodPct.SD(), hand.BodyFat.SD(), hand.Chances.OnTarget, none.Chances.OnTarget)
	}
	if want := math.Hypot(none.BodyFat.SD(), sd); math.Abs(apart.MethodPct.SD()/want-1) > 0.06 {
		t.Errorf("an unrelated bias: SD %.2f, want %.2f", apart.MethodPct.SD(), want)
	}
}

func TestChancesAreOnlyForWhatIsAsked(t *testing.T) {
	f := Run(Problem{From: posterior(1), AsOf: civil.Of(2026, 3, 2), Plan: plan(10), Futures: 100})
	if f.Chances.OnTarget.Known() || f.Chances.InsideClass.Known() {
		t.Errorf("chances without a target or a class: %+v", f.Chances)
	}
	if len(f.Fan) != 11 || f.Fan[10].Date != civil.Of(2026, 3, 12) {
		t.Errorf("the fan has %d mornings", len(f.Fan))
	}
	for _, fan := range f.Fan {
		q := fan.Weight
		if !(q.P05 <= q.P10 && q.P10 <= q.P25 && q.P25 <= q.P50 && q.P50 <= q.P75 && q.P75 <= q.P90 && q.P90 <= q.P95) {
			t.Errorf("%s: quantiles out of order: %+v", fan.Date, q)
		}
	}
}

var sink *Forecast

func BenchmarkRun(b *testing.B) {
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("workers %d", workers), func(b *testing.B) {
			p := Problem{
				From: posterior(1), AsOf: civil.Of(2026, 3, 2), Plan: plan(182),
				Steered: true, Target: &Target{6, 1}, Workers: workers,
			}
			b.ReportAllocs()
			for b.Loop() {
				sink = Run(p)
			}
		})
	}
}

// floored gives every day of a plan a floor of intake.
func floored(days []Day, kcal float64) []Day {
	for i := range days {
		days[i].LeastKcal = kcal
	}
	return days
}
