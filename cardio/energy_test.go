package cardio_test

import (
	"math"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/fault"

	"pgregory.net/rapid"
)

// Rates against ACSM's equations (Bushman 2020, ACSM's Health & Fitness J 24(3)
// and 24(4)) worked by hand, and the Compendium (Herrmann et al. 2024) at 1
// kcal/kg/h but for fast walks, all less rest.
func TestRateOf(t *testing.T) {
	mph := func(v float64) *float64 { return new(v * 26.8 * 60 / 1000) } // as ACSM rounds a mile an hour
	tests := []struct {
		name string
		bout athlete.CardioBout
		kg   float64
		want float64 // net kcal/min
	}{
		// 12.88 mL/kg/min; 45 minutes net 168.8 kcal.
		{"walk 3.5 mph", athlete.CardioBout{Kind: athlete.Walking, SpeedKmh: mph(3.5)}, 80, 168.84 / 45},
		// 13.818 mL/kg/min: ACSM's own example at 2.5 mph and 3 %, less 3.5.
		{"walk 2.5 mph 3 %", athlete.CardioBout{Kind: athlete.Walking, SpeedKmh: mph(2.5), GradePct: new(3.0)}, 50, (13.818 - 3.5) * 50 / 200},
		{"incline 3.5 mph 10 %", athlete.CardioBout{Kind: athlete.InclineWalk, SpeedKmh: mph(3.5), GradePct: new(10.0)}, 70, (29.764 - 3.5) * 70 / 200},
		{"run 6 mph", athlete.CardioBout{Kind: athlete.Running, SpeedKmh: mph(6)}, 70, (35.66 - 3.5) * 70 / 200},
		{"run 6.5 mph 5 %", athlete.CardioBout{Kind: athlete.Running, SpeedKmh: mph(6.5), GradePct: new(5.0)}, 70, (46.179 - 3.5) * 70 / 200},
		{"cycle 150 W", athlete.CardioBout{Kind: athlete.Cycling, Watts: new(150.0)}, 80, (27.655 - 3.5) * 80 / 200},
		// Bench stepping in circulation as worked examples: 31.4 and 30.2 mL/kg/min.
		{"step 12 inches 30 a minute", athlete.CardioBout{Kind: athlete.StairClimbing, StepsPerMin: new(30.0), StepHeightCm: new(30.48)}, 70, (31.3907 - 3.5) * 70 / 200},
		{"step 15 inches 24 a minute", athlete.CardioBout{Kind: athlete.StairClimbing, StepsPerMin: new(24.0), StepHeightCm: new(38.1)}, 70, (30.1890 - 3.5) * 70 / 200},
		// A stair machine at 70 steps a minute is outside the equation: the code, 9.3 MET.
		{"stair machine 70 a minute", athlete.CardioBout{Kind: athlete.StairClimbing, StepsPerMin: new(70.0), StepHeightCm: new(20.0)}, 60, 8.3},
		{"stairs, no height", athlete.CardioBout{Kind: athlete.StairClimbing, StepsPerMin: new(24.0)}, 60, 8.3},
		// By code: 2024, and 2011 where there is no 2024 value.
		{"brisk walk 17200, 4.8 MET", athlete.CardioBout{Kind: athlete.OtherActivity, Code: "17200"}, 60, 3.8},
		{"tennis 15675, 7.3 MET", athlete.CardioBout{Kind: athlete.OtherActivity, Code: "15675"}, 60, 6.3},
		{"elliptical 5.0 MET", athlete.CardioBout{Kind: athlete.Elliptical}, 80, 4 * 80 / 60.0},
		{"stairs 9.3 MET", athlete.CardioBout{Kind: athlete.StairClimbing}, 60, 8.3},
		{"swim 5.8 MET", athlete.CardioBout{Kind: athlete.Swimming}, 60, 4.8},
		{"intervals 7.0 MET", athlete.CardioBout{Kind: athlete.Intervals}, 60, 6.0},
		{"row 5.0 MET", athlete.CardioBout{Kind: athlete.Rowing}, 60, 4.0},
		{"row 120 W 7.5 MET", athlete.CardioBout{Kind: athlete.Rowing, Watts: new(120.0)}, 60, 6.5},
		{"row 210 W 14 MET", athlete.CardioBout{Kind: athlete.Rowing, Watts: new(210.0)}, 60, 13},
		{"posing 3.0 MET, judgement", athlete.CardioBout{Kind: athlete.Posing}, 60, 2.0},
		{"walk 4.2 mph 5.5 MET", athlete.CardioBout{Kind: athlete.Walking, SpeedKmh: new(4.2 * 1.609344)}, 60, 4.5 * 1.05}, // at 5 kcal/L
		{"walk 4.7 mph 7.0 MET", athlete.CardioBout{Kind: athlete.Walking, SpeedKmh: new(4.7 * 1.609344)}, 60, 6.0 * 1.05},
		// The climb by ACSM's 1.8 x 126.07 m/min x 0.02 on top of 7.0 MET.
		{"walk 4.7 mph 2 %", athlete.CardioBout{Kind: athlete.Walking, SpeedKmh: new(4.7 * 1.609344), GradePct: new(2.0)}, 60, (6.0*3.5 + 4.5384) * 60 / 200},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r, err := cardio.RateOf(tt.bout, tt.kg)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(r.NetKcalPerMin-tt.want) > 0.001*tt.want {
				t.Errorf("net %.4f kcal/min from %s, want %.4f", r.NetKcalPerMin, r.Source, tt.want)
			}
		})
	}
}

