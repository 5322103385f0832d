package physiology

import (
	"math"
	"testing"

	"glidepath/athlete"
	"glidepath/fault"
)

func TestDensity(t *testing.T) {
	// Recomputed from Siri 1961 and Brozek et al. 1963.
	for _, c := range []struct{ density, siri, brozek float64 }{
		{1.05, 21.4286, 21.0381},
		{1.06, 16.9811, 16.9321},
		{1.07, 12.6168, 12.9028},
		{1.08, 8.3333, 8.9481},
		{1.09, 4.1284, 5.0661},
	} {
		d := Estimate{Value: c.density, SE: 0.0077}
		siri, brozek := must(Siri(d))(t), must(Brozek(d))(t)
		near(t, "Siri", siri.Value, c.siri, 0.0001)
		near(t, "Brozek", brozek.Value, c.brozek, 0.0001)

		// The carried error against a difference quotient.
		up := must(Siri(Estimate{Value: c.density + 1e-6}))(t)
		near(t, "Siri's slope", siri.SE, (siri.Value-up.Value)/1e-6*0.0077, 1e-4)
	}
	// Density, Brozek and Siri of the first men weighed under water by Penrose,
	// Nelson & Fisher 1985, as printed to 0.1 by Johnson 1996, J Stat Educ 4(1);
	// from memory.
	for _, c := range []struct{ density, brozek, siri float64 }{
		{1.0708, 12.6, 12.3},
		{1.0853, 6.9, 6.1},
		{1.0414, 24.6, 25.3},
		{1.0751, 10.9, 10.4},
		{1.0340, 27.8, 28.7},
	} {
		d := Estimate{Value: c.density}
		near(t, "Siri as printed", must(Siri(d))(t).Value, c.siri, 0.0501)
		near(t, "Brozek as printed", must(Brozek(d))(t).Value, c.brozek, 0.0501)
	}
}

func TestSkinfolds(t *testing.T) {
	type equation = func(athlete.Sex, float64, float64) (Estimate, error)
	const male, female = athlete.Male, athlete.Female
	for _, c := range []struct {
		name     string
		equation equation
		sex      athlete.Sex
		sum, age float64
		density  float64 // 0 is not checked
		tol      float64
		fat      float64
	}{
		// A worked example in circulation prints 1.0623372 and 16.0 %.
		{"Jackson & Pollock 1978, three", JacksonPollock3, male, 53, 30, 1.0623372, 2e-7, 15.95},
		{"Jackson & Pollock 1978, three", JacksonPollock3, male, 25, 30, 1.0820, 1e-4, 7.49},
		{"Jackson & Pollock 1978, seven", JacksonPollock7, male, 60, 30, 1.0792, 1e-4, 8.66},
		{"Jackson & Pollock 1978, seven", JacksonPollock7, male, 45, 25, 1.0863, 1e-4, 5.66},
		{"Jackson et al. 1980, three", JacksonPollock3, female, 45, 28, 1.0556, 1e-4, 18.94},
		{"Jackson et al. 1980, three", JacksonPollock3, female, 30, 28, 0, 0, 13.54},
		{"Jackson et al. 1980, seven", JacksonPollock7, female, 80, 28, 1.0594, 1e-4, 17.24},
		{"Durnin & Womersley 1974", DurninWomersley, male, 40, 25, 1.0618, 1e-4, 16.17},
		{"Durnin & Womersley 1974", DurninWomersley, female, 50, 25, 1.0381, 1e-4, 26.84},
	} {
		d := must(c.equation(c.sex, c.sum, c.age))(t)
		if c.density > 0 {
			near(t, c.name+", density", d.Value, c.density, c.tol)
		}
		near(t, c.name+", fat", must(Siri(d))(t).Value, c.fat, 0.0101)
	}
}

