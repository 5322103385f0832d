package food_test

import (
	"math"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/food"

	"pgregory.net/rapid"
)

// man is the reference sheet's test person: 90 kg, 15 % fat.
func man(mean float64, w food.Week) food.Need {
	return food.Need{
		MeanEnergyKcal: mean, MaintenanceKcal: 3000, WeightKg: 90, FFMKg: 76.5, Sex: athlete.Male, Week: w,
	}
}

func mustPlan(t *testing.T, n food.Need) map[athlete.DayType]athlete.DayPrescribed {
	t.Helper()
	plan, err := food.Macros(n)
	if err != nil {
		t.Fatal(err)
	}
	byType := map[athlete.DayType]athlete.DayPrescribed{}
	for _, d := range plan.Days {
		byType[d.Type] = d
	}
	return byType
}

// kcal is Atwater's sum, worked here apart from the package: 200 g protein,
// 250 g carbohydrate and 60 g fat hold 2,340 kcal (Merrill & Watt 1955 factors).
func kcal(d athlete.DayPrescribed) float64 {
	return 4*d.ProteinG + 4*d.CarbohydrateG + 9*d.FatG
}

func TestMacrosOfAnOrdinaryWeek(t *testing.T) {
	days := mustPlan(t, man(2400, food.Week{Training: 4, Rest: 2, Refeed: 1}))
	training, rest, refeed := days[athlete.TrainingDay], days[athlete.RestDay], days[athlete.RefeedDay]
	if mean := (4*training.EnergyKcal + 2*rest.EnergyKcal + refeed.EnergyKcal) / 7; mean != 2400 {
		t.Errorf("mean = %v, want 2400 exactly", mean)
	}
	if math.Abs(refeed.EnergyKcal-3000) > 100 {
		t.Errorf("refeed = %v, want about maintenance, 3000", refeed.EnergyKcal)
	}
	// Helms et al. 2014, IJSNEM 24:127: 2.3 to 3.1 g/kg FFM; 15 % fat is the far
	// end for men, so the aim is the floor: 2.3 x 76.5 = 175.95.
	if training.ProteinG != 176 {
		t.Errorf("protein = %v, want 176", training.ProteinG)
	}
	// Helms et al. 2014, JISSN 11:20: fat 15 to 30 % of energy.
	for _, d := range days {
		if share := 9 * d.FatG / d.EnergyKcal; share < 0.15 || share > 0.31 {
			t.Errorf("%s: fat share %.3f is outside 0.15 to 0.30", d.Type, share)
		}
	}
	if refeed.FatG >= training.FatG {
		t.Errorf("refeed fat %v is not below a training day's %v", refeed.FatG, training.FatG)
	}
	if !(refeed.CarbohydrateG > training.CarbohydrateG && training.CarbohydrateG > rest.CarbohydrateG) {
		t.Errorf("carbohydrate does not rise from rest %v to training %v to refeed %v",
			rest.CarbohydrateG, training.CarbohydrateG, refeed.CarbohydrateG)
	}
	// The aim is a gap of 10 % of the mean, within the rounding of 25 kcal steps
	// that must sum to the week.
	if gap := training.EnergyKcal - rest.EnergyKcal; math.Abs(gap-240) > 75 {
		t.Errorf("training day has %v kcal more than rest, want about 240", gap)
	}
}

// Protein rises towards stage leanness (Helms et al. 2014, IJSNEM 24:127).
func TestProteinRisesWithLeanness(t *testing.T) {
	w := food.Week{Training: 5, Rest: 2}
	far, _ := food.Macros(food.Need{MeanEnergyKcal: 2600, WeightKg: 80, FFMKg: 66, Sex: athlete.Male, Week: w})
	lean, err := food.Macros(food.Need{MeanEnergyKcal: 2600, WeightKg: 80, FFMKg: 75.2, Sex: athlete.Male, Week: w})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(far.ProteinGPerKgFFM-2.3) > 0.01 || math.Abs(lean.ProteinGPerKgFFM-2.8) > 0.01 {
		t.Errorf("protein %.2f and %.2f g/kg FFM, want 2.3 far and 2.8 at stage leanness",
			far.ProteinGPerKgFFM, lean.ProteinGPerKgFFM)
	}
}