func TestRateOfRefuses(t *testing.T) {
	for _, b := range []athlete.CardioBout{
		{Kind: "juggling"},
		{Kind: athlete.Walking, SpeedKmh: new(12.0)},
		{Kind: athlete.Walking, SpeedKmh: new(math.NaN())},
		{Kind: athlete.Walking, GradePct: new(45.0)},
		{Kind: athlete.Running, SpeedKmh: new(3.0)},
		{Kind: athlete.Cycling, Watts: new(-5.0)},
		{Kind: athlete.OtherActivity, Code: "99999"},
		{Kind: athlete.OtherActivity},
	} {
		if r, err := cardio.RateOf(b, 80); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%+v gives %+v, %v; want Invalid", b, r, err)
		}
	}
	_, err := cardio.RateOf(athlete.CardioBout{Kind: athlete.OtherActivity, Code: "15676"}, 80)
	if f := fault.All(err); len(f) != 1 || f[0].Field != "cardio_code" || !strings.Contains(f[0].Hint, "15675 tennis") {
		t.Errorf("a code near tennis gives %v", err)
	}
	if _, err := cardio.RateOf(athlete.CardioBout{Kind: athlete.Walking}, 20); fault.KindOf(err) != fault.Invalid {
		t.Errorf("20 kg: %v, want Invalid", err)
	}
}

// Faster or steeper never costs less, across the joins of the walking equation.
func TestWalkingCostRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kmh := rapid.Float64Range(0.5, 8.7).Draw(t, "km/h")
		grade := rapid.Float64Range(0, 28).Draw(t, "grade")
		at := func(kmh, grade float64) float64 {
			r, err := cardio.RateOf(athlete.CardioBout{Kind: athlete.Walking, SpeedKmh: &kmh, GradePct: &grade}, 75)
			if err != nil {
				t.Fatal(err)
			}
			return r.NetKcalPerMin
		}
		if at(kmh+0.1, grade) < at(kmh, grade)-1e-9 || at(kmh, grade+1) < at(kmh, grade) {
			t.Fatalf("cost falls near %v km/h and %v %%", kmh, grade)
		}
		if jump := math.Abs(at(kmh+0.001, grade) - at(kmh, grade)); jump > 0.05 {
			t.Fatalf("cost jumps by %v at %v km/h", jump, kmh)
		}
	})
}

var man = cardio.Body{Sex: athlete.Male, WeightKg: 80, HeightCm: 180}

