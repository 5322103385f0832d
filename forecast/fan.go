package forecast

import "glidepath/dynamics"

// A morning is counted into histograms, not sorted: counting costs less and adds
// up in any order.
const (
	weightBins   = 1024
	weightWidth  = 0.05 // kg
	bodyFatBins  = 800
	bodyFatWidth = 0.05 // points
)

// counts are one morning's: weight from flight.low, and body fat.
type counts struct {
	weight  [weightBins]uint32
	bodyFat [bodyFatBins]uint32
}

// count adds a block's morning and remembers the least body fat.
func (f *flight) count(c *counts, m *dynamics.Model, b *block) {
	for i := range b.n {
		tissue := b.FatKg[i] + b.ReferenceFatFreeKg(m, i)
		weight := int((tissue + b.gain[i]*b.WaterKg(m, i) - f.low) * (1 / weightWidth))
		c.weight[max(0, min(weightBins-1, weight))]++
		pct := 100 * b.FatKg[i] / tissue
		c.bodyFat[max(0, min(bodyFatBins-1, int(pct*(1/bodyFatWidth))))]++
		if pct < b.leanest[i] {
			b.leanest[i] = pct
		}
	}
}

// spread turns the workers' counts of mornings from the first on into the fan and
// clears them.
func (f *flight) spread(first, mornings int) {
	f.share(mornings, func(_ *worker, i int) {
		sum := &f.workers[0].counts[i]
		for w := 1; w < len(f.workers); w++ {
			c := &f.workers[w].counts[i]
			for b, n := range &c.weight {
				sum.weight[b] += n
			}
			for b, n := range &c.bodyFat {
				sum.bodyFat[b] += n
			}
			*c = counts{}
		}
		f.fan[first+i] = Fan{
			Date:    f.p.AsOf.AddDays(first + i),
			Weight:  quantiles(sum.weight[:], f.p.Futures, f.low, weightWidth),
			BodyFat: quantiles(sum.bodyFat[:], f.p.Futures, 0, bodyFatWidth),
		}
		*sum = counts{}
	})
}

// quantiles reads a histogram, straight within a bin.
func quantiles(counts []uint32, total int, low, width float64) Quantiles {
	var q Quantiles
	targets := [...]struct {
		p   float64
		dst *float64
	}{{0.05, &q.P05}, {0.10, &q.P10}, {0.25, &q.P25}, {0.50, &q.P50}, {0.75, &q.P75}, {0.90, &q.P90}, {0.95, &q.P95}}
	next, below := 0, 0
	for b, n := range counts {
		if n == 0 {
			continue
		}
		for next < len(targets) && float64(below+int(n)) >= targets[next].p*float64(total) {
			within := (targets[next].p*float64(total) - float64(below)) / float64(n)
			*targets[next].dst = low + width*(float64(b)+within)
			next++
		}
		below += int(n)
	}
	return q
}
