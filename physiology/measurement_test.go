package physiology

import (
	"strings"
	"testing"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"

	"pgregory.net/rapid"
)

func measured(m athlete.Method, folds, girths map[string]float64) athlete.Measurement {
	return athlete.Measurement{Date: civil.Of(2026, time.March, 2), Method: m, FoldsMm: folds, GirthsCm: girths}
}

func TestBodyFatFromMeasurement(t *testing.T) {
	given := measured(athlete.Scan, nil, nil)
	given.BodyFatPct = new(12.5)
	for _, c := range []struct {
		name     string
		m        athlete.Measurement
		sex      athlete.Sex
		age      float64
		fat, tol float64
		se       float64
	}{
		{"a given per cent stands", given, athlete.Male, 30, 12.5, 0, 1.803},
		// Sums and answers as in TestSkinfolds; the folds are an invented split.
		{
			"three folds, man", measured(athlete.Calipers3, map[string]float64{"chest": 11, "abdomen": 24, "thigh": 18}, nil),
			athlete.Male, 30, 15.95, 0.0101, 3.377,
		},
		{
			"three folds, woman", measured(athlete.Calipers3, map[string]float64{"triceps": 14, "suprailium": 11, "thigh": 20, "chest": 90}, nil),
			athlete.Female, 28, 18.94, 0.0101, 3.82,
		},
		{
			"seven folds, man", measured(athlete.Calipers7, map[string]float64{
				"chest": 6, "axilla": 7, "triceps": 7, "subscapular": 11, "abdomen": 12, "suprailium": 7, "thigh": 10,
			}, nil),
			athlete.Male, 30, 8.66, 0.0101, 3.32,
		},
		{
			"four folds with biceps", measured(athlete.Calipers4, map[string]float64{"biceps": 5, "triceps": 9, "subscapular": 14, "suprailium": 12}, nil),
			athlete.Male, 25, 16.17, 0.0101, 5,
		},
		{
			"four folds with abdomen", measured(athlete.Calipers4, map[string]float64{"abdomen": 12, "triceps": 8, "thigh": 11, "suprailium": 9}, nil),
			athlete.Male, 30, 0.29288*40 - 0.0005*1600 + 0.15845*30 - 5.76377, 1e-9, 3.5,
		},
		{
			"tape, woman", measured(athlete.Tape, nil, map[string]float64{"neck": 32, "waist": 70, "hip": 96}),
			athlete.Female, 28, 25.38, 0.0051, 3.72,
		},
	} {
		got := must(BodyFatFromMeasurement(c.m, c.sex, c.age, 165, 70))(t)
		near(t, c.name, got.Value, c.fat, c.tol)
		near(t, c.name+", error", got.SE, c.se, 0.01)
	}
}

func TestBodyFatFromMeasurementFaults(t *testing.T) {
	low := measured(athlete.Calipers7, map[string]float64{
		"chest": 1.8, "axilla": 1.8, "triceps": 1.8, "subscapular": 1.8, "abdomen": 1.8, "suprailium": 1.8, "thigh": 1.8,
	}, nil)
	pounds := measured(athlete.Scan, nil, nil)
	pounds.BodyFatPct, pounds.WeightKg = new(10.0), new(198.0)
	for _, c := range []struct {
		name string
		m    athlete.Measurement
		sex  athlete.Sex
		kind fault.Kind
		says string
	}{
		{"missing folds", measured(athlete.Calipers3, map[string]float64{"chest": 11}, nil), athlete.Male, fault.Invalid, "abdomen, thigh"},
		{"missing girth", measured(athlete.Tape, nil, map[string]float64{"neck": 32, "waist": 70}), athlete.Female, fault.Invalid, "hip"},
		{"scan without a per cent", measured(athlete.Scan, nil, nil), athlete.Male, fault.Invalid, "per cent"},
		{"no such method", measured("guess", nil, nil), athlete.Male, fault.Invalid, "guess"},
		{"no sex", measured(athlete.Calipers3, map[string]float64{"chest": 11}, nil), "", fault.Invalid, "sex"},
		{"fat below what lives", low, athlete.Male, fault.Unclear, "outside 1.5 to 60"},
		{"pounds for kg", pounds, athlete.Male, fault.Unclear, "fat-free mass index"},
	} {
		_, err := BodyFatFromMeasurement(c.m, c.sex, 18, 170, 80)
		wantKind(t, c.name, err, c.kind)
		if err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %q does not say %q", c.name, err, c.says)
		}
	}
	// The bounds of plausibility are our own: a fat-free mass index of 10 to 40
	// (height is 1 m here, so it is the fat-free mass), and 1.5 to 60 % fat.
	for _, c := range []struct {
		pct, kg float64
		ok      bool
	}{
		{50, 81, false},
		{50, 79, true},
		{50, 19, false},
		{50, 21, true},
		{1.4, 30, false},
		{1.6, 30, true},
		{59, 60, true},
		{61, 60, false},
	} {
		m := measured(athlete.Pod, nil, nil)
		m.BodyFatPct = new(c.pct)
		_, err := BodyFatFromMeasurement(m, athlete.Female, 30, 100, c.kg)
		if (err == nil) != c.ok {
			t.Errorf("%v %% at %v kg: %v", c.pct, c.kg, err)
		}
		if !c.ok {
			wantKind(t, "implausible", err, fault.Unclear)
		}
	}
	given := measured(athlete.Eye, nil, nil)
	given.BodyFatPct = new(10.0)
	if _, err := BodyFatFromMeasurement(given, athlete.Male, 30, 180, 0); err != nil {
		t.Errorf("a weight of 0 skips the check of plausibility: %v", err)
	}
}

// A thicker fold is never leaner, within the folds of athletes.
func TestMoreFoldMoreFat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sex := rapid.SampledFrom([]athlete.Sex{athlete.Female, athlete.Male}).Draw(t, "sex")
		age := rapid.Float64Range(18, 60).Draw(t, "age")
		sum := rapid.Float64Range(20, 190).Draw(t, "sum")
		for _, equation := range []foldEquation{
			siriOf(JacksonPollock3), siriOf(JacksonPollock7), siriOf(DurninWomersley), JacksonPollock4,
		} {
			a, err := equation(sex, sum, age)
			b, errB := equation(sex, sum+1, age)
			if err != nil || errB != nil {
				continue
			}
			if b.Value <= a.Value {
				t.Fatalf("%v at %v mm, %v at one more", a.Value, sum, b.Value)
			}
		}
	})
}
