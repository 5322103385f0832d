package physiology

import (
	"errors"
	"math"

	"glidepath/athlete"
)

// Skinfold equations take the sum of the folds in mm and the age in years. They
// were made on people fatter than an athlete on a stage; the lowest sums are an
// extrapolation. In one stage athlete whose folds were published it agreed with a
// scan to 0.3 points (Halliday et al. 2016, Nutrients 8:740).

// JacksonPollock7 is body density, g/mL, from seven sites: chest, axilla,
// triceps, subscapular, abdomen, suprailium and thigh. Men: Jackson & Pollock
// 1978, Br J Nutr 40:497 (403 men of 18 to 61 years, R 0.902, SE 0.0078). Women:
// Jackson, Pollock & Ward 1980, Med Sci Sports Exerc 12:175 (331 women of 18 to
// 55 years, R 0.852, SE 0.0083). Sum 12 to 350 mm, age 14 to 90 years; outside
// the ages studied it extrapolates.
func JacksonPollock7(sex athlete.Sex, sumMm, ageYears float64) (Estimate, error) {
	if err := foldRange(sex, sumMm, 12, 350, ageYears); err != nil {
		return Estimate{}, err
	}
	s := sumMm
	if sex == athlete.Male {
		return Estimate{1.112 - 0.00043499*s + 0.00000055*s*s - 0.00028826*ageYears, 0.0078}, nil
	}
	return Estimate{1.0970 - 0.00046971*s + 0.00000056*s*s - 0.00012828*ageYears, 0.0083}, nil
}

// JacksonPollock3 is body density, g/mL, from three sites: chest, abdomen and
// thigh in men (R 0.905, SE 0.0077); triceps, suprailium and thigh in women (SE
// 0.0086, from memory). Same papers as JacksonPollock7; a constant of 1.0994291
// that circulates for women is a misprint. Sum 5 to 200 mm, age 14 to 90 years.
func JacksonPollock3(sex athlete.Sex, sumMm, ageYears float64) (Estimate, error) {
	if err := foldRange(sex, sumMm, 5, 200, ageYears); err != nil {
		return Estimate{}, err
	}
	s := sumMm
	if sex == athlete.Male {
		return Estimate{1.10938 - 0.0008267*s + 0.0000016*s*s - 0.0002574*ageYears, 0.0077}, nil
	}
	return Estimate{1.0994921 - 0.0009929*s + 0.0000023*s*s - 0.0001392*ageYears, 0.0086}, nil
}

// JacksonPollock4 is per cent fat from four sites: abdomen, triceps, thigh and
// suprailium (second-hand). No error was seen; 3.5 points are taken from the
// three- and seven-site equations (judgement). Sum 6 to 250 mm, age 14 to 90.
func JacksonPollock4(sex athlete.Sex, sumMm, ageYears float64) (Estimate, error) {
	if err := foldRange(sex, sumMm, 6, 250, ageYears); err != nil {
		return Estimate{}, err
	}
	s := sumMm
	if sex == athlete.Male {
		return Estimate{0.29288*s - 0.0005*s*s + 0.15845*ageYears - 5.76377, 3.5}, nil
	}
	return Estimate{0.29669*s - 0.00043*s*s + 0.02963*ageYears + 1.4072, 3.5}, nil
}

// foldAgeBand is one line of Durnin & Womersley's table: D = c - m log10(sum).
type foldAgeBand struct {
	below float64 // years of age
	c, m  float64
}

var durninMen = []foldAgeBand{
	{17, 1.1533, 0.0643}, // Durnin & Rahaman 1967, boys
	{20, 1.1620, 0.0630},
	{30, 1.1631, 0.0632},
	{40, 1.1422, 0.0544},
	{50, 1.1620, 0.0700},
	{math.Inf(1), 1.1715, 0.0779},
}

var durninWomen = []foldAgeBand{
	{16, 1.1369, 0.0598}, // Durnin & Rahaman 1967, girls
	{20, 1.1549, 0.0678},
	{30, 1.1599, 0.0717},
	{40, 1.1423, 0.0632},
	{50, 1.1333, 0.0612},
	{math.Inf(1), 1.1339, 0.0645},
}

// Errors of Durnin & Womersley in points of body fat, as their abstract puts
// them (from memory).
const (
	durninMenSEPct   = 5.0
	durninWomenSEPct = 3.5
)

// DurninWomersley is body density, g/mL, from four sites: biceps, triceps,
// subscapular and suprailium (Durnin & Womersley 1974, Br J Nutr 32:77;
// second-hand). The constants jump at the birthdays 17 (16 for women), 20, 30, 40
// and 50. Sum 5 to 300 mm, age 14 to 90 years.
func DurninWomersley(sex athlete.Sex, sumMm, ageYears float64) (Estimate, error) {
	if err := foldRange(sex, sumMm, 5, 300, ageYears); err != nil {
		return Estimate{}, err
	}
	for _, band := range bySex(sex, durninMen, durninWomen) {
		if ageYears < band.below {
			d := band.c - band.m*math.Log10(sumMm)
			// Siri's slope turns points of fat back into density.
			return Estimate{d, bySex(sex, durninMenSEPct, durninWomenSEPct) * d * d / 495}, nil
		}
	}
	panic("physiology: the last age band has no end")
}

func foldRange(sex athlete.Sex, sumMm, low, high, ageYears float64) error {
	return errors.Join(
		knownSex(sex),
		within("folds_mm", sumMm, low, high, "mm in sum"),
		within("age_years", ageYears, 14, 90, "years"),
	)
}
