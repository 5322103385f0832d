package physiology

import (
	"errors"

	"glidepath/athlete"
)

// IntakeKind tells a recommended allowance from an adequate intake.
type IntakeKind string

// The kinds of reference intake.
const (
	Recommended IntakeKind = "recommended" // covers nearly everybody
	Adequate    IntakeKind = "adequate"    // what healthy people take; less certain
)

// Nutrient names a nutrient with a reference intake.
type Nutrient string

// The nutrients.
const (
	Protein    Nutrient = "protein"
	Fibre      Nutrient = "fibre"
	Calcium    Nutrient = "calcium"
	Iron       Nutrient = "iron"
	Magnesium  Nutrient = "magnesium"
	Potassium  Nutrient = "potassium"
	Sodium     Nutrient = "sodium"
	Zinc       Nutrient = "zinc"
	VitaminA   Nutrient = "vitamin A"
	VitaminC   Nutrient = "vitamin C"
	VitaminD   Nutrient = "vitamin D"
	VitaminE   Nutrient = "vitamin E"
	VitaminK   Nutrient = "vitamin K"
	Thiamin    Nutrient = "thiamin"
	Riboflavin Nutrient = "riboflavin"
	Niacin     Nutrient = "niacin"
	VitaminB6  Nutrient = "vitamin B6"
	Folate     Nutrient = "folate"
	VitaminB12 Nutrient = "vitamin B12"
)

// ReferenceIntake is a daily dietary reference intake of the United States and
// Canada for healthy people.
type ReferenceIntake struct {
	Nutrient Nutrient
	Unit     string
	Kind     IntakeKind
	Target   float64
	// Upper is the tolerable upper level, nil where none is set. For sodium it is
	// the level above which to cut down.
	Upper *float64
	// UpperFrom says what the upper level counts, where it is not everything eaten.
	UpperFrom string
	// Recalled marks a target that is from memory.
	Recalled bool
}

// intakeLine is a nutrient's line for 19 to 30 years.
type intakeLine struct {
	ReferenceIntake
	male, female float64
}

func line(n Nutrient, unit string, kind IntakeKind, male, female float64) intakeLine {
	return intakeLine{ReferenceIntake{Nutrient: n, Unit: unit, Kind: kind}, male, female}
}

func (l intakeLine) upper(v float64, from string) intakeLine {
	l.Upper, l.UpperFrom = new(v), from
	return l
}

func (l intakeLine) recalled() intakeLine {
	l.Recalled = true
	return l
}

// intakeTable is for 19 to 30 years (Institute of Medicine, Dietary Reference
// Intakes, 1997 to 2011; National Academies 2019 for sodium and potassium).
func intakeTable() []intakeLine {
	const supplement = "supplements only"
	return []intakeLine{
		line(Protein, "g/kg", Recommended, 0.8, 0.8).recalled(),
		line(Fibre, "g", Adequate, 38, 25).recalled(),
		line(Calcium, "mg", Recommended, 1000, 1000).upper(2500, ""),
		line(Iron, "mg", Recommended, 8, 18).upper(45, "").recalled(),
		line(Magnesium, "mg", Recommended, 400, 310).upper(350, supplement),
		line(Potassium, "mg", Adequate, 3400, 2600).recalled(),
		line(Sodium, "mg", Adequate, 1500, 1500).upper(2300, "").recalled(),
		line(Zinc, "mg", Recommended, 11, 8).upper(40, "").recalled(),
		line(VitaminA, "µg RAE", Recommended, 900, 700).upper(3000, "preformed vitamin A only"),
		line(VitaminC, "mg", Recommended, 90, 75).upper(2000, ""),
		line(VitaminD, "µg", Recommended, 15, 15).upper(100, ""),
		line(VitaminE, "mg", Recommended, 15, 15).upper(1000, supplement),
		line(VitaminK, "µg", Adequate, 120, 90),
		line(Thiamin, "mg", Recommended, 1.2, 1.1),
		line(Riboflavin, "mg", Recommended, 1.3, 1.1),
		line(Niacin, "mg NE", Recommended, 16, 14).upper(35, supplement),
		line(VitaminB6, "mg", Recommended, 1.3, 1.3).upper(100, ""),
		line(Folate, "µg DFE", Recommended, 400, 400).upper(1000, "folic acid only"),
		line(VitaminB12, "µg", Recommended, 2.4, 2.4),
	}
}

// ReferenceIntakes lists the reference intakes for a sex and an age of 18 to 70
// years. Above 50, what changes is from memory, but for calcium's upper level.
// Somebody of 18 has the column of 19 to 30; their own asks for more calcium
// (1300 mg, from memory). They are not meant for pregnancy, illness or the losses
// of hard training. Protein is per kg of body weight and far below what an athlete
// in a deficit wants.
func ReferenceIntakes(sex athlete.Sex, ageYears float64) ([]ReferenceIntake, error) {
	if err := errors.Join(knownSex(sex), within("age_years", ageYears, 18, 70.99, "years")); err != nil {
		return nil, err
	}
	table := intakeTable()
	out := make([]ReferenceIntake, len(table))
	for i, l := range table {
		l.Target = bySex(sex, l.male, l.female)
		atAge(&l.ReferenceIntake, sex, ageYears)
		out[i] = l.ReferenceIntake
	}
	return out, nil
}

// atAge puts in what changes from 31 and from 51 years.
func atAge(r *ReferenceIntake, sex athlete.Sex, ageYears float64) {
	if r.Nutrient == Magnesium && ageYears >= 31 {
		r.Target = bySex(sex, 420.0, 320)
	}
	if ageYears < 51 {
		return
	}
	older := func(male, female float64) { r.Target, r.Recalled = bySex(sex, male, female), true }
	switch r.Nutrient {
	case Calcium:
		older(1000, 1200)
		r.Upper = new(2000.0)
	case Fibre:
		older(30, 21)
	case Iron:
		older(8, 8)
	case VitaminB6:
		older(1.7, 1.5)
	}
}

// FolateEquivalentsUg is the dietary folate equivalents, µg, of food folate and of folic
// acid taken with food and on an empty stomach: 1 DFE is 1 µg of food folate, 0.6
// of folic acid with food, 0.5 without (Institute of Medicine 1998).
func FolateEquivalentsUg(foodUg, acidWithFoodUg, acidFastingUg float64) float64 {
	return foodUg + acidWithFoodUg/0.6 + acidFastingUg/0.5
}
