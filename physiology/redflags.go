package physiology

import (
	"slices"

	"glidepath/athlete"
)

// FlagGrade says how a red flag ranks.
type FlagGrade string

// The grades. Severe primary and primary are those of the International Olympic
// Committee's clinical tool for relative energy deficiency in sport (REDs CAT2:
// Mountjoy et al. 2023, Br J Sports Med 57:1073; Stellingwerff et al. 2023,
// 57:1109), where a severe one counts double; the age of 15 for a first period is
// from memory. Watch is a judgement: what a coach can see.
const (
	SeverePrimary FlagGrade = "severe primary"
	Primary       FlagGrade = "primary"
	Watch         FlagGrade = "watch"
)

// Comparison says how a quantity raises a flag.
type Comparison string

// The comparisons.
const (
	Present Comparison = "present"
	Below   Comparison = "below"
	Above   Comparison = "above"
	AtLeast Comparison = "at least"
)

// RedFlag is a sign that an athlete should see a physician before the deficit goes
// on. It never diagnoses: the physician decides.
type RedFlag struct {
	ID       string
	Sex      athlete.Sex // empty is both
	Grade    FlagGrade
	Sign     string // in plain words
	Quantity string // what is compared; empty for Present
	Is       Comparison
	Value    float64
	Unit     string
	Weeks    int // it must have lasted at least this long; 0 is at once
}

var redFlags = []RedFlag{
	{ID: "primary-amenorrhoea", Sex: athlete.Female, Grade: SeverePrimary, Sign: "the first period has not come by the age of 15", Is: Present},
	{ID: "cycles-absent-12", Sex: athlete.Female, Grade: SeverePrimary, Sign: "twelve or more cycles missed in a row", Quantity: "missed cycles", Is: AtLeast, Value: 12, Unit: "cycles"},
	{ID: "testosterone-low", Sex: athlete.Male, Grade: SeverePrimary, Sign: "testosterone clinically low in a blood test", Is: Present},
	{ID: "cycles-absent-3", Sex: athlete.Female, Grade: Primary, Sign: "three to eleven cycles missed in a row", Quantity: "missed cycles", Is: AtLeast, Value: 3, Unit: "cycles"},
	{ID: "testosterone-quartile", Sex: athlete.Male, Grade: Primary, Sign: "testosterone in the lowest quarter of the reference range", Is: Present},
	{ID: "t3-quartile", Grade: Primary, Sign: "T3 in the lowest quarter of the reference range or below it", Is: Present},
	{ID: "bone-stress-high-risk", Grade: Primary, Sign: "a high-risk bone stress injury in the past two years", Quantity: "high-risk bone stress injuries in two years", Is: AtLeast, Value: 1, Unit: "injuries"},
	{ID: "bone-stress-low-risk", Grade: Primary, Sign: "two or more low-risk bone stress injuries in the past two years", Quantity: "low-risk bone stress injuries in two years", Is: AtLeast, Value: 2, Unit: "injuries"},
	{ID: "bone-stress-months", Grade: Primary, Sign: "six months or more of training lost to bone stress injury in the past two years", Quantity: "months lost to bone stress injury in two years", Is: AtLeast, Value: 6, Unit: "months"},
	{ID: "bone-density", Grade: Primary, Sign: "bone mineral density Z-score below -1, or falling", Quantity: "bone mineral density Z-score", Is: Below, Value: -1, Unit: "SD"},
	{ID: "eating-questionnaire-women", Sex: athlete.Female, Grade: Primary, Sign: "global score of the eating disorder questionnaire above 2.30, or a diagnosed eating disorder", Quantity: "EDE-Q global score", Is: Above, Value: 2.30, Unit: "points"},
	{ID: "eating-questionnaire-men", Sex: athlete.Male, Grade: Primary, Sign: "global score of the eating disorder questionnaire above 1.68, or a diagnosed eating disorder", Quantity: "EDE-Q global score", Is: Above, Value: 1.68, Unit: "points"},

	{ID: "pulse-low", Grade: Watch, Sign: "resting pulse below 40 beats a minute", Quantity: "resting pulse", Is: Below, Value: 40, Unit: "beats a minute"},
	{ID: "pulse-fallen", Grade: Watch, Sign: "resting pulse 20 beats or more below the athlete's baseline", Quantity: "fall of resting pulse from baseline", Is: AtLeast, Value: 20, Unit: "beats a minute"},
	{ID: "body-fat-men", Sex: athlete.Male, Grade: Watch, Sign: "body fat below 5 % for four weeks or more", Quantity: "body fat", Is: Below, Value: 5, Unit: "per cent", Weeks: 4},
	{ID: "body-fat-women", Sex: athlete.Female, Grade: Watch, Sign: "body fat below 12 % for four weeks or more", Quantity: "body fat", Is: Below, Value: 12, Unit: "per cent", Weeks: 4},
	{ID: "availability-severe", Grade: Watch, Sign: "energy availability below 20 kcal/kg FFM/day", Quantity: "energy availability", Is: Below, Value: SevereAvailability, Unit: "kcal/kg FFM/day"},
	{ID: "availability-low", Grade: Watch, Sign: "energy availability below 25 kcal/kg FFM/day for four weeks or more", Quantity: "energy availability", Is: Below, Value: FagerbergAvailability, Unit: "kcal/kg FFM/day", Weeks: 4},
	{ID: "loss-fast", Grade: Watch, Sign: "loss above 1 % of body weight a week for three weeks or more when lean", Quantity: "rate of loss", Is: Above, Value: 1, Unit: "per cent of body weight a week", Weeks: 3},
	{ID: "fainting", Grade: Watch, Sign: "dizziness, fainting or palpitations", Is: Present},
	{ID: "binge-purge", Grade: Watch, Sign: "signs of bingeing or purging", Is: Present},
	{ID: "diuretic", Grade: Watch, Sign: "any use of a diuretic", Is: Present},
}

// RedFlags lists the red flags that apply to a sex, gravest first.
func RedFlags(sex athlete.Sex) []RedFlag {
	return slices.DeleteFunc(slices.Clone(redFlags), func(f RedFlag) bool { return f.Sex != "" && f.Sex != sex })
}

// Crossed reports whether a value of the flag's quantity, lasting so many weeks,
// raises it. A flag that is only Present or absent panics: there is nothing to
// compare.
func (f RedFlag) Crossed(value, weeks float64) bool {
	if f.Weeks > 0 && weeks < float64(f.Weeks) {
		return false
	}
	switch f.Is {
	case Below:
		return value < f.Value
	case Above:
		return value > f.Value
	case AtLeast:
		return value >= f.Value
	}
	panic("physiology: " + f.ID + " has no quantity")
}