func TestMacrosRefusals(t *testing.T) {
	heavyRefeeds := man(1900, food.Week{Training: 2, Rest: 1, Refeed: 4})
	tests := []struct {
		name  string
		need  food.Need
		kind  fault.Kind
		field string
		says  string
	}{
		{"energy below the floors", man(1200, food.Week{Training: 5, Rest: 2}), fault.Refused, "mean_energy_kcal", "the largest is protein"},
		{"carbohydrate binds", withCarb(man(1900, food.Week{Training: 7}), 3), fault.Refused, "mean_energy_kcal", "the largest is carbohydrate"},
		{"refeeds leave too little", heavyRefeeds, fault.Refused, "week", "4 days at maintenance"},
		{"week of six days", man(2400, food.Week{Training: 6}), fault.Invalid, "week", "must fill 7"},
		{"refeed above maintenance", man(3200, food.Week{Training: 6, Refeed: 1}), fault.Invalid, "week", "no deficit"},
		{"refeed without maintenance", food.Need{
			MeanEnergyKcal: 2400, WeightKg: 90, FFMKg: 76, Sex: athlete.Male,
			Week: food.Week{Training: 6, Refeed: 1},
		}, fault.Invalid, "maintenance_kcal", ""},
		{"lean mass above weight", food.Need{MeanEnergyKcal: 2400, WeightKg: 70, FFMKg: 76, Sex: athlete.Male, Week: food.Week{Rest: 7}}, fault.Invalid, "ffm_kg", ""},
		{"not a number", man(math.NaN(), food.Week{Rest: 7}), fault.Invalid, "mean_energy_kcal", ""},
		{"no sex", food.Need{MeanEnergyKcal: 2400, WeightKg: 90, FFMKg: 76, Week: food.Week{Rest: 7}}, fault.Invalid, "sex", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := food.Macros(tt.need)
			if fault.KindOf(err) != tt.kind {
				t.Fatalf("err = %v, want kind %s", err, tt.kind)
			}
			if f := fault.All(err)[0]; f.Field != tt.field || !strings.Contains(f.Message, tt.says) {
				t.Errorf("fault on %q says %q; want %q and %q", f.Field, f.Message, tt.field, tt.says)
			}
		})
	}
}

func withCarb(n food.Need, gPerKg float64) food.Need {
	n.Settings.CarbohydrateGPerKg = gPerKg
	return n
}

// Where energy is short, fat gives way before protein, and the notes say so.
func TestWhatGivesWay(t *testing.T) {
	n := man(1800, food.Week{Training: 5, Rest: 2})
	n.Settings.ProteinGPerKgFFM, n.Settings.FatSharePct = 3.1, 30
	plan, err := food.Macros(n)
	if err != nil {
		t.Fatal(err)
	}
	if notes := strings.Join(plan.Notes, " "); !strings.Contains(notes, "Fat is") {
		t.Errorf("notes = %q, want a word on fat", notes)
	}
	if math.Abs(plan.ProteinGPerKgFFM-3.1) > 0.01 {
		t.Errorf("protein fell to %.2f g/kg FFM while fat could give way", plan.ProteinGPerKgFFM)
	}
	n.MeanEnergyKcal = 1525
	if plan, err = food.Macros(n); err != nil {
		t.Fatal(err)
	}
	if notes := strings.Join(plan.Notes, " "); !strings.Contains(notes, "Protein is") {
		t.Errorf("notes = %q, want a word on protein", notes)
	}
}

func TestDietBreakWeekTakesTheMean(t *testing.T) {
	d := mustPlan(t, man(3000, food.Week{DietBreak: 7}))[athlete.DietBreakDay]
	if d.EnergyKcal != 3000 || d.PerWeek != 7 {
		t.Errorf("diet break = %+v, want 7 days of 3000 kcal", d)
	}
}

func drawNeed(t *rapid.T) food.Need {
	sex := rapid.SampledFrom([]athlete.Sex{athlete.Female, athlete.Male}).Draw(t, "sex")
	weight := rapid.Float64Range(45, 120).Draw(t, "weight")
	maintenance := rapid.Float64Range(1800, 4000).Draw(t, "maintenance")
	refeed := rapid.IntRange(0, 3).Draw(t, "refeed")
	dietBreak := rapid.IntRange(0, 2).Draw(t, "diet break")
	training := rapid.IntRange(0, 7-refeed-dietBreak).Draw(t, "training")
	limits := athlete.DefaultLimits(sex)
	limits.FatGPerKg = rapid.Float64Range(0.4, 1).Draw(t, "fat floor")
	limits.ProteinGPerKgFFM = rapid.Float64Range(1.6, 3).Draw(t, "protein floor")
	return food.Need{
		MeanEnergyKcal:  maintenance * rapid.Float64Range(0.4, 1.2).Draw(t, "share"),
		MaintenanceKcal: maintenance,
		WeightKg:        weight,
		FFMKg:           weight * rapid.Float64Range(0.7, 0.95).Draw(t, "lean"),
		Sex:             sex,
		Limits:          &limits,
		Week:            food.Week{Training: training, Rest: 7 - refeed - dietBreak - training, Refeed: refeed, DietBreak: dietBreak},
		Settings: food.Settings{
			FatSharePct:      rapid.Float64Range(15, 30).Draw(t, "fat share"),
			TrainingExtraPct: rapid.Float64Range(0, 30).Draw(t, "extra"),
			SameEveryDay:     rapid.Bool().Draw(t, "same"),
		},
	}
}

