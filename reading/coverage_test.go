package reading

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/numeric"
	"glidepath/scenario"
)

// tally counts how often the 50 and 90 % intervals hold the truth, and sums how
// far off they are, in their standard deviations.
type tally struct {
	n, in50, in90 int
	z, z2, sd     float64
}

func (c *tally) add(v numeric.Interval, truth float64) {
	c.n++
	count(&c.in50, truth, v.Low50, v.High50)
	count(&c.in90, truth, v.Low90, v.High90)
	z := (v.Value - truth) / v.SD()
	c.z += z
	c.z2 += z * z
	c.sd += v.SD()
}

func (c *tally) String() string {
	n := float64(c.n)
	return fmt.Sprintf("%.1f and %.1f (off by %+.2f ± %.2f of its SD of %.2f)",
		100*share(c.in50, c.n), 100*share(c.in90, c.n), c.z/n, math.Sqrt(c.z2/n), c.sd/n)
}

// told gives the series the errors that package scenario draws from (tester.go
// there), as a coach who knows their hand can (athlete.MethodErrors).
func told(in *Input) {
	for i := range in.Composition {
		c := &in.Composition[i]
		switch {
		case strings.HasPrefix(c.Series, string(athlete.Calipers7)):
			c.BiasSD, c.ReadingSD = 2.2, 0.9
		case strings.HasPrefix(c.Series, string(athlete.Scan)):
			c.BiasSD, c.ReadingSD = 1.5, 0.6
		default:
			c.BiasSD, c.ReadingSD = 2, 1.3
		}
	}
}

// prescribedScale is the true expenditure of the last week as somebody sees it
// who knows what is prescribed and not what is eaten: the difference of the two is
// that of the last fortnight (as package scenario does it for what is reported).
func prescribedScale(s *scenario.Season, days int) float64 {
	eaten, asked := s.Truth[0].IntakeKcal, s.Prescriptions[0].MeanEnergyKcal()
	mean := 0.0
	for i, d := range s.Truth[:days] {
		eaten += (d.IntakeKcal - eaten) / 14
		asked += (prescribed(s.Prescriptions, d.Date).MeanEnergyKcal() - asked) / 14
		if i >= days-7 {
			mean += (d.ExpenditureKcal - eaten + asked) / 7
		}
	}
	return mean
}

// Intervals hold what they say, on seeds that were not looked at while anything was
// chosen (30000 to 31499 set the noises, 40000 to 51999 showed what was missing). A
// sample of 500 has a standard error of 2.2 % at one half and 1.3 % at nine tenths:
// the bounds are those of 47 to 53 and 87 to 93 % with two of them, and more where
// an interval is wide, as that of expenditure is where intake is never logged.
func TestCoverage(t *testing.T) {
	const athletes, firstSeed = 500, 70000
	for _, c := range []struct {
		name    string
		options scenario.DrawOptions
		noPlan  bool
	}{
		{"habits drawn", scenario.DrawOptions{}, false},
		{"losing", scenario.DrawOptions{Protocol: scenario.Losing}, false},
		{"intake never logged", scenario.DrawOptions{IntakeShare: -1}, false},
		{"intake neither logged nor prescribed", scenario.DrawOptions{IntakeShare: -1, Protocol: scenario.Holding}, true},
	} {
		c.options.Weeks = 20
		weeks := [...]int{4, 8, 12, 20}
		var fat, lean, expenditure [len(weeks)]tally
		for i := range uint64(athletes) {
			spec := scenario.Draw(firstSeed+i, c.options)
			if c.noPlan {
				spec.Plan = nil
			}
			s := scenario.Simulate(spec, firstSeed+i)
			for k, w := range weeks {
				in := input(t, &s, 7*w)
				told(&in)
				r, err := Read(in, Settings{})
				if err != nil {
					t.Fatal(err)
				}
				last, end := r.Daily[len(r.Daily)-1], s.Truth[7*w-1]
				fat[k].add(last.FatKg, end.FatKg)
				lean[k].add(last.LeanKg, end.LeanKg)
				expenditure[k].add(last.ExpenditureKc, toldExpenditure(&s, 7*w, c.options.IntakeShare < 0 && !c.noPlan))
			}
		}
		for k, w := range weeks {
			t.Logf("%s, %d weeks: expenditure %s; fat %s; lean %s", c.name, w, &expenditure[k], &fat[k], &lean[k])
			for name, got := range map[string]*tally{"fat": &fat[k], "lean": &lean[k], "expenditure": &expenditure[k]} {
				if v := 100 * share(got.in50, got.n); v < 43 || v > 64 {
					t.Errorf("%s, %d weeks: the 50 %% interval of %s holds %.1f", c.name, w, name, v)
				}
				if v := 100 * share(got.in90, got.n); v < 84.4 || v > 96 {
					t.Errorf("%s, %d weeks: the 90 %% interval of %s holds %.1f", c.name, w, name, v)
				}
			}
		}
	}
}

// toldExpenditure is the last week's true expenditure on the scale on which it
// is told: of reports, or where there are none of the prescription.
func toldExpenditure(s *scenario.Season, days int, ofPlan bool) float64 {
	if ofPlan {
		return prescribedScale(s, days)
	}
	sum := 0.0
	for _, d := range s.Truth[days-7 : days] {
		sum += d.ReportedScaleExpenditureKcal / 7
	}
	return sum
}

// Without reports or a prescription expenditure is what equations expect, however
// long the log; with a prescription its scale is that, and the gap is the body's.
func TestLevelComesWithThePrescription(t *testing.T) {
	sim := simulate(2, 100)
	for i := range sim.in.Days {
		sim.in.Days[i].EnergyKcal, sim.in.Days[i].CarbohydrateG = nil, nil
	}
	begins := sim.in.Days[50].Date
	sim.in.Prescriptions = []athlete.Prescription{{From: begins, Days: []athlete.DayPrescribed{{PerWeek: 7, EnergyKcal: 2400}}}}
	r, err := Read(sim.in, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	before, after := r.Daily[49], r.Daily[99]
	if sd := before.ExpenditureKc.SD(); math.Abs(sd-220) > 1e-6 {
		t.Errorf("without any level the SD of expenditure is %.1f", sd)
	}
	// simulate eats 500 kcal a day under what would hold the first morning's body.
	gap := after.ExpenditureKc.Value - 2400
	if sd := after.ExpenditureKc.SD(); sd > 130 || math.Abs(gap-(sim.expenditure[99]-sim.expenditure[0]+500)) > 2.5*sd {
		t.Errorf("expenditure is %.0f ± %.0f above a prescription that is eaten 500 under", gap, sd)
	}
}
