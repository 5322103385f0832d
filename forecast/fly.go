package forecast

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"glidepath/dynamics"
	"glidepath/numeric"
	"glidepath/reading"
)

// flight holds the futures' ends and the fans' counts.
type flight struct {
	p     *Problem
	lean0 float64 // fat-free mass now, at the mean
	root  [reading.Learned * reading.Learned]float64
	end   ends
	// counts[worker] is, for each morning, a histogram of weight and one of body
	// fat: counting costs less than sorting and adds up in any order.
	counts [][]histograms
	low    float64 // kg, of the weight histogram
}

const (
	weightBins  = 1024
	weightWidth = 0.05 // kg
	fatBins     = 800
	fatWidth    = 0.05 // points
)

type histograms struct {
	weight [weightBins]uint32
	fat    [fatBins]uint32
}

// ends are the futures' last morning, by future and then sorted.
type ends struct {
	rawWeight, rawBodyFat, rawLean, rawLost, leanest []float64
	atFloor                                          []bool
	weight, bodyFat, lean, lost                      []float64
}

func newFlight(p *Problem) *flight {
	f := &flight{p: p, root: p.From.Cov, lean0: p.From.Mean[reading.FatFree]}
	if !numeric.Cholesky(f.root[:], reading.Learned) {
		panic("forecast: the posterior's covariance is not one")
	}
	centre := p.From.Mean[reading.Fat] + p.From.Mean[reading.FatFree]
	f.low = centre - weightBins*weightWidth*0.6
	n := p.Futures
	for _, v := range []*[]float64{&f.end.rawWeight, &f.end.rawBodyFat, &f.end.rawLean, &f.end.rawLost, &f.end.leanest} {
		*v = make([]float64, n)
	}
	f.end.atFloor = make([]bool, n)
	f.counts = make([][]histograms, p.Workers)
	for w := range f.counts {
		f.counts[w] = make([]histograms, len(p.Plan)+1)
	}
	return f
}

func (f *flight) fly() {
	var wg sync.WaitGroup
	for w := range f.p.Workers {
		wg.Go(func() {
			for i := w; i < f.p.Futures; i += f.p.Workers {
				f.one(i, f.counts[w])
			}
		})
	}
	wg.Wait()
	e := &f.end
	e.weight, e.bodyFat = slices.Sorted(slices.Values(e.rawWeight)), slices.Sorted(slices.Values(e.rawBodyFat))
	e.lean, e.lost = slices.Sorted(slices.Values(e.rawLean)), slices.Sorted(slices.Values(e.rawLost))
}

// draw is one future's start.
func (f *flight) draw(r *rand.Rand, m *dynamics.Model, s *dynamics.State) (slow, gain float64) {
	var z, x [reading.Learned]float64
	for i := range z {
		z[i] = r.NormFloat64()
	}
	for i := range x {
		x[i] = f.p.From.Mean[i]
		for j := 0; j <= i; j++ {
			x[i] += f.root[i*reading.Learned+j] * z[j]
		}
	}
	*m = f.p.From.Model
	m.RestKcal, m.ActivityYield = x[reading.Rest], math.Max(0.1, x[reading.Yield])
	m.Partition.LossScale = dynamics.Trained().LossScale * math.Exp(x[reading.LossScale])
	*s = f.p.From.Water
	s.FatKg, s.LeanKg = math.Max(1.5, x[reading.Fat]), m.LeanFromFatFree(x[reading.FatFree])
	s.AdaptationKcal = x[reading.Adaptation]
	return x[reading.SlowFluid], x[reading.Gain]
}

// Steering, weekly: the coach sees the trend with an error, closes the gap to
// the plan over the weeks that follow (in proportion), learns what stands behind
// it (the sum of gaps), and changes intake in bounded steps.
const (
	trendSD       = 0.25  // kg
	steerNow      = 250.0 // kcal a day per kg of gap: 7,500 kcal over a month
	steerSum      = 60.0  // kcal a day per kg of gap and week
	steerStepKcal = 200.0 // the most that a week changes
	slowDays      = 6.0
)

// steering is what a coach remembers from week to week, kcal a day.
type steering struct{ correction, learned float64 }