// 10,000 steps of a man of 80 kg and 1.80 m are 7.47 km and 299 kcal net
// (reference sheet, recomputed: 0.415 x 1.80 m a step, 0.5 kcal/kg/km).
func TestDayOfStepsAlone(t *testing.T) {
	got, err := cardio.DayEnergy(&athlete.Day{Steps: new(10000.0)}, man, cardio.Lifting{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.TotalKcal()-298.8) > 0.01 || got.ExerciseKcal() != 0 {
		t.Errorf("total %.2f and exercise %.2f kcal, want 298.8 and 0", got.TotalKcal(), got.ExerciseKcal())
	}
}

// A level walk costs what its steps cost, so logging it as cardio or leaving it in
// the count gives the same day: nothing is counted twice.
func TestWalksAreNotCountedTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minutes := rapid.Float64Range(0, 60).Draw(t, "minutes")
		kmh := rapid.Float64Range(3, 6).Draw(t, "km/h")
		steps := rapid.Float64Range(9000, 30000).Draw(t, "steps") // the walk is 8,034 at most
		plain, err := cardio.DayEnergy(&athlete.Day{Steps: &steps}, man, cardio.Lifting{})
		if err != nil {
			t.Fatal(err)
		}
		logged, err := cardio.DayEnergy(&athlete.Day{
			Steps: &steps, Cardio: []athlete.CardioBout{{Kind: athlete.Walking, Minutes: minutes, SpeedKmh: &kmh}},
		}, man, cardio.Lifting{})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(plain.TotalKcal()-logged.TotalKcal()) > 1e-6 {
			t.Fatalf("the walk makes the day %v instead of %v kcal", logged.TotalKcal(), plain.TotalKcal())
		}
	})
}

func TestDayWithCardioAndLifting(t *testing.T) {
	day := &athlete.Day{
		Steps: new(1000.0),
		Cardio: []athlete.CardioBout{
			{Kind: athlete.Elliptical, Minutes: 30},
			{Kind: athlete.Running, Minutes: 30, SpeedKmh: new(9.0)},
		},
	}
	got, err := cardio.DayEnergy(day, man, cardio.Lifting{Minutes: 60})
	if err != nil {
		t.Fatal(err)
	}
	// 4 MET net x 80 kg x 0.5 h, and 0.2 mL/kg/m over 4,500 m at 5 kcal/L.
	if want := 160 + 0.2*4500*80/1000*5; math.Abs(got.CardioKcal-want) > 0.01 {
		t.Errorf("cardio %.2f kcal, want %.2f", got.CardioKcal, want)
	}
	// Compendium 02054: 3.5 MET, 2.5 net x 80 kg x 1 h.
	if math.Abs(got.LiftingKcal-200) > 0.01 {
		t.Errorf("lifting %.2f kcal, want 200", got.LiftingKcal)
	}
	if got.StepsKcal != 0 || got.StepsInBouts != 1000 {
		t.Errorf("%.1f kcal of steps with %v in the run; the run holds more than the count", got.StepsKcal, got.StepsInBouts)
	}
	// 02050: 6.0 MET.
	hard, err := cardio.DayEnergy(&athlete.Day{}, man, cardio.Lifting{Minutes: 60, Vigorous: true})
	if err != nil || math.Abs(hard.TotalKcal()-400) > 0.01 {
		t.Errorf("vigorous lifting %.2f kcal (%v), want 400", hard.TotalKcal(), err)
	}
}

// Hoeger et al. 2008 (mean of their runners, second-hand): 1,951 steps a mile at
// 12 minutes a mile.
func TestStepsOfARun(t *testing.T) {
	kmh := 5 * 1.609344
	got, err := cardio.DayEnergy(&athlete.Day{
		Steps: new(50000.0), Cardio: []athlete.CardioBout{{Kind: athlete.Running, Minutes: 12, SpeedKmh: &kmh}},
	}, cardio.Body{Sex: athlete.Male, WeightKg: 80, HeightCm: 172}, cardio.Lifting{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.StepsInBouts-1951) > 0.05*1951 {
		t.Errorf("a mile's run holds %.0f steps, want about 1951", got.StepsInBouts)
	}
}

func TestOddBoutIsTakenAsUsualWithANote(t *testing.T) {
	got, err := cardio.DayEnergy(&athlete.Day{
		Cardio: []athlete.CardioBout{{Kind: athlete.Walking, Minutes: 30, SpeedKmh: new(55.0)}},
	}, man, cardio.Lifting{})
	if err != nil {
		t.Fatal(err)
	}
	usual, err := cardio.RateOf(athlete.CardioBout{Kind: athlete.Walking}, man.WeightKg)
	if err != nil || math.Abs(got.CardioKcal-30*usual.NetKcalPerMin) > 1e-9 || len(got.Notes) != 1 {
		t.Errorf("cardio %.1f kcal with notes %q", got.CardioKcal, got.Notes)
	}
	if _, err := cardio.DayEnergy(&athlete.Day{Steps: new(1.0)}, cardio.Body{Sex: athlete.Male, WeightKg: 80}, cardio.Lifting{}); fault.KindOf(err) != fault.Invalid {
		t.Errorf("no height: %v, want Invalid", err)
	}
}
