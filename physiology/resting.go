package physiology

// The resting equations give kcal a day. Fat-free mass is accepted from 20 to
// 150 kg and fat mass from 0.5 to 150 kg. Their papers give fit for a group; the
// error for one person is a matter of judgement (see RestingExpenditure).

// MifflinStJeor is resting expenditure from weight, height, age and sex (Mifflin
// et al. 1990, Am J Clin Nutr 51:241; 498 people of 19 to 78 years, R2 0.71).
// It is what the adult body-weight model starts from.
func MifflinStJeor(b Body) (float64, error) {
	if err := b.check(); err != nil {
		return 0, err
	}
	return 9.99*b.WeightKg + 6.25*b.HeightCm - 4.92*b.AgeYears + bySex(b.Sex, 166.0, 0) - 161, nil
}

// MifflinStJeorRounded is the simplified form that the same paper gives: 10, 6.25
// and 5, with +5 for men and -161 for women.
func MifflinStJeorRounded(b Body) (float64, error) {
	if err := b.check(); err != nil {
		return 0, err
	}
	return 10*b.WeightKg + 6.25*b.HeightCm - 5*b.AgeYears + bySex(b.Sex, 5.0, -161), nil
}

// MifflinFFM is resting expenditure from fat-free mass alone (same paper, R2
// 0.64; the constant 413 and the third digit of 19.7 are from memory).
func MifflinFFM(ffmKg float64) (float64, error) { return linearInFFM(413, 19.7, ffmKg) }

// Cunningham1980 is 500 + 22 FFM (Cunningham 1980, Am J Clin Nutr 33:2372;
// second-hand). In 90 recreational athletes it did as well as an equation fitted
// to them (ten Haaf & Weijs 2014).
func Cunningham1980(ffmKg float64) (float64, error) { return linearInFFM(500, 22, ffmKg) }

// Cunningham1991 is 370 + 21.6 FFM (Cunningham 1991, Am J Clin Nutr 54:963;
// second-hand), a synthesis over general adults.
func Cunningham1991(ffmKg float64) (float64, error) { return linearInFFM(370, 21.6, ffmKg) }

// TenHaafFFM is 22.771 FFM + 484.264 (ten Haaf & Weijs 2014, PLoS ONE
// 9:e108460; 53 men and 37 women of 18 to 35 years who trained; coefficients
// second-hand).
func TenHaafFFM(ffmKg float64) (float64, error) { return linearInFFM(484.264, 22.771, ffmKg) }

// TinsleyFFM is 25.9 FFM + 284 (Tinsley et al. 2019, Eur J Sport Sci 19:510;
// muscular physique athletes; from memory).
func TinsleyFFM(ffmKg float64) (float64, error) { return linearInFFM(284, 25.9, ffmKg) }

// TinsleyWeight is 24.8 weight + 10 (same paper; from memory). Weight is taken
// from 35 to 220 kg.
func TinsleyWeight(weightKg float64) (float64, error) {
	if err := within("weight_kg", weightKg, 35, 220, "kg"); err != nil {
		return 0, err
	}
	return 24.8*weightKg + 10, nil
}

// Nelson is 25.80 FFM + 4.04 FM (Nelson et al. 1992, Am J Clin Nutr 56:848;
// second-hand).
func Nelson(ffmKg, fatKg float64) (float64, error) {
	if err := within("fat_kg", fatKg, 0.5, 150, "kg"); err != nil {
		return 0, err
	}
	lean, err := linearInFFM(0, 25.80, ffmKg)
	return lean + 4.04*fatKg, err
}

// TenHaafWeight is the weight-based equation of ten Haaf & Weijs 2014 (see
// TenHaafFFM), for when fat-free mass is not known.
func TenHaafWeight(b Body) (float64, error) {
	if err := b.check(); err != nil {
		return 0, err
	}
	return 11.936*b.WeightKg + 587.728*b.HeightCm/100 - 8.129*b.AgeYears + bySex(b.Sex, 191.027, 0) + 29.279, nil
}

func linearInFFM(constant, perKg, ffmKg float64) (float64, error) {
	if err := within("ffm_kg", ffmKg, 20, 150, "kg"); err != nil {
		return 0, err
	}
	return constant + perKg*ffmKg, nil
}
