package physiology

import (
	"testing"

	"glidepath/athlete"
)

// Expected values are recomputed by hand from the equation that each name cites;
// the coefficients of Mifflin FFM, Tinsley and Silva are from memory.
func TestRestingEquations(t *testing.T) {
	ffm := func(f func(float64) (float64, error)) func(Body) (float64, error) {
		return func(b Body) (float64, error) { return f(b.FFMKg()) }
	}
	for _, c := range []struct {
		name       string
		equation   func(Body) (float64, error)
		man, woman float64
	}{
		{"Mifflin et al. 1990", MifflinStJeor, 1881.5, 1331.89},
		{"Mifflin et al. 1990, rounded", MifflinStJeorRounded, 1880, 1330.25},
		{"Mifflin et al. 1990, FFM", ffm(MifflinFFM), 1920.05, 1334.96},
		{"Cunningham 1980", ffm(Cunningham1980), 2183.0, 1529.6},
		{"Cunningham 1991", ffm(Cunningham1991), 2022.4, 1380.88},
		{"Nelson et al. 1992", func(b Body) (float64, error) { return Nelson(b.FFMKg(), b.FatKg) }, 2028.24, 1260.77},
		{"ten Haaf & Weijs 2014, FFM", ffm(TenHaafFFM), 2226.25, 1549.95},
		{"ten Haaf & Weijs 2014, weight", TenHaafWeight, 2108.59, 1487.58},
		{"Tinsley et al. 2019, weight", func(b Body) (float64, error) { return TinsleyWeight(b.WeightKg) }, 2242.0, 1498.0},
		{"Tinsley et al. 2019, FFM", ffm(TinsleyFFM), 2265.35, 1496.12},
	} {
		near(t, c.name+", man", must(c.equation(man))(t), c.man, 0.1)
		near(t, c.name+", woman", must(c.equation(woman))(t), c.woman, 0.1)
	}
}

// A worked example that a fitness text prints for Cunningham 1980: 82 kg at 15 %
// fat, fat-free mass rounded to 70 kg, 2040 kcal; 2033.4 without the rounding.
func TestCunninghamWorkedExample(t *testing.T) {
	near(t, "printed example", must(Cunningham1980(70))(t), 2040, 0.01)
	near(t, "unrounded", must(Cunningham1980(82*0.85))(t), 2033.4, 0.01)
}

// Measured group means of resistance-trained people in energy balance. Campbell
// et al. 2020, J Funct Morphol Kinesiol 5:19, before the diet (fat and fat-free
// mass as printed); Trexler et al. 2017, Int J Sport Nutr Exerc Metab 27:458, four
// to six weeks after the show (lean mass as printed, and 2.7 kg of bone mineral
// added, which is a judgement).
func TestRestingExpenditureAgainstMeasuredGroups(t *testing.T) {
	for _, c := range []struct {
		name           string
		ffm, fat, kcal float64
	}{
		{"Campbell 2020, refeed group", 60.1, 16.3, 1703},
		{"Campbell 2020, continuous group", 66.4, 16.7, 1867},
		{"Trexler 2017, after the show", 59.3 + 2.7, 10.0, 1778},
	} {
		b := Body{Sex: athlete.Male, AgeYears: 27, HeightCm: 172, WeightKg: c.ffm + c.fat, FatKg: c.fat}
		got := must(RestingExpenditure(b, 0))(t)
		near(t, c.name, got.Value, c.kcal, 0.04*c.kcal)
	}
}

func TestRestingExpenditureErrors(t *testing.T) {
	exact := must(RestingExpenditure(man, 0))(t)
	near(t, "error with exact fat", exact.SE, 0.08*exact.Value, 1e-9)
	// The four equations' mean, recomputed from the values above.
	near(t, "mean", exact.Value, (2183.0+2022.4+2226.2455+2028.24)/4, 0.01)

	vague := must(RestingExpenditure(man, 3))(t)
	more := man
	more.FatKg += 3
	shifted := must(RestingExpenditure(more, 0))(t)
	near(t, "error with fat uncertain by 3 kg", vague.SE, combine(exact.SE, exact.Value-shifted.Value), 1e-6)

	blind := man
	blind.FatKg = 0
	byWeight := must(RestingExpenditure(blind, 0))(t)
	near(t, "by weight", byWeight.Value, (2108.59+1881.5)/2, 0.1)
	near(t, "error by weight", byWeight.SE, 0.10*byWeight.Value, 1e-9)
	if byWeight.SE <= exact.SE {
		t.Errorf("knowing the fat does not help: %.0f by weight, %.0f by fat-free mass", byWeight.SE, exact.SE)
	}
}
