package reading

import (
	"math"
	"math/rand/v2"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
)

// made is a simulated log with its truth, from the filter's own model: a check
// of the arithmetic. Calibration against a different truth is in
// calibration_test.go.
type made struct {
	in          Input
	expenditure []float64
	fat         []float64
}

func simulate(seed uint64, days int) made {
	r := rand.New(rand.NewPCG(seed, 1))
	a := &athlete.Athlete{
		ID: "t", Name: "T", Sex: athlete.Male, BirthDate: civil.Of(1995, 3, 1), HeightCm: 178,
		WeightKg: 84, WeighedOn: civil.Of(2026, 1, 1), StepsPerDay: 8000,
	}
	in := Input{Athlete: a, HabitKcalPerKg: 6}
	in.AsOf = a.WeighedOn.AddDays(days - 1)
	probe, _ := newFilter(&Input{Athlete: a, AsOf: a.WeighedOn, HabitKcalPerKg: 6}, Settings{}.withDefaults())
	m := probe.model
	fat := 84 * (0.16 + 0.05*r.NormFloat64())
	m.RestKcal += 220 * r.NormFloat64()
	m.Partition.LossScale *= math.Exp(0.6 * r.NormFloat64())
	s := m.Fresh(fat, 84-fat, 0)
	out := made{in: in}
	slow := 0.0
	balance := m.BalanceKcal(&s, 6)
	for i := range days {
		e := balance - 500 + 120*r.NormFloat64()
		act := 6 + 0.8*r.NormFloat64()
		slow = slow*math.Exp(-1.0/6) + 0.4*math.Sqrt(1-math.Exp(-2.0/6))*r.NormFloat64()
		d := athlete.Day{Date: a.WeighedOn.AddDays(i)}
		d.WeightKg = new(s.WeightKg() + slow + 0.34*r.NormFloat64())
		if r.Float64() < 0.8 {
			d.EnergyKcal = new(e)
			d.CarbohydrateG = new(0.45 * e / 4)
		}
		out.in.Days = append(out.in.Days, d)
		out.in.Activity = append(out.in.Activity, act)
		out.expenditure = append(out.expenditure, m.MaintenanceKcal(&s, balance-500, 6))
		out.fat = append(out.fat, s.FatKg)
		m.Step(&s, dynamics.Input{EnergyKcal: e, CarbohydrateKcal: 0.45 * e, ActivityKcalPerKg: act})
	}
	return out
}

func TestReadsItsOwnModel(t *testing.T) {
	var inside, fatInside, n int
	var errs []float64
	for seed := range uint64(200) {
		sim := simulate(seed, 29)
		r, err := Read(sim.in, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		last := r.Daily[len(r.Daily)-1]
		truth := sim.expenditure[len(sim.expenditure)-1]
		errs = append(errs, math.Abs(last.ExpenditureKc.Value-truth))
		if last.ExpenditureKc.Low90 <= truth && truth <= last.ExpenditureKc.High90 {
			inside++
		}
		if f := sim.fat[len(sim.fat)-1]; last.FatKg.Low90 <= f && f <= last.FatKg.High90 {
			fatInside++
		}
		n++
	}
	t.Logf("expenditure: mean error %.0f kcal, 90 %% interval holds %d of %d; fat %d", mean(errs), inside, n, fatInside)
	if inside < n*82/100 || fatInside < n*82/100 {
		t.Errorf("90 %% intervals hold expenditure in %d and fat in %d of %d", inside, fatInside, n)
	}
}
