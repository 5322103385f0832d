package dynamics

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// Rows computed from eq 14 of the appendix of Hall 2011 with Mifflin-St Jeor
// resting expenditure; recomputed here from the same equation by Linearise, so
// the table guards the constants and the arithmetic against each other.
func TestLinearTable(t *testing.T) {
	for _, c := range []struct {
		b             Baseline
		rho, tau, eps float64
	}{
		{Baseline{WeightKg: 90, FatKg: 28, RestingKcal: 9.99*90 + 6.25*178 - 4.92*40 + 5, ActivityLevel: 1.5}, 9958.8, 494.8, 20.13},
		{Baseline{WeightKg: 80, FatKg: 32, RestingKcal: 9.99*80 + 6.25*164 - 4.92*40 - 161, ActivityLevel: 1.5}, 10213.4, 548.4, 18.62},
		{Baseline{WeightKg: 90, FatKg: 13.5, RestingKcal: 9.99*90 + 6.25*180 - 4.92*30 + 5, ActivityLevel: 1.6}, 8321.2, 308.2, 27.00},
		{Baseline{WeightKg: 65, FatKg: 15, RestingKcal: 9.99*65 + 6.25*167 - 4.92*28 - 161, ActivityLevel: 1.6}, 8577.3, 321.5, 26.68},
	} {
		l := Linearise(c.b)
		within(t, "rho", l.KcalPerKg, c.rho, 0.005*c.rho)
		within(t, "tau", l.TauDays, c.tau, 0.005*c.tau)
		within(t, "eps", l.KcalPerDayPerKg(), c.eps, 0.005*c.eps)
	}
}

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s = %.4f, want %.4f within %.4g", what, got, want, tolerance)
	}
}

// Hall 2011 (abstract and press report): for an average overweight adult every
// lasting change of 100 kJ a day ends in about 1 kg, half of it within about a
// year and about 95 % within three.
func TestPublishedRuleOfThumb(t *testing.T) {
	c := referenceCases["C_avgmale_-100"]
	m, s, in := start(c)
	w0 := s.WeightKg()
	var at1, at3 float64
	for day := 1; day <= 365*40; day++ {
		m.Step(&s, in)
		switch day {
		case 365:
			at1 = s.WeightKg()
		case 3 * 365:
			at3 = s.WeightKg()
		}
	}
	end := w0 - s.WeightKg()
	within(t, "kJ a day per kg", 100*4.184/end, 100, 20)
	within(t, "share lost in one year", (w0-at1)/end, 0.5, 0.06)
	within(t, "share lost in three years", (w0-at3)/end, 0.95, 0.06)
}

// Robust to what a season does: against the adaptive integration of the same
// equations, the adult model on any sequence of days.
func TestDailyStepAgainstAdaptive(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m, s := trainedMale()
		m.Partition = Adult()
		worst := worstGap(t, m, s, 60, func(day int) Input {
			e := rapid.Float64Range(1200, 3800).Draw(rt, "energy")
			share := rapid.Float64Range(0.05, 0.75).Draw(rt, "carbohydrate share")
			if day%30 == 29 {
				e, share = 4800, 0.8 // a carbohydrate load
			}
			return Input{EnergyKcal: e, CarbohydrateKcal: share * e, ActivityKcalPerKg: rapid.Float64Range(0, 12).Draw(rt, "activity")}
		})
		if worst > 0.006 {
			rt.Errorf("the daily step is %.4f kg off the adaptive integration", worst)
		}
	})
}

// The trained layer bends with the size of the deficit within a day, which the
// day's mean does not see: the bound is for a season as people live it, with
// scatter, a refeed a week, low days and a load at the end.
func TestTrainedStepOverASeason(t *testing.T) {
	m, s := trainedMale()
	r := rand.New(rand.NewPCG(7, 7))
	worst := worstGap(t, m, s, 182, func(day int) Input {
		e, share := 2450+200*r.NormFloat64(), 0.4
		switch {
		case day >= 179:
			e, share = 4200, 0.75
		case day%7 == 6:
			e, share = 3100, 0.6
		case day > 150:
			e, share = 2200, 0.25
		}
		return Input{EnergyKcal: e, CarbohydrateKcal: share * e, ActivityKcalPerKg: r.Float64()}
	})
	if worst > 0.01 {
		t.Errorf("the daily step is %.4f kg off the adaptive integration", worst)
	}
	t.Logf("worst distance %.4f kg", worst)
}

func worstGap(t *testing.T, m Model, s State, days int, input func(day int) Input) float64 {
	t.Helper()
	y := vector(s)
	worst := 0.0
	for day := range days {
		in := input(day)
		m.Step(&s, in)
		accurate(t, m, y, in, s.IntakeMeanKcal)
		fine := state(y)
		worst = math.Max(worst, math.Abs(fine.WeightKg()-s.WeightKg()))
		worst = math.Max(worst, math.Abs(fine.FatKg-s.FatKg))
	}
	return worst
}

