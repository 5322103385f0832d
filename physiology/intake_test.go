package physiology

import (
	"math"
	"testing"

	"glidepath/athlete"
)

// Institute of Medicine, Dietary Reference Intakes (summary tables), and National
// Academies 2019 for sodium and potassium. Protein, fibre, iron, potassium, sodium
// and zinc targets and what changes at 51 are from memory.
func TestReferenceIntakes(t *testing.T) {
	none := math.NaN()
	young := map[Nutrient][3]float64{ // man, woman, upper
		Protein: {0.8, 0.8, none}, Fibre: {38, 25, none}, Calcium: {1000, 1000, 2500}, Iron: {8, 18, 45},
		Magnesium: {400, 310, 350}, Potassium: {3400, 2600, none}, Sodium: {1500, 1500, 2300}, Zinc: {11, 8, 40},
		VitaminA: {900, 700, 3000}, VitaminC: {90, 75, 2000}, VitaminD: {15, 15, 100}, VitaminE: {15, 15, 1000},
		VitaminK: {120, 90, none}, Thiamin: {1.2, 1.1, none}, Riboflavin: {1.3, 1.1, none}, Niacin: {16, 14, 35},
		VitaminB6: {1.3, 1.3, 100}, Folate: {400, 400, 1000}, VitaminB12: {2.4, 2.4, none},
	}
	for i, sex := range []athlete.Sex{athlete.Male, athlete.Female} {
		list := must(ReferenceIntakes(sex, 25))(t)
		if len(list) != len(young) {
			t.Errorf("%d nutrients for %s, want %d", len(list), sex, len(young))
		}
		for _, r := range list {
			want := young[r.Nutrient]
			if r.Target != want[i] || r.Unit == "" || r.Kind == "" {
				t.Errorf("%s, %s: %+v, want %v", r.Nutrient, sex, r, want[i])
			}
			if (r.Upper == nil) != math.IsNaN(want[2]) || r.Upper != nil && *r.Upper != want[2] {
				t.Errorf("%s: upper level %v, want %v", r.Nutrient, r.Upper, want[2])
			}
		}
	}
}

func TestReferenceIntakesByAge(t *testing.T) {
	at := func(sex athlete.Sex, age float64) map[Nutrient]ReferenceIntake {
		out := map[Nutrient]ReferenceIntake{}
		for _, r := range must(ReferenceIntakes(sex, age))(t) {
			out[r.Nutrient] = r
		}
		return out
	}
	for _, c := range []struct {
		sex    athlete.Sex
		age    float64
		n      Nutrient
		target float64
	}{
		{athlete.Male, 30.9, Magnesium, 400},
		{athlete.Male, 31, Magnesium, 420},
		{athlete.Female, 31, Magnesium, 320},
		{athlete.Female, 50.9, Iron, 18},
		// From memory.
		{athlete.Female, 51, Iron, 8},
		{athlete.Female, 51, Calcium, 1200},
		{athlete.Male, 51, Calcium, 1000},
		{athlete.Male, 51, Fibre, 30},
		{athlete.Female, 51, Fibre, 21},
		{athlete.Male, 51, VitaminB6, 1.7},
		{athlete.Female, 51, VitaminB6, 1.5},
	} {
		if got := at(c.sex, c.age)[c.n].Target; got != c.target {
			t.Errorf("%s at %v, %s: %v, want %v", c.n, c.age, c.sex, got, c.target)
		}
	}
	if u := *at(athlete.Male, 51)[Calcium].Upper; u != 2000 {
		t.Errorf("upper level of calcium at 51 is %v, want 2000", u)
	}
	if u := *at(athlete.Male, 50)[Calcium].Upper; u != 2500 {
		t.Errorf("asking for 51 changed the level at 50 to %v", u)
	}
}

// Institute of Medicine 1998: 1 DFE is 1 µg from food, 0.6 of folic acid with food,
// 0.5 on an empty stomach.
func TestFolateEquivalents(t *testing.T) {
	near(t, "mixed", FolateEquivalentsUg(100, 60, 50), 100+100+100, 1e-9)
}