// Jackson & Pollock 1978 print SE 0.0077 as about 3.5 % fat; Durnin & Womersley
// 1974, in points (from memory).
func TestSkinfoldErrors(t *testing.T) {
	fat := must(Siri(must(JacksonPollock3(athlete.Male, 53, 30))(t)))(t)
	near(t, "three folds", fat.SE, 3.5, 0.2)
	fat = must(Siri(must(DurninWomersley(athlete.Male, 40, 25))(t)))(t)
	near(t, "Durnin men", fat.SE, 5.0, 1e-9)
	fat = must(Siri(must(DurninWomersley(athlete.Female, 40, 25))(t)))(t)
	near(t, "Durnin women", fat.SE, 3.5, 1e-9)
	near(t, "four folds", must(JacksonPollock4(athlete.Male, 40, 30))(t).SE, 3.5, 1e-9)
}

// Each line of the table of Durnin & Womersley 1974 (second-hand) at a sum of 10
// mm, where D = c - m.
func TestDurninWomersleyBands(t *testing.T) {
	for _, c := range []struct {
		sex     athlete.Sex
		age     float64
		density float64
	}{
		{athlete.Male, 16.9, 1.1533 - 0.0643},
		{athlete.Male, 17, 1.1620 - 0.0630},
		{athlete.Male, 19.9, 1.1620 - 0.0630},
		{athlete.Male, 20, 1.1631 - 0.0632},
		{athlete.Male, 30, 1.1422 - 0.0544},
		{athlete.Male, 40, 1.1620 - 0.0700},
		{athlete.Male, 50, 1.1715 - 0.0779},
		{athlete.Female, 15.9, 1.1369 - 0.0598},
		{athlete.Female, 16, 1.1549 - 0.0678},
		{athlete.Female, 29.9, 1.1599 - 0.0717},
		{athlete.Female, 39.9, 1.1423 - 0.0632},
		{athlete.Female, 49.9, 1.1333 - 0.0612},
		{athlete.Female, 60, 1.1339 - 0.0645},
	} {
		near(t, string(c.sex), must(DurninWomersley(c.sex, 10, c.age))(t).Value, c.density, 1e-12)
	}
}

// Recomputed from the printed equations of the four-site form (second-hand).
func TestJacksonPollock4(t *testing.T) {
	near(t, "man", must(JacksonPollock4(athlete.Male, 40, 30))(t).Value, 0.29288*40-0.0005*1600+0.15845*30-5.76377, 1e-9)
	near(t, "woman", must(JacksonPollock4(athlete.Female, 60, 28))(t).Value, 0.29669*60-0.00043*3600+0.02963*28+1.4072, 1e-9)
}

// The one stage athlete with published folds: Halliday et al. 2016, Nutrients
// 8:740, sum of seven 67 mm at 15.1 % by scan and 30 mm at 8.6 %. The skinfold
// equation and the scan are independent, so half a point is close.
func TestSkinfoldsOnAStageAthlete(t *testing.T) {
	for _, c := range []struct{ sum, age, scan, reckoned float64 }{
		{67, 26, 15.1, 14.92},
		{30, 27, 8.6, 8.35},
	} {
		fat := must(Siri(must(JacksonPollock7(athlete.Female, c.sum, c.age))(t)))(t)
		near(t, "against the scan", fat.Value, c.scan, 0.5)
		near(t, "recomputed", fat.Value, c.reckoned, 0.0101)
	}
}

