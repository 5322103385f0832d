package numeric

import "math"

// eLow is the part of e that float64 rounds off: e = math.E + eLow.
const eLow = 1.4456468917292502e-16

// branchSeries are the coefficients in p = sqrt(2(ex + 1)) of W0 about its
// branch point (Corless et al. 1996, equation 4.22).
var branchSeries = [...]float64{
	-1, 1, -1.0 / 3, 11.0 / 72, -43.0 / 540, 769.0 / 17280, -221.0 / 8505,
	680863.0 / 43545600, -1963.0 / 204120, 226287557.0 / 37623398400,
}

// LambertW0 is the principal branch of Lambert's W: the w of at least -1 with
// w exp(w) = x. It is good to a few units in the last place, up to the
// conditioning of W itself near the branch point.
//
// Special cases: an x that rounding put just below -1/e counts as -1/e, where
// W0 is -1; further below, the answer is NaN; +Inf gives +Inf.
//
// References: R. M. Corless, G. H. Gonnet, D. E. G. Hare, D. J. Jeffrey, D. E.
// Knuth, On the Lambert W function, Adv Comput Math 5 (1996) 329-359; F. N.
// Fritsch, R. E. Shafer, W. P. Crowley, Algorithm 443, Comm ACM 16 (1973)
// 123-124, for the iteration.
func LambertW0(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 1) {
		return x
	}
	// ex + 1 without cancellation at the branch point.
	t := math.FMA(math.E, x, 1) + eLow*x
	if t <= 0 {
		if t > -1e-15 {
			return -1
		}
		return math.NaN()
	}
	p := math.Sqrt(2 * t)
	if p < 0.03 {
		return horner(branchSeries[:], p)
	}
	w := lambertStart(x, p)
	for range 4 { // the order of convergence is four: two steps suffice, four bound it
		z := math.Log(x/w) - w
		q := 2 * (1 + w) * (1 + w + 2*z/3)
		step := z / (1 + w) * (q - z) / (q - 2*z)
		w *= 1 + step
		if math.Abs(step) < 1e-16 {
			break
		}
	}
	return w
}

// lambertStart is within a few per cent of W0(x), on the same side of zero as x.
func lambertStart(x, p float64) float64 {
	switch {
	case p < 0.9: // x below about -0.2
		return horner(branchSeries[:5], p)
	case x < 1: // first Padé approximant about 0
		return x * (1 + 4*x/3) / (1 + x*(7.0/3+5*x/6))
	case x < math.E:
		return 0.5671432904097838 + (x-1)*0.26 // the chord from W(1) to W(e)
	default:
		l1 := math.Log(x)
		l2 := math.Log(l1)
		return l1 - l2 + l2/l1
	}
}

// horner evaluates the polynomial with coefficients c, lowest power first.
func horner(c []float64, x float64) float64 {
	var sum float64
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}