func (f *flight) one(i int, counts []histograms) {
	p := f.p
	r := rand.New(rand.NewPCG(p.Seed, uint64(i)+1))
	var m dynamics.Model
	var s dynamics.State
	slow, gain := f.draw(r, &m, &s)
	ratio := p.RatioMean + p.RatioSD*r.NormFloat64()
	base := m.ReferenceFatFreeKg(&s)
	decay := math.Exp(-1 / slowDays)
	kick := 0.35 * math.Sqrt(1-decay*decay)
	var coach steering
	leanest := math.Inf(1)
	for day := range p.Plan {
		d := &p.Plan[day]
		pct := f.count(&counts[day], &m, &s, gain)
		leanest = math.Min(leanest, pct)
		if day%7 == 0 {
			m.RestKcal += reading.RestDriftKcal * math.Sqrt(7) * r.NormFloat64()
			if p.Steered && day > 0 {
				f.steer(&coach, r, &m, &s, d, i)
			}
		}
		energy := d.EnergyKcal
		if !d.Free {
			energy += coach.correction
		}
		energy *= ratio + p.DaySD*r.NormFloat64()
		slow = decay*slow + kick*r.NormFloat64()
		scale := 1.0
		if d.EnergyKcal > 0 {
			scale = energy / d.EnergyKcal
		}
		m.Step(&s, dynamics.Input{
			EnergyKcal: energy, CarbohydrateKcal: math.Max(0, d.CarbohydrateKcal*scale), ActivityKcalPerKg: d.ActivityKcalPerKg,
		})
	}
	pct := f.count(&counts[len(p.Plan)], &m, &s, gain)
	e := &f.end
	e.rawBodyFat[i], e.rawLean[i] = pct, m.ReferenceFatFreeKg(&s)
	e.rawLost[i] = base - e.rawLean[i]
	e.leanest[i] = math.Min(leanest, pct)
	noise := p.From.NoiseSD * 0.7 * r.NormFloat64()
	e.rawWeight[i] = s.FatKg + e.rawLean[i] + gain*m.WaterKg(&s) + 0.5*slow + 0.5*noise
}

// steer sets the week's correction of intake.
func (f *flight) steer(c *steering, r *rand.Rand, m *dynamics.Model, s *dynamics.State, d *Day, i int) {
	gap := s.FatKg + m.ReferenceFatFreeKg(s) + trendSD*r.NormFloat64() - d.WeightKg
	learned := c.learned - steerSum*gap
	next := learned - steerNow*gap
	next = math.Max(c.correction-steerStepKcal, math.Min(c.correction+steerStepKcal, next))
	held := false // at a bound the sum of gaps would only wind up
	if floor := f.p.LeastKcal/f.p.RatioMean - d.EnergyKcal; f.p.LeastKcal > 0 && next < floor {
		next, held = floor, true
		if gap > 1 {
			f.end.atFloor[i] = true
		}
	}
	if most := d.MostKcal - d.EnergyKcal; d.MostKcal > 0 && next > most {
		next, held = most, true
	}
	if !held {
		c.learned = learned
	}
	c.correction = next
}

// count adds a morning to the histograms and gives body fat, per cent.
func (f *flight) count(h *histograms, m *dynamics.Model, s *dynamics.State, gain float64) float64 {
	tissue := s.FatKg + m.ReferenceFatFreeKg(s)
	w := int((tissue + gain*m.WaterKg(s) - f.low) / weightWidth)
	h.weight[max(0, min(weightBins-1, w))]++
	pct := 100 * s.FatKg / tissue
	h.fat[max(0, min(fatBins-1, int(pct/fatWidth)))]++
	return pct
}

func (f *flight) fans() []Fan {
	out := make([]Fan, len(f.p.Plan)+1)
	var weight [weightBins]int
	var fat [fatBins]int
	for day := range out {
		clear(weight[:])
		clear(fat[:])
		for w := range f.counts {
			h := &f.counts[w][day]
			for b, n := range h.weight {
				weight[b] += int(n)
			}
			for b, n := range h.fat {
				fat[b] += int(n)
			}
		}
		out[day] = Fan{
			Date:    f.p.AsOf.AddDays(day),
			Weight:  quantiles(weight[:], f.p.Futures, f.low, weightWidth),
			BodyFat: quantiles(fat[:], f.p.Futures, 0, fatWidth),
		}
	}
	return out
}

// quantiles reads a histogram, straight within a bin.
func quantiles(counts []int, total int, low, width float64) Quantiles {
	var q Quantiles
	targets := []struct {
		p   float64
		dst *float64
	}{{0.05, &q.P05}, {0.10, &q.P10}, {0.25, &q.P25}, {0.50, &q.P50}, {0.75, &q.P75}, {0.90, &q.P90}, {0.95, &q.P95}}
	next, below := 0, 0
	for b, n := range counts {
		for next < len(targets) && n > 0 && float64(below+n) >= targets[next].p*float64(total) {
			within := (targets[next].p*float64(total) - float64(below)) / float64(n)
			*targets[next].dst = low + width*(float64(b)+within)
			next++
		}
		below += n
	}
	return q
}