func TestTape(t *testing.T) {
	inches := func(v float64) float64 { return v * athlete.CmPerInch }
	big := Girths{NeckCm: inches(15), AbdomenCm: inches(34)}
	// A worked example in circulation prints 17.5 % for the inch form.
	near(t, "man, inch form", must(TapeBodyFatInchForm(athlete.Male, big, inches(70)))(t).Value, 17.51, 0.0051)
	// Recomputed from Hodgdon & Beckett 1984 and Hodgdon & Friedl 1999.
	near(t, "man, cm form", must(TapeBodyFat(athlete.Male, big, inches(70)))(t).Value, 17.43, 0.0051)
	near(t, "man of 180 cm", must(TapeBodyFat(athlete.Male, Girths{NeckCm: 38, AbdomenCm: 85}, 180))(t).Value, 16.11, 0.0051)
	she := Girths{NeckCm: 32, WaistCm: 70, HipCm: 96}
	cm, inch := must(TapeBodyFat(athlete.Female, she, 165))(t), must(TapeBodyFatInchForm(athlete.Female, she, 165))(t)
	near(t, "woman, cm form", cm.Value, 25.38, 0.0051)
	near(t, "woman, inch form", inch.Value, 25.63, 0.0051)
	// A stage athlete's waist under a lifter's neck is beyond both forms.
	for _, form := range []func(athlete.Sex, Girths, float64) (Estimate, error){TapeBodyFat, TapeBodyFatInchForm} {
		_, err := form(athlete.Male, Girths{NeckCm: 45, AbdomenCm: 71}, 183)
		wantKind(t, "thick neck", err, fault.Invalid)
	}
	// Hodgdon & Beckett 1984.
	near(t, "error, cm form", cm.SE, 3.72, 0)
	near(t, "error, inch form", inch.SE, 3.61, 0)
	near(t, "error, men", must(TapeBodyFat(athlete.Male, big, 178))(t).SE, 3.52, 0)
}

// Recomputed from Kouri et al. 1995 (6.3 as in its abstract).
func TestFFMI(t *testing.T) {
	for _, c := range []struct{ kg, fatPct, heightCm, raw, normalised float64 }{
		{90, 15, 180, 23.611, 23.611},
		{73.3, 7.4, 180, 20.949, 20.949},
		{60, 22, 165, 17.190, 18.135},
		{95, 10, 170, 29.585, 30.215},
	} {
		ffm := c.kg * (1 - c.fatPct/100)
		near(t, "FFMI", must(FFMI(ffm, c.heightCm))(t), c.raw, 0.0006)
		near(t, "normalised FFMI", must(NormalisedFFMI(ffm, c.heightCm))(t), c.normalised, 0.0006)
	}
}

// The published errors that the split must give back. Calipers: Jackson & Pollock
// 1978 and Silva et al. 2009 (limits of agreement -3.4 to 3.6, so SD 1.79). Tape:
// Hodgdon & Beckett 1984, its change a judgement. Scale, pod and scan from memory.
func TestMethodErrorsGiveBackThePublished(t *testing.T) {
	for _, c := range []struct {
		method                athlete.Method
		low, high, change, by float64
	}{
		{athlete.Calipers3, 3.2, 3.7, (3.6 + 3.4) / (2 * 1.96), 0.1},
		{athlete.Calipers4, 3.2, 3.7, (3.6 + 3.4) / (2 * 1.96), 0.1},
		{athlete.Calipers7, 3.2, 3.7, (3.6 + 3.4) / (2 * 1.96), 0.1},
		{athlete.Tape, 3.4, 3.75, 2, 0.1},
		{athlete.Scale, 3, 5, 2, 0.5},
		{athlete.Pod, 2, 4, 1.5, 0.1},
		{athlete.Scan, 1.5, 3, 1, 0.5},
	} {
		e := must(MethodError(c.method))(t)
		if s := e.SingleSD(); s < c.low || s > c.high {
			t.Errorf("%s: a single reading errs by %.2f, published %.1f to %.1f", c.method, s, c.low, c.high)
		}
		near(t, string(c.method)+", change", e.ChangeSD(), c.change, c.by)
	}
	for _, m := range athlete.Methods() {
		e := must(MethodError(m))(t)
		near(t, string(m)+", single", e.SingleSD(), math.Sqrt(e.BiasSD*e.BiasSD+e.ReadingSD*e.ReadingSD), 1e-12)
		if e.BiasSD <= 0 || e.ReadingSD <= 0 {
			t.Errorf("%s has no error: %+v", m, e)
		}
	}
}