func trainedMale() (Model, State) {
	m, s := FromBaseline(Baseline{WeightKg: 90, FatKg: 12, FluidKg: fluidMen(30, 1.80), RestingKcal: 2050, ActivityLevel: 1.5})
	m.Partition = Trained()
	return m, s
}

// First law: intake less expenditure is exactly what the stores gain.
func TestEnergyIsConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, s := trainedMale()
		for range 60 {
			in := Input{
				EnergyKcal:        rapid.Float64Range(500, 6000).Draw(t, "energy"),
				ActivityKcalPerKg: rapid.Float64Range(0, 20).Draw(t, "activity"),
				SodiumChangeMg:    rapid.Float64Range(-1500, 3000).Draw(t, "sodium"),
			}
			in.CarbohydrateKcal = in.EnergyKcal * rapid.Float64Range(0, 0.9).Draw(t, "share")
			before := stored(&s)
			spent := m.Step(&s, in)
			if gap := in.EnergyKcal - spent - (stored(&s) - before); math.Abs(gap) > 1e-6 {
				t.Fatalf("%.3g kcal of energy came from nowhere", gap)
			}
		}
	})
}

func stored(s *State) float64 {
	return FatEnergyKcalPerKg*s.FatKg + LeanEnergyKcalPerKg*s.LeanKg + GlycogenEnergyKcalPerKg*s.GlycogenKg
}

// Without a bound on fat supply the adult partition is Forbes's curve, in the
// closed form of Hall 2007 (Br J Nutr 97:1059): dFFM = 10.4 ln(Ff/Fi).
func TestAdultPartitionIsForbes(t *testing.T) {
	m, s, in := start(referenceCases["A_male_-500"])
	first := s
	for range 365 {
		m.Step(&s, in)
	}
	within(t, "lean lost", s.LeanKg-first.LeanKg, ForbesKg*math.Log(s.FatKg/first.FatKg), 0.002)
}

// What the trained layer promises: less lean lost than Forbes, more with a
// deeper deficit, and never more fat burnt than Alpert 2005 allows.
func TestTrainedPartition(t *testing.T) {
	lost := func(p Partition, deficit float64) (leanKg float64) {
		m, s := trainedMale()
		m.Partition = p
		first := s
		for day := 0; s.FatKg > first.FatKg-3; day++ {
			before := s.FatKg
			m.Step(&s, halfCarbohydrate(m.BalanceKcal(&s, 0)-deficit))
			if day > 28 && p.FatSupplyKcalPerKg > 0 && (before-s.FatKg)*FatEnergyKcalPerKg > 1.05*p.FatSupplyKcalPerKg*before {
				t.Fatalf("%.1f kcal from %.2f kg of fat in a day", (before-s.FatKg)*FatEnergyKcalPerKg, before)
			}
		}
		return first.LeanKg - s.LeanKg
	}
	forbes := lost(Adult(), 500)
	slow := lost(Trained(), 300)
	fast := lost(Trained(), 900)
	if !(slow < 0.35*forbes && slow < fast && fast < forbes) {
		t.Errorf("lean lost for 3 kg of fat: Forbes %.2f, trained slow %.2f, trained fast %.2f kg", forbes, slow, fast)
	}
}

// Steady states of the text of Hall 2011's appendix, by hand: glycogen goes
// with the square root of carbohydrate; sodium 2,000 mg less is 0.667 L less.
func TestSteadyStates(t *testing.T) {
	m, s := trainedMale()
	in := Input{EnergyKcal: m.IntakeBaselineKcal, CarbohydrateKcal: 3 * m.CarbohydrateBaselineKcal}
	for range 60 {
		m.Step(&s, in)
	}
	within(t, "glycogen at three times the carbohydrate", s.GlycogenKg/GlycogenBaselineKg, math.Sqrt(3), 1e-6)
	m, s = trainedMale()
	in = halfCarbohydrate(m.IntakeBaselineKcal)
	in.SodiumChangeMg = -2000
	for range 60 {
		m.Step(&s, in)
	}
	within(t, "fluid with 2,000 mg less sodium", s.FluidKg-m.FluidBaselineKg, -2.0/3, 1e-6)
}

func BenchmarkStep(b *testing.B) {
	m, s := trainedMale()
	first := s
	in := halfCarbohydrate(2300)
	b.ReportAllocs()
	day := 0
	for b.Loop() {
		m.Step(&s, in)
		if day++; day == 180 {
			s, day = first, 0
		}
	}
}
