package physiology

import (
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
)

// Sites that the skinfold equations sum.
var (
	sites7       = []string{"chest", "axilla", "triceps", "subscapular", "abdomen", "suprailium", "thigh"}
	sites3Men    = []string{"chest", "abdomen", "thigh"}
	sites3Women  = []string{"triceps", "suprailium", "thigh"}
	sites4       = []string{"abdomen", "triceps", "thigh", "suprailium"}
	sites4Durnin = []string{"biceps", "triceps", "subscapular", "suprailium"}
)

// BodyFatFromMeasurement is per cent fat with its standard error for one
// reading taken alone.
//
// A per cent that is given stands as it is, with the error of its method.
// Otherwise it is reckoned: three folds by Jackson & Pollock, seven by the same,
// four by Jackson & Pollock where abdomen and thigh are among them and by Durnin
// & Womersley where biceps and subscapular are; density to fat by Siri; tape by
// TapeBodyFat. A scan, pod, scale or eye needs the per cent.
//
// weightKg is used only to see a slip of the pen; the measurement's own weight
// comes first, and 0 skips that check. Faults: Invalid where a fold or girth is
// missing or out of range, Unclear where the answer is below 1.5 or above 60 % or
// does not go with the weight and height.
func BodyFatFromMeasurement(m athlete.Measurement, sex athlete.Sex, ageYears, heightCm, weightKg float64) (Estimate, error) {
	fat, err := bodyFat(m, sex, ageYears, heightCm)
	if err != nil {
		return Estimate{}, err
	}
	if fat.Value < 1.5 || fat.Value > 60 {
		return Estimate{}, fault.New(fault.Unclear,
			"the %s measurement of %s comes out at %.1f %% body fat, outside 1.5 to 60 %%.", m.Method, m.Date, fat.Value).
			WithField("body_fat_pct").WithHint("Check the sites and the units: folds in mm, girths in cm.")
	}
	if m.WeightKg != nil {
		weightKg = *m.WeightKg
	}
	if weightKg == 0 {
		return fat, nil
	}
	if err := plausible(m, fat.Value, heightCm, weightKg); err != nil {
		return Estimate{}, err
	}
	return fat, nil
}

// plausible asks where the fat-free mass index is outside what people have: 10 to
// 40 kg/m2 (judgement; a little beyond the extremes of heavyweight champions).
func plausible(m athlete.Measurement, fatPct, heightCm, weightKg float64) error {
	index := weightKg * (1 - fatPct/100) / square(heightCm/100)
	if !(index >= 10 && index <= 40) {
		return fault.New(fault.Unclear,
			"%.1f %% body fat at %.1f kg and %.0f cm on %s makes a fat-free mass index of %.1f, which is outside 10 to 40.",
			fatPct, weightKg, heightCm, m.Date, index).
			WithField("body_fat_pct").WithHint("Check the weight, the height and their units.")
	}
	return nil
}

func bodyFat(m athlete.Measurement, sex athlete.Sex, ageYears, heightCm float64) (Estimate, error) {
	errs, err := MethodError(m.Method)
	if err != nil {
		return Estimate{}, err
	}
	if m.BodyFatPct != nil {
		return Estimate{*m.BodyFatPct, errs.SingleSD()}, nil
	}
	if err := knownSex(sex); err != nil {
		return Estimate{}, err
	}
	switch m.Method {
	case athlete.Calipers3:
		return fromFolds(m, bySex(sex, sites3Men, sites3Women), siriOf(JacksonPollock3), sex, ageYears)
	case athlete.Calipers7:
		return fromFolds(m, sites7, siriOf(JacksonPollock7), sex, ageYears)
	case athlete.Calipers4:
		if len(missing(m.FoldsMm, sites4Durnin)) == 0 && len(missing(m.FoldsMm, sites4)) > 0 {
			return fromFolds(m, sites4Durnin, siriOf(DurninWomersley), sex, ageYears)
		}
		return fromFolds(m, sites4, JacksonPollock4, sex, ageYears)
	case athlete.Tape:
		return fromGirths(m, sex, heightCm)
	}
	return Estimate{}, fault.New(fault.Invalid, "a measurement by %s needs the per cent body fat; the one of %s has none.", m.Method, m.Date).
		WithField("body_fat_pct")
}

// foldEquation takes sex, sum in mm and age in years.
type foldEquation func(athlete.Sex, float64, float64) (Estimate, error)

func siriOf(density foldEquation) foldEquation {
	return func(sex athlete.Sex, sumMm, ageYears float64) (Estimate, error) {
		d, err := density(sex, sumMm, ageYears)
		if err != nil {
			return Estimate{}, err
		}
		return siri(d), nil // an answer below zero is for BodyFatFromMeasurement to ask about
	}
}

func fromFolds(m athlete.Measurement, sites []string, equation foldEquation, sex athlete.Sex, ageYears float64) (Estimate, error) {
	if err := complete("folds_mm", m, m.FoldsMm, sites); err != nil {
		return Estimate{}, err
	}
	var sum float64
	for _, s := range sites {
		sum += m.FoldsMm[s]
	}
	return equation(sex, sum, ageYears)
}

func fromGirths(m athlete.Measurement, sex athlete.Sex, heightCm float64) (Estimate, error) {
	names := bySex(sex, []string{"neck", "abdomen"}, []string{"neck", "waist", "hip"})
	if err := complete("girths_cm", m, m.GirthsCm, names); err != nil {
		return Estimate{}, err
	}
	g := Girths{
		NeckCm: m.GirthsCm["neck"], AbdomenCm: m.GirthsCm["abdomen"],
		WaistCm: m.GirthsCm["waist"], HipCm: m.GirthsCm["hip"],
	}
	return TapeBodyFat(sex, g, heightCm)
}

func complete(field string, m athlete.Measurement, have map[string]float64, want []string) error {
	if lacking := missing(have, want); len(lacking) > 0 {
		return fault.New(fault.Invalid, "the %s measurement of %s lacks %s.", m.Method, m.Date, strings.Join(lacking, ", ")).
			WithField(field).WithHint("It needs %s, or the per cent body fat itself.", strings.Join(want, ", "))
	}
	return nil
}

func missing(have map[string]float64, want []string) []string {
	var lacking []string
	for _, name := range want {
		if _, ok := have[name]; !ok {
			lacking = append(lacking, name)
		}
	}
	return lacking
}
