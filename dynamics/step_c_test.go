package dynamics

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"testing"

	"pgregory.net/rapid"
)

// yardstick is the athlete and the season of testdata/step.c.
func yardstick() (Model, State, []Input) {
	m := New(Model{
		RestKcal: 700, ActivityKcalPerKg: 3, ActivityYield: 0.75, IntakeBaselineKcal: 2900,
		AdaptationGain: AdaptationGain, ThermicEffect: ThermicEffect, Partition: Trained(),
		CarbohydrateBaselineKcal: 1300, FluidBaselineKg: 20,
	})
	inputs := make([]Input, 180)
	for day := range inputs {
		e := float64(1500 + 37*(day*day%61))
		if day < 60 {
			e -= 1200
		}
		in := Input{EnergyKcal: e, CarbohydrateKcal: e * float64(day%8) * 0.1}
		if day%50 == 49 {
			in.EnergyKcal, in.CarbohydrateKcal = 14000, 13000
		}
		in.SodiumChangeMg, in.ActivityKcalPerKg = float64(500*(day%5-2)), float64(day%13)
		inputs[day] = in
	}
	return m, m.Fresh(11, 74, -60), inputs
}

// testdata/step_c.txt is what testdata/step.c prints (gcc, by tools/cloop.sh).
// The two agree to the bit where Go does not fuse multiplications and additions.
func TestStepLikeC(t *testing.T) {
	file, err := os.Open("testdata/step_c.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	m, s, inputs := yardstick()
	lines := bufio.NewScanner(file)
	days := 0
	for ; lines.Scan(); days++ {
		var day int
		var want [6]float64
		if _, err := fmt.Sscan(lines.Text(), &day, &want[0], &want[1], &want[2], &want[3], &want[4], &want[5]); err != nil {
			t.Fatal(err)
		}
		spent := m.Step(&s, inputs[day])
		for i, got := range append(vector(s), spent) {
			if math.Abs(got-want[i]) > 1e-10*math.Abs(want[i]) {
				t.Fatalf("day %d, value %d: %.17g, C has %.17g", day, i, got, want[i])
			}
		}
	}
	if days != len(inputs) {
		t.Errorf("%d days in the file, want %d", days, len(inputs))
	}
}

// Against the library's tanh, on both sides of the change of method.
func TestGlycogenIsTheRiccatiSolution(t *testing.T) {
	m, _, _ := yardstick()
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.Float64Range(0.05, 1.2).Draw(t, "glycogen")
		carbohydrate := rapid.Float64Range(1e-6, 30000).Draw(t, "carbohydrate")
		k := m.CarbohydrateBaselineKcal / (m.GlycogenBaselineKg * m.GlycogenBaselineKg)
		end := math.Sqrt(carbohydrate / k)
		r := math.Tanh(k * end / GlycogenEnergyKcalPerKg)
		want := end * (g + end*r) / (end + g*r)
		if got := m.glycogenAfterDay(g, carbohydrate); math.Abs(got-want) > 1e-11*want {
			t.Errorf("%.17g, the closed form is %.17g", got, want)
		}
	})
	within(t, "without carbohydrate", m.glycogenAfterDay(0.4, 0), 0.4/(1+0.4*1300/0.25/GlycogenEnergyKcalPerKg), 1e-15)
}

// The same split by shares, as the published partition is written.
func TestFluxIsThePartition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Trained()
		fat := rapid.Float64Range(0.5, 60).Draw(t, "fat")
		base := rapid.Float64Range(1200, 5000).Draw(t, "base")
		x := rapid.Float64Range(0, 8000).Draw(t, "intake")
		usual := rapid.Float64Range(0, 8000).Draw(t, "usual")
		scale, least := p.GainScale, 0.0
		if usual < base {
			scale, least = p.LossScale, 1-p.FatSupplyKcalPerKg*fat/(base-usual)
		}
		c := scale * forbesEnergyKg
		untrained := forbesEnergyKg / (forbesEnergyKg + fat)
		lean := max(c/(c+fat), min(untrained, least))
		stored := (x - base) / (1 + lean*leanSynthesisShare + (1-lean)*fatSynthesisShare)
		toFat, toLean := p.flux(fat, base, x, usual)
		if math.Abs(toFat-(1-lean)*stored) > 1e-9 || math.Abs(toLean-lean*stored) > 1e-9 {
			t.Errorf("%g kcal to fat and %g to lean, by shares %g and %g", toFat, toLean, (1-lean)*stored, lean*stored)
		}
	})
}

// A season of changing days, each waiting for the last.
func BenchmarkSeason(b *testing.B) {
	m, first, inputs := yardstick()
	sum := 0.0
	for b.Loop() {
		s := first
		for day := range inputs {
			sum += m.Step(&s, inputs[day])
		}
	}
	perStep(b, len(inputs), sum)
}

// A thousand athletes side by side, day by day.
func BenchmarkSideBySide(b *testing.B) {
	m, first, inputs := yardstick()
	bodies := make([]State, 1000)
	sum := 0.0
	for b.Loop() {
		for i := range bodies {
			bodies[i] = first
		}
		for day := range inputs {
			for i := range bodies {
				sum += m.Step(&bodies[i], inputs[day])
			}
		}
	}
	perStep(b, len(inputs)*len(bodies), sum)
}

func perStep(b *testing.B, steps int, sum float64) {
	if math.IsNaN(sum) {
		b.Fatal("a step is not a number")
	}
	each := b.Elapsed().Seconds() / float64(b.N) / float64(steps)
	b.ReportMetric(1e9*each, "ns/step")
	b.ReportMetric(1e-6/each, "Mdays/s")
}
