package physiology

import (
	"math"
	"testing"

	"glidepath/athlete"

	"pgregory.net/rapid"
)

// Recomputed from the printed kJ of Hall et al. 2011 at 4.184 kJ a kcal.
func TestHallConstants(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"fat", FatEnergyKcalPerKg, 9440.73},
		{"lean", LeanEnergyKcalPerKg, 1816.44},
		{"glycogen", GlycogenEnergyKcalPerKg, 4206.50},
		{"fat at rest", FatRestingKcalPerKg, 3.10707},
		{"lean at rest", LeanRestingKcalPerKg, 21.9885},
		{"fat synthesis", FatSynthesisKcalPerKg, 179.254},
		{"lean synthesis", LeanSynthesisKcalPerKg, 229.446},
		{"partition", PartitionKg, 2.00101},
		// Shares, glycogen and its water as printed; time constant and sodium from
		// memory.
		{"thermic share", ThermicShare, 0.10},
		{"adaptive share", AdaptiveShare, 0.14},
		{"adaptation", AdaptationDays, 14},
		{"glycogen", GlycogenInitialKg, 0.5},
		{"water per glycogen", WaterPerGlycogen, 2.7},
		{"sodium in fluid", SodiumMgPerL, 3220},
		{"sodium excreted", SodiumExcretedMgPerLDay, 3000},
		{"sodium and carbohydrate", SodiumCarbohydrateMgADay, 4000},
	} {
		near(t, c.name, c.got, c.want, 1e-5*c.want)
	}
}

// Recomputed from Hall et al. 2011, linearised model: RMR and delta of four
// adults.
func TestInitialActivity(t *testing.T) {
	for _, c := range []struct {
		body       Body
		pal        float64
		rmr, delta float64
	}{
		{Body{athlete.Male, 40, 178, 90, 28}, 1.5, 1819.8, 7.077},
		{Body{athlete.Female, 40, 164, 80, 32}, 1.5, 1466.4, 6.416},
		{Body{athlete.Male, 30, 180, 90, 13.5}, 1.6, 1881.5, 9.198},
		{Body{athlete.Female, 28, 167, 65, 15}, 1.6, 1394.3, 9.439},
	} {
		rmr := must(MifflinStJeor(c.body))(t)
		near(t, "RMR", rmr, c.rmr, 0.06)
		near(t, "delta", must(InitialActivityKcalPerKg(c.pal, rmr, c.body.WeightKg))(t), c.delta, 0.0006)
	}
}

func TestInitialState(t *testing.T) {
	// Recomputed from Jackson et al. 2002: 24.3 % for a man of 90 kg, 180 cm and 30
	// years, who would be a lean athlete.
	near(t, "Jackson 2002, man", must(InitialFatKg(man))(t)/man.WeightKg*100, 24.29, 0.01)
	near(t, "Jackson 2002, woman", must(InitialFatKg(woman))(t)/woman.WeightKg*100,
		0.14*28+39.96*math.Log(60/(1.65*1.65))-102.01, 1e-9)
	// Silva et al. 2007, coefficients from memory. Of the man's case the dynamics'
	// reference has 22.766 L, computed apart.
	near(t, "Silva 2007, man", must(InitialExtracellularL(man))(t), 22.766, 0.001)
	near(t, "Silva 2007, woman", must(InitialExtracellularL(woman))(t), -4.0+5.98*1.65+0.167*60, 1e-9)
}

// Recomputed from Forbes 1987 and the energies of Hall et al. 2011.
func TestForbesTable(t *testing.T) {
	for _, c := range []struct{ fat, p, lean, stored, deposit float64 }{
		{3, 0.4001, 0.7761, 3523, 3742},
		{5, 0.2858, 0.6753, 4292, 4505},
		{10, 0.1667, 0.5098, 5554, 5759},
		{15, 0.1177, 0.4094, 6319, 6519},
		{20, 0.0910, 0.3421, 6832, 7029},
		{30, 0.0625, 0.2574, 7478, 7670},
		{40, 0.0476, 0.2063, 7867, 8057},
	} {
		near(t, "share of energy", LeanShareOfEnergy(c.fat), c.p, 0.00006)
		near(t, "share of mass", LeanShareOfMass(c.fat), c.lean, 0.00006)
		near(t, "kcal/kg", TissueKcalPerKg(c.fat), c.stored, 0.6)
		near(t, "kcal/kg with its cost", DepositKcalPerKg(c.fat), c.deposit, 0.6)
	}
}

// Recomputed from Hall 2007, Br J Nutr 97:1059 (form from memory).
func TestAfterWeightChange(t *testing.T) {
	for _, c := range []struct{ fat, change, after, ffm float64 }{
		{20, -5, 16.808, -1.808},
		{20, -10, 13.834, -3.834},
		{10, -5, 7.708, -2.708},
		{40, -10, 32.242, -2.242},
		{15, 5, 18.066, 1.934},
	} {
		after, ffm, err := AfterWeightChange(c.fat, c.change)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "fat after", after, c.after, 0.0006)
		near(t, "FFM change", ffm, c.ffm, 0.0006)
	}
}

// Forbes's curve itself: dFFM = 10.4 ln(F/Fi), so that there and back is where
// one was and two steps are one.
func TestAfterWeightChangeIsForbesCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fat := rapid.Float64Range(1, 100).Draw(t, "fat")
		change := rapid.Float64Range(-30, 40).Draw(t, "change")
		after, ffm, err := AfterWeightChange(fat, change)
		if err != nil {
			t.Fatal(err)
		}
		if d := ffm - ForbesKg*math.Log(after/fat); math.Abs(d) > 1e-9 {
			t.Fatalf("off Forbes's curve by %g", d)
		}
		half, _, err := AfterWeightChange(fat, change/2)
		if err != nil || half < 0.5 {
			return
		}
		twice, _, err := AfterWeightChange(half, change/2)
		if err != nil || math.Abs(twice-after) > 1e-9*(1+after) {
			t.Fatalf("two half steps give %v, one gives %v (%v)", twice, after, err)
		}
	})
}

func TestNegativeFatPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a negative fat mass did not panic")
		}
	}()
	LeanShareOfMass(-1)
}
