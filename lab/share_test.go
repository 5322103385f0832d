package lab

import (
	"math"
	"math/rand/v2"
	"testing"

	"glidepath/numeric"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, tolerance)
	}
}

// Newcombe RG. Two-sided confidence intervals for the single proportion. Stat Med
// 1998;17:857-72, table I, method 3.
func TestWilsonAgainstNewcombe(t *testing.T) {
	for _, c := range []struct{ hits, n, low, high float64 }{
		{81, 263, 0.2553, 0.3662},
		{15, 148, 0.0624, 0.1605},
		{0, 20, 0, 0.1611},
		{1, 29, 0.0061, 0.1718},
	} {
		s := Wilson(c.hits, c.n)
		near(t, "low", s.Low, c.low, 5e-5)
		near(t, "high", s.High, c.high, 5e-5)
	}
	if s := Wilson(0, 0); s.Low != 0 || s.High != 1 || s.Value != 0 {
		t.Errorf("of nobody: %+v", s)
	}
}

// Four trials of an athlete that always agree tell as much as one.
func TestClusteredCountsAthletes(t *testing.T) {
	var alike, apart []tally
	r := rand.New(rand.NewPCG(1, 2))
	hits := 0.0
	for range 200 {
		if r.Float64() < 0.8 {
			alike, hits = append(alike, tally{4, 4}), hits+1
		} else {
			alike = append(alike, tally{0, 4})
		}
	}
	s := clustered(alike)
	low, high := score(hits/200, 199) // a degree of freedom is lost
	near(t, "low of trials that agree", s.Low, low, 1e-9)
	near(t, "high of trials that agree", s.High, high, 1e-9)
	for range 4000 {
		var one tally
		one.count(r.Float64() < 0.5)
		one.count(r.Float64() < 0.5)
		apart = append(apart, one)
	}
	s = clustered(apart)
	want := Wilson(s.Hits, s.Of)
	near(t, "width of independent trials", s.High-s.Low, want.High-want.Low, 0.002)
	all := clustered([]tally{{4, 4}, {4, 4}, {4, 4}})
	near(t, "low of three athletes of whom all hit", all.Low, Wilson(3, 3).Low, 1e-12)
}

// The clustered interval holds the truth as often as it says, where a plain one
// does not: 300 athletes with 10 trials each and chances of their own.
func TestClusteredCovers(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	const trials = 1000
	inside, plain := 0, 0
	for range trials {
		var all []tally
		for range 300 {
			chance := 0.1
			if r.Float64() < 0.5 {
				chance = 0.9
			}
			var one tally
			for range 10 {
				one.count(r.Float64() < chance)
			}
			all = append(all, one)
		}
		s := clustered(all)
		if s.Low <= 0.5 && 0.5 <= s.High {
			inside++
		}
		if w := Wilson(s.Hits, s.Of); w.Low <= 0.5 && 0.5 <= w.High {
			plain++
		}
	}
	near(t, "coverage", float64(inside)/trials, 0.95, 0.02) // 3 SD of a share of a thousand
	if plain > 850 {
		t.Errorf("the plain interval covers %d of %d: the example shows nothing", plain, trials)
	}
}

// The quantiles of the binomial distributions of 500 and 100 trials with a chance
// of one in ten, recomputed with exact fractions in Python 3.
func TestBandIsBinomial(t *testing.T) {
	for _, c := range []struct{ n, low, high int }{{500, 37, 64}, {100, 5, 16}} {
		if low, high := Band(c.n, 10); low != c.low || high != c.high {
			t.Errorf("%d ranks: %d to %d, want %d to %d", c.n, low, high, c.low, c.high)
		}
	}
}

// The upper 5 % point of chi squared with 9 degrees of freedom is 16.919 (tables
// of any textbook): ten bins whose statistic is that.
func TestChiSquaredAgainstTables(t *testing.T) {
	// 1000 ranks; one bin over by d and one under: the statistic is 2 d^2 / 100.
	counts := []int{129, 71, 100, 100, 100, 100, 100, 100, 100, 100}
	near(t, "p", ChiSquared(counts), 0.05, 0.003) // 2 x 29^2 / 100 = 16.82
	if p := ChiSquared([]int{50, 50, 50}); p != 1 {
		t.Errorf("even counts have p %v", p)
	}
}

// toy makes forecasts of a normal truth with a spread that is scale times the right one.
func toy(seed uint64, scale float64) (ranks []float64, in50, in90 float64) {
	r := rand.New(rand.NewPCG(seed, 9))
	const n = 4000
	for range n {
		mean, sd := 10*r.NormFloat64(), 0.5+r.Float64()
		came := mean + sd*r.NormFloat64()
		e := expectation{spread: ofInterval(numeric.Normal{Mean: mean, SD: scale * sd}.Interval())}
		c := e.answered(came)
		ranks = append(ranks, c.Rank)
		if c.In50 {
			in50 += 1.0 / n
		}
		if c.In90 {
			in90 += 1.0 / n
		}
	}
	return ranks, in50, in90
}

// Of forecasts known to be calibrated the ranks are even and the intervals hold
// what they say; of those too narrow neither.
func TestRanksOfAToy(t *testing.T) {
	ranks, in50, in90 := toy(3, 1)
	near(t, "50 %", in50, 0.5, 0.024) // 3 SD
	near(t, "90 %", in90, 0.9, 0.0143)
	if p := ChiSquared(Histogram(ranks, 10)); p < 0.001 {
		t.Errorf("calibrated ranks look uneven: p %v, %v", p, Histogram(ranks, 10))
	}
	narrow, in50, _ := toy(3, 0.7)
	if p := ChiSquared(Histogram(narrow, 10)); p > 1e-6 || in50 > 0.45 {
		t.Errorf("narrow forecasts pass: p %v, 50 %% interval holds %v", p, in50)
	}
}

// A rank is the forecast's own quantile, in between and beyond as on normal
// paper, which is exact for a normal forecast.
func TestRankOfKnownQuantiles(t *testing.T) {
	n := numeric.Normal{Mean: 80, SD: 1.3}
	s := ofInterval(n.Interval())
	for _, z := range []float64{-3, -1.7, -1, -0.3, 0, 0.6, 1.2, 2.5} {
		x := n.Mean + z*n.SD
		near(t, "rank", s.below(x), n.Below(x), 1e-9)
	}
	point := spread{[]float64{0.25, 0.5, 0.75}, []float64{4, 4, 4}}
	if low, high := point.below(3.9), point.below(4.1); low > 0.25 || high < 0.75 {
		t.Errorf("about a certain forecast: %v below, %v above", low, high)
	}
}
