package physiology

// Judged errors of resting expenditure for one person, as a share of the value.
const (
	// RestingShareSE applies where fat-free mass is known: reviews find no
	// equation accurate for single athletes, and 8 to 10 % is the usual spread.
	RestingShareSE = 0.08
	// RestingShareSEByWeight applies where only weight is known.
	RestingShareSEByWeight = 0.10
)

// RestingExpenditure is a prior for the resting expenditure of a physique
// athlete, kcal a day. It is a judgement made of published equations, to be
// overruled by the athlete's own logs.
//
// With fat mass known (b.FatKg > 0) it is the plain mean of four equations on
// fat-free mass: two that hold in athletes (Cunningham 1980, ten Haaf & Weijs
// 2014), which read high, and two from general adults (Cunningham 1991, Nelson
// 1992), which read low. Against published group means of resistance-trained
// people the mean is within 4 % (the test lists them); no better claim is made.
// fatSEKg, the standard error of b.FatKg, widens the answer: at one weight, each
// kg of fat taken for lean adds about 22 kcal.
//
// With fat mass not known it is the mean of ten Haaf & Weijs by weight and
// Mifflin, with a wider error; fatSEKg is then ignored.
//
// It describes an athlete in energy balance. Within a deficit, measured values
// fall some 3 to 8 % below (Campbell 2020, Trexler 2017); that is for the
// dynamics, not for this prior.
func RestingExpenditure(b Body, fatSEKg float64) (Estimate, error) {
	if err := b.check(); err != nil {
		return Estimate{}, err
	}
	if b.FatKg <= 0 {
		return restingByWeight(b)
	}
	if err := within("fat_se_kg", fatSEKg, 0, 50, "kg"); err != nil {
		return Estimate{}, err
	}
	v, err := restingByFFM(b)
	if err != nil {
		return Estimate{}, err
	}
	const perKgOfFFM = (22 + 21.6 + 22.771 + 25.80 - 4.04) / 4
	return Estimate{Value: v, SE: combine(RestingShareSE*v, perKgOfFFM*fatSEKg)}, nil
}

func restingByFFM(b Body) (float64, error) {
	nelson, err := Nelson(b.FFMKg(), b.FatKg)
	if err != nil {
		return 0, err
	}
	sum := nelson
	for _, equation := range []func(float64) (float64, error){Cunningham1980, Cunningham1991, TenHaafFFM} {
		v, err := equation(b.FFMKg())
		if err != nil {
			return 0, err
		}
		sum += v
	}
	return sum / 4, nil
}

func restingByWeight(b Body) (Estimate, error) {
	trained, err := TenHaafWeight(b)
	if err != nil {
		return Estimate{}, err
	}
	general, err := MifflinStJeor(b)
	if err != nil {
		return Estimate{}, err
	}
	v := (trained + general) / 2
	return Estimate{Value: v, SE: RestingShareSEByWeight * v}, nil
}
