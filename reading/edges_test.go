package reading

import (
	"math"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/scenario"
)

// Every body that a profile may hold can be read, measured or not.
func TestReadsEveryBody(t *testing.T) {
	for _, sex := range []athlete.Sex{athlete.Male, athlete.Female} {
		for _, height := range []float64{120, 150, 180, 230} {
			for _, weight := range []float64{35, 60, 120, 178, 190, 220} {
				a := athlete.Athlete{
					ID: "t", Name: "T", Sex: sex, BirthDate: civil.Of(1995, 3, 1), HeightCm: height,
					WeightKg: weight, WeighedOn: civil.Of(2026, 1, 1), StepsPerDay: 8000,
				}
				in := Input{Athlete: &a, AsOf: civil.Of(2026, 1, 29), HabitKcalPerKg: 6}
				for i := range 28 {
					in.Days = append(in.Days, athlete.Day{Date: a.WeighedOn.AddDays(i), WeightKg: new(weight), EnergyKcal: new(30 * weight)})
					in.Activity = append(in.Activity, 6)
				}
				r, err := Read(in, Settings{})
				if err != nil {
					t.Errorf("%s, %.0f cm, %.0f kg: %v", sex, height, weight, err)
					continue
				}
				last := r.Daily[len(r.Daily)-1]
				for _, v := range []float64{last.TrendKg.Value, last.FatKg.Low90, last.ExpenditureKc.Low90} {
					if math.IsNaN(v) {
						t.Errorf("%s, %.0f cm, %.0f kg: %+v", sex, height, weight, last)
					}
				}
			}
		}
	}
}

// A heavy body is believed to be fat, with a wide doubt, and a measurement
// settles it.
func TestHeavyBodyIsFatUntilMeasured(t *testing.T) {
	kg, sd := priorFat(athlete.Male, 190, 185)
	// 28 kg/m^2 and 1.85 m make 95.8 kg.
	if math.Abs(190-kg-28*1.85*1.85) > 1e-9 || sd < 15 {
		t.Errorf("190 kg of 185 cm: fat %.1f ± %.1f kg", kg, sd)
	}
	if kg, sd = priorFat(athlete.Male, 82, 178); math.Abs(kg-0.16*82) > 1e-9 || math.Abs(sd-0.055*82) > 1e-9 {
		t.Errorf("82 kg of 178 cm: fat %.1f ± %.1f kg", kg, sd)
	}
	sim := simulate(1, 20)
	sim.in.Athlete.WeightKg = 190
	for i := range sim.in.Days {
		sim.in.Days[i].WeightKg, sim.in.Days[i].EnergyKcal = new(190.0), new(4200.0)
	}
	sim.in.Composition = []Composition{{sim.in.Days[5].Date, "scan", 28, 1, 1.5}}
	r, err := Read(sim.in, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Daily[19].BodyFatPct; math.Abs(got.Value-28) > 1.5 || got.SD() > 2.5 {
		t.Errorf("measured at 28 %%, read as %v", got)
	}
}

// At the floor of fat the filter stays open to what is measured next.
func TestFloorOfFatKeepsItsDoubt(t *testing.T) {
	sim := simulate(5, 80)
	for i := range sim.in.Days {
		sim.in.Days[i].WeightKg = new(*sim.in.Days[i].WeightKg - 20)
	}
	sim.in.Athlete.WeightKg -= 20
	read := func(pct float64, from, to int) {
		for i := from; i < to; i += 4 {
			sim.in.Composition = append(sim.in.Composition, Composition{sim.in.Days[i].Date, "scan", pct, 0.5, 0.3})
		}
	}
	read(0.2, 0, 40)
	r, err := Read(sim.in, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Daily[40].FatKg.SD() < 0.1 {
		t.Errorf("at the floor the SD of fat is %.3f kg", r.Daily[40].FatKg.SD())
	}
	read(4, 44, 80)
	if r, err = Read(sim.in, Settings{}); err != nil {
		t.Fatal(err)
	}
	if got := r.Now.Mean[Fat] / (r.Now.Mean[Fat] + r.Now.Mean[FatFree]); math.Abs(100*got-4) > 0.8 {
		t.Errorf("measured at 4 %%, read as %.1f %%", 100*got)
	}
}

// falling is a log that falls by a share of 80 kg a week, with the scatter of a
// morning's weight left out.
func falling(weeklyShare float64, every int) *made {
	sim := simulate(7, 60)
	for i := range sim.in.Days {
		sim.in.Days[i].WeightKg = nil
		if i%every == 0 {
			sim.in.Days[i].WeightKg = new(80 * (1 - weeklyShare/7*float64(i)))
		}
	}
	return &sim
}

func TestScreenGoesByTheTrend(t *testing.T) {
	for _, c := range []struct {
		name  string
		share float64
		every int
		at    int
		slip  float64
		asked int
	}{
		{"true weights of a fast fall", 0.015, 1, 30, 0, 0},
		{"true weights, weekly", 0.015, 7, 28, 0, 0},
		{"true weights of a fast gain", -0.02, 1, 30, 0, 0},
		{"5 % in the middle", 0.01, 1, 30, 0.05, 1},
		{"5 % the other way", 0.01, 1, 30, -0.05, 1},
		{"5 % on the first day", 0.01, 1, 0, 0.05, 1},
		{"5 % on the last day", 0.01, 1, 59, -0.05, 1},
		{"5 % of two a week", 0.01, 3, 30, 0.05, 1},
		{"2.5 % is water", 0.01, 1, 30, 0.025, 0},
	} {
		sim := falling(c.share, c.every)
		w := sim.in.Days[c.at].WeightKg
		*w *= 1 + c.slip
		r, err := Read(sim.in, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Queries) != c.asked || c.asked == 1 && r.Queries[0].WeightKg != *w {
			t.Errorf("%s: asked about %+v", c.name, r.Queries)
		}
	}
}

// In simulated seasons, which hold no slips but heavy tails and days of a full
// gut, hardly any weight is asked about: fewer than one in two thousand.
func TestScreenLeavesTrueWeightsAlone(t *testing.T) {
	weights, asked := 0, 0
	for seed := range uint64(200) {
		s := scenario.Simulate(scenario.Draw(seed+60000, scenario.DrawOptions{Protocol: scenario.Losing}), seed)
		r, err := Read(input(t, &s, 140), Settings{})
		if err != nil {
			t.Fatal(err)
		}
		weights += r.Evidence.WeightsTotal + len(r.Queries)
		asked += len(r.Queries)
	}
	if t.Logf("asked about %d of %d", asked, weights); asked*2000 > weights {
		t.Errorf("asked about %d of %d", asked, weights)
	}
}
