package lab

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Share is a proportion with its 95 % interval.
type Share struct {
	Hits  float64 `json:"hits"`
	Of    float64 `json:"of"`
	Value float64 `json:"value"` // 0 of nobody
	Low   float64 `json:"low_95"`
	High  float64 `json:"high_95"`
}

// z95 is the half-width of the central 95 % of a standard normal distribution.
const z95 = 1.959963984540054

// Wilson is the score interval of a proportion without a correction for
// continuity: hits of n independent trials, 0 <= hits <= n. For n = 0 it is 0 to
// 1. Wilson EB. J Am Stat Assoc 1927;22:209-12; method 3 of Newcombe RG. Stat Med
// 1998;17:857-72.
func Wilson(hits, n float64) Share {
	s := Share{Hits: hits, Of: n, High: 1}
	if n == 0 {
		return s
	}
	s.Value = hits / n
	s.Low, s.High = score(s.Value, n)
	return s
}

// score is Wilson's interval of a share p of n trials.
func score(p, n float64) (low, high float64) {
	const z2 = z95 * z95
	middle := (p + z2/(2*n)) / (1 + z2/n)
	half := z95 / (1 + z2/n) * math.Sqrt(p*(1-p)/n+z2/(4*n*n))
	return math.Max(0, middle-half), math.Min(1, middle+half)
}

// tally counts hits among trials of one athlete.
type tally struct{ hits, of float64 }

// clustered is a proportion of trials that come in clusters: the reviews or the
// weeks of one athlete are not independent. The interval is Wilson's for the
// number of independent trials that would have the variance of the ratio of the
// clusters' sums (Cochran WG. Sampling Techniques, 3rd ed. 1977, section 3.12:
// from memory), never more than there are.
func clustered(clusters []tally) Share {
	var hits, of float64
	k := 0.0 // clusters with a trial
	for _, c := range clusters {
		hits += c.hits
		of += c.of
		if c.of > 0 {
			k++
		}
	}
	s := Wilson(hits, of)
	if of == 0 || k < 2 {
		return s
	}
	sum := 0.0
	for _, c := range clusters {
		r := c.hits - s.Value*c.of
		sum += r * r
	}
	variance := k / (k - 1) * sum / (of * of)
	n := k // where all are alike no more is known than of the athletes
	if variance > 0 {
		n = math.Min(of, s.Value*(1-s.Value)/variance)
	}
	s.Low, s.High = score(s.Value, n)
	return s
}

// String writes the share in per cent with its interval.
func (s Share) String() string {
	if s.Of == 0 {
		return "none"
	}
	return fmt.Sprintf("%.1f %% (%.1f to %.1f)", 100*s.Value, 100*s.Low, 100*s.High)
}

// Histogram counts ranks between 0 and 1 in equal bins.
func Histogram(ranks []float64, bins int) []int {
	out := make([]int, bins)
	for _, r := range ranks {
		out[max(0, min(bins-1, int(r*float64(bins))))]++
	}
	return out
}

// Band is how many of n independent uniform ranks a bin holds in 95 % of all
// cases, ends included (Talts et al. 2018, arXiv 1804.06788, figure 1: the
// binomial's quantiles).
func Band(n, bins int) (low, high int) {
	b := binomial{n, 1 / float64(bins)}
	return b.quantile(0.025), b.quantile(0.975)
}

// ChiSquared tests counts against an even spread: the probability of one as
// uneven by chance alone. Pearson's statistic with one degree of freedom less
// than there are bins.
func ChiSquared(counts []int) float64 {
	n := 0
	for _, c := range counts {
		n += c
	}
	if n == 0 {
		return 1
	}
	want := float64(n) / float64(len(counts))
	sum := 0.0
	for _, c := range counts {
		sum += (float64(c) - want) * (float64(c) - want) / want
	}
	return 1 - distuv.ChiSquared{K: float64(len(counts) - 1)}.CDF(sum)
}

type binomial struct {
	n int
	p float64
}

// quantile is the least k with a probability of at least q for no more than k.
func (b binomial) quantile(q float64) int {
	d := distuv.Binomial{N: float64(b.n), P: b.p}
	sum := 0.0
	for k := range b.n {
		if sum += d.Prob(float64(k)); sum >= q {
			return k
		}
	}
	return b.n
}
