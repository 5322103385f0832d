package validation

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s = %.9g, want %.9g within %.2g", what, got, want, tolerance)
	}
}

func until(all []sample, day int) []sample {
	var out []sample
	for _, s := range all {
		if s.day <= day {
			out = append(out, s)
		}
	}
	return out
}

// The simple methods against the tools that people use for them: lm and nls of R
// 4.2.2 with MASS 7.3-58.2, and UnobservedComponents of statsmodels 0.13.5
// (Debian 12), recorded. The weighings of one day are averaged except where the
// book's own fit is meant.
func TestTrendAgainstR(t *testing.T) {
	p := trend(until(wtloss(t), 115), []int{133, 161})
	near(t, "fit, day 133", p[0].mean, 134.659476440, 1e-6)
	near(t, "low, day 133", p[0].low, 131.195821733, 1e-6)
	near(t, "high, day 161", p[1].high, 131.795936647, 1e-6)
}

func TestExponentialAgainstR(t *testing.T) {
	// The book's fit, on all 52 weighings: 81.374, 102.684, 141.911, residual
	// standard error 0.8949.
	f, th := exponentialFit(weighings(t))
	near(t, "b0", f.b.AtVec(0), 81.37375044, 1e-4)
	near(t, "b1", f.b.AtVec(1), 102.68417345, 1e-4)
	near(t, "th", th, 141.91052510, 1e-3)
	near(t, "residual standard error", math.Sqrt(f.variance), 0.8949, 5e-5)
	near(t, "standard error of th", math.Sqrt(f.variance*f.inverse.At(2, 2)), 5.295, 5e-4)

	p := exponential(until(wtloss(t), 150), []int{164, 198})
	near(t, "fit, day 164", p[0].mean, 127.6660599, 1e-4)
	near(t, "low, day 164", p[0].low, 126.2946967, 1e-4)
	near(t, "high, day 198", p[1].high, 122.3481508, 1e-4)
}

func TestLocalTrendAgainstStatsmodels(t *testing.T) {
	seen := until(wtloss(t), 120)
	v := variances{seen: 0.3, level: 0.05, slope: 0.001}
	likelihood, mean, variance := v.filter(seen, []int{133, 161})
	// statsmodels sums over all observations; the first two are taken off here
	// and there. Its start is a diffuse variance of 1e6 too.
	near(t, "log likelihood", likelihood, -30.3160703425238, 1e-6)
	near(t, "mean, day 133", mean[0], 132.8698511408473, 1e-6)
	near(t, "mean, day 161", mean[1], 122.4014524266576, 1e-6)
	near(t, "variance, day 133", variance[0], 7.162075670534695, 1e-6)
	near(t, "variance, day 161", variance[1], 57.16299833476036, 1e-5)

	// The maximum, found there by Nelder & Mead from the same three starts.
	fit := localTrendFit(seen)
	likelihood, mean, variance = fit.filter(seen, []int{133, 161})
	near(t, "greatest log likelihood", likelihood, -28.068060957, 1e-4)
	near(t, "mean, day 161", mean[1], 124.73384728929713, 0.02)
	near(t, "variance, day 161", variance[1], 11.503937570848345, 0.1)
}