func TestPropertyOfEveryWeek(t *testing.T) {
	planned, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		n := drawNeed(t)
		plan, err := food.Macros(n)
		if err != nil {
			checkRefusal(t, n, err)
			refused++
			return
		}
		planned++
		var days int
		var energy float64
		for _, d := range plan.Days {
			days += d.PerWeek
			energy += d.EnergyKcal * float64(d.PerWeek)
			checkDay(t, n, d, plan.Days[0].ProteinG)
		}
		want := math.Round(n.MeanEnergyKcal/25) * 25
		if days != 7 || energy != 7*want {
			t.Fatalf("the week holds %d days and a mean of %v, want 7 and %v", days, energy/7, want)
		}
		checkOrder(t, plan.Days)
	})
	if planned < 5 || refused == 0 {
		t.Errorf("%d weeks planned and %d refused: the property was hardly tried", planned, refused)
	}
}

func checkDay(t *rapid.T, n food.Need, d athlete.DayPrescribed, protein float64) {
	if kcal(d) != d.EnergyKcal {
		t.Fatalf("%s: macros hold %v kcal, the day says %v", d.Type, kcal(d), d.EnergyKcal)
	}
	if math.Mod(d.EnergyKcal, 25) != 0 {
		t.Fatalf("%s: %v kcal is not a multiple of 25", d.Type, d.EnergyKcal)
	}
	const slip = 1e-6
	switch {
	case d.ProteinG != protein:
		t.Fatalf("protein differs between days: %v and %v", d.ProteinG, protein)
	case d.ProteinG < n.Limits.ProteinGPerKgFFM*n.FFMKg-slip:
		t.Fatalf("protein %v is below its floor", d.ProteinG)
	case d.FatG < n.Limits.FatGPerKg*n.WeightKg-slip || 9*d.FatG < 0.15*d.EnergyKcal-slip:
		t.Fatalf("fat %v is below its floor", d.FatG)
	case d.CarbohydrateG < n.WeightKg-slip || d.CarbohydrateG < d.FibreG:
		t.Fatalf("carbohydrate %v is below its floor", d.CarbohydrateG)
	case d.FibreG < n.Limits.FibreGPer1000*d.EnergyKcal/1000-slip:
		t.Fatalf("fibre %v is below its floor", d.FibreG)
	}
	if (d.Type == athlete.RefeedDay || d.Type == athlete.DietBreakDay) && n.Week.Refeed+n.Week.DietBreak < 7 &&
		math.Abs(d.EnergyKcal-n.MaintenanceKcal) > 100 {
		t.Fatalf("%s: %v kcal is more than 100 from maintenance %v", d.Type, d.EnergyKcal, n.MaintenanceKcal)
	}
}

func checkOrder(t *rapid.T, days []athlete.DayPrescribed) {
	byType := map[athlete.DayType]athlete.DayPrescribed{}
	for _, d := range days {
		byType[d.Type] = d
	}
	order := []athlete.DayType{athlete.RestDay, athlete.TrainingDay, athlete.RefeedDay}
	for i := range order {
		for _, richer := range order[i+1:] {
			a, okA := byType[order[i]]
			b, okB := byType[richer]
			if !okA || !okB {
				continue
			}
			if b.EnergyKcal < a.EnergyKcal {
				t.Fatalf("%s has %v kcal, %s only %v", a.Type, a.EnergyKcal, b.Type, b.EnergyKcal)
			}
			// Two steps of energy outweigh the 3 g of fat that rounding may add.
			if b.EnergyKcal >= a.EnergyKcal+50 && b.CarbohydrateG < a.CarbohydrateG {
				t.Fatalf("%s has %v g carbohydrate, %s only %v", a.Type, a.CarbohydrateG, b.Type, b.CarbohydrateG)
			}
		}
	}
}

// checkRefusal holds a refusal to its word: without days at maintenance, energy
// must truly be below the sum of the floors, give or take rounding.
func checkRefusal(t *rapid.T, n food.Need, err error) {
	kind := fault.KindOf(err)
	if kind != fault.Refused && kind != fault.Invalid {
		t.Fatalf("err = %v, want a fault", err)
	}
	if kind == fault.Invalid || n.Week.Refeed+n.Week.DietBreak > 0 {
		return
	}
	e := n.MeanEnergyKcal
	fat := math.Max(n.Limits.FatGPerKg*n.WeightKg, 0.15*e/9)
	carb := math.Max(n.WeightKg, n.Limits.FibreGPer1000*e/1000)
	floors := 4*n.Limits.ProteinGPerKgFFM*n.FFMKg + 9*fat + 4*carb
	// Rounding up: 1 g protein, 4 g fat, 1 g carbohydrate, 12.5 kcal of energy.
	if e > floors+4+36+4+12.5 {
		t.Fatalf("refused %v kcal though the floors need %v: %v", e, floors, err)
	}
}
