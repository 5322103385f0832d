package forecast

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"sync/atomic"

	"glidepath/dynamics"
	"glidepath/numeric"
	"glidepath/reading"
)

// The futures fly a week at a time, block by block: within a block the days are
// the outer loop, so that the processor steps several bodies at once where one
// body's days would wait for each other, and a week's counts are enough to
// hold.
const (
	blockFutures = 64
	weekDays     = 7
	weekDraws    = drawDays + 2*weekDays
)

// What chance brings a future in a week, by its place among the draws: two a day
// from drawDays on, of what is eaten and of slow fluid.
const (
	drawDrift = iota
	drawExchange
	drawEye
	drawDays
)

// future is one athlete on the way: what was drawn for good, and the body on a
// morning.
type future struct {
	state                  dynamics.State
	rest, yield, lossScale float64 // of the model
	gain, ratio            float64
	bias                   float64 // of the athlete's method, points of body fat
	firstLeanKg            float64 // reference fat-free mass at the start
	slow                   float64 // slow fluid, kg
	leanest                float64 // body fat so far, per cent
	coach                  steering
	atFloor                bool // some week's intake had to stand at the floor
	random                 rand.PCG
}

// flight holds all futures and what they end in.
type flight struct {
	p       *Problem
	days    []plannedDay
	futures []future
	workers []worker
	root    [reading.Learned * reading.Learned]float64 // of the posterior's covariance
	low     float64                                    // kg, of the weight histogram
	// Slow fluid decays, and in a day this much comes to it, kg; the rest of the
	// noise is of one morning.
	slowDecay, slowKick, fastSD float64

	fan  []Fan
	ends ends
}

// plannedDay is a day of the plan, ready for use in the inner loop.
type plannedDay struct {
	Day
	carbohydratePerKcal float64
	carbohydrateKcal    float64 // beside it, where no energy is planned
}

// ends are the futures' last morning, sorted, and the least body fat that each
// has seen. method is body fat on the scale of the athlete's method.
type ends struct{ weight, bodyFat, method, lean, lost, leanest []float64 }

// worker is what one goroutine writes to.
type worker struct {
	model  dynamics.Model
	source *rand.PCG
	normal *rand.Rand // draws from source
	draws  [blockFutures][weekDraws]float64
	counts [weekDays]counts
}

func newFlight(p *Problem) *flight {
	f := &flight{p: p, root: p.From.Cov}
	if !numeric.Cholesky(f.root[:], reading.Learned) {
		panic("forecast: the posterior's covariance is not one")
	}
	f.low = p.From.Mean[reading.Fat] + p.From.Mean[reading.FatFree] - weightBins*weightWidth*0.6
	if from := &p.From; from.SlowFluidDays > 0 {
		f.slowDecay = math.Exp(-1 / from.SlowFluidDays)
	}
	f.slowKick = p.From.SlowFluidSD * math.Sqrt(1-f.slowDecay*f.slowDecay)
	f.fastSD = math.Sqrt(max(0, p.From.NoiseSD*p.From.NoiseSD-p.From.SlowFluidSD*p.From.SlowFluidSD))
	f.days = make([]plannedDay, len(p.Plan))
	for i, d := range p.Plan {
		f.days[i] = plannedDay{Day: d, carbohydrateKcal: d.CarbohydrateKcal}
		if d.EnergyKcal > 0 {
			f.days[i].carbohydratePerKcal, f.days[i].carbohydrateKcal = d.CarbohydrateKcal/d.EnergyKcal, 0
		}
	}
	f.futures = make([]future, p.Futures)
	f.workers = make([]worker, p.Workers)
	for i := range f.workers {
		w := &f.workers[i]
		w.model, w.source = p.From.Model, rand.NewPCG(0, 0)
		w.normal = rand.New(w.source)
	}
	f.fan = make([]Fan, 0, len(p.Plan)+1)
	for _, v := range []*[]float64{&f.ends.weight, &f.ends.bodyFat, &f.ends.method, &f.ends.lean, &f.ends.lost, &f.ends.leanest} {
		*v = make([]float64, p.Futures)
	}
	return f
}

// fly takes every future to the last morning. Which worker flies which block is
// chance; no future sees another, and counts add up the same in any order.
func (f *flight) fly() {
	f.eachBlock(f.launch)
	for from := 0; from < len(f.days); from += weekDays {
		to := min(from+weekDays, len(f.days))
		f.eachBlock(func(w *worker, first, end int) { f.week(w, first, end, from, to) })
		f.spread(to - from)
	}
	f.eachBlock(f.land)
	f.spread(1)
	e := &f.ends
	sorted := [...][]float64{e.weight, e.bodyFat, e.method, e.lean, e.lost, e.leanest}
	f.share(len(sorted), func(_ *worker, i int) { slices.Sort(sorted[i]) })
}

// eachBlock calls do for each block of futures.
func (f *flight) eachBlock(do func(w *worker, first, end int)) {
	blocks := (len(f.futures) + blockFutures - 1) / blockFutures
	f.share(blocks, func(w *worker, i int) {
		do(w, i*blockFutures, min((i+1)*blockFutures, len(f.futures)))
	})
}

// share deals n pieces of work out to the workers and waits for all of them.
func (f *flight) share(n int, do func(w *worker, i int)) {
	var next atomic.Int64
	work := func(w *worker) {
		for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
			do(w, i)
		}
	}
	var wg sync.WaitGroup
	for i := 1; i < len(f.workers); i++ {
		wg.Go(func() { work(&f.workers[i]) })
	}
	work(&f.workers[0])
	wg.Wait()
}

// leastFatKg is the least fat that a future starts with or is left with by chance
// (judgement: about 2 % of weight).
const leastFatKg = 1.5

// launch draws where each future of a block starts.
func (f *flight) launch(w *worker, first, end int) {
	from := &f.p.From
	m := &w.model
	for i := first; i < end; i++ {
		v := &f.futures[i]
		w.source.Seed(f.p.Seed, uint64(i)+1)
		var z, x [reading.Learned]float64
		for j := range z {
			if f.root[j*reading.Learned+j] > 0 { // what is known leaves nothing to chance
				z[j] = w.normal.NormFloat64()
			}
		}
		for j := range x {
			x[j] = from.Mean[j]
			for k := 0; k <= j; k++ {
				x[j] += f.root[j*reading.Learned+k] * z[k]
			}
		}
		v.rest, v.yield = x[reading.Rest], max(0.1, x[reading.Yield])
		v.lossScale = dynamics.Trained().LossScale * math.Exp(x[reading.LossScale])
		v.slow, v.gain, v.bias = x[reading.SlowFluid], x[reading.Gain], x[reading.Bias]
		v.ratio = f.p.RatioMean + f.p.RatioSD*w.normal.NormFloat64()
		v.state = from.Water
		v.state.FatKg, v.state.LeanKg = max(leastFatKg, x[reading.Fat]), m.LeanFromFatFree(x[reading.FatFree])
		v.state.AdaptationKcal = x[reading.Adaptation]
		v.firstLeanKg = m.ReferenceFatFreeKg(&v.state)
		v.leanest = math.Inf(1)
		v.random = *w.source
	}
}

// In a week the offset of expenditure wanders by so much, kcal a day, and fat goes
// for lean, kg.
var (
	weekDrift    = reading.RestDriftKcal * math.Sqrt(weekDays)
	weekExchange = reading.ExchangeKg * math.Sqrt(weekDays)
)

// week flies a block over the days from up to to.
func (f *flight) week(w *worker, first, end, from, to int) {
	block := f.futures[first:end]
	steered := f.p.Steered && from > 0
	f.draw(w, block, to-from, steered)
	for i := range block {
		v, z := &block[i], &w.draws[i]
		v.rest += weekDrift * z[drawDrift]
		exchange := min(weekExchange*z[drawExchange], max(0, v.state.FatKg-leastFatKg))
		v.state.FatKg -= exchange
		v.state.LeanKg += exchange
		if steered {
			f.steer(v, &w.model, &f.days[from].Day, trendSD*z[drawEye])
		}
	}
	m := &w.model
	for day := from; day < to; day++ {
		d, c := &f.days[day], &w.counts[day-from]
		for i := range block {
			v := &block[i]
			z := w.draws[i][drawDays+2*(day-from):]
			f.count(c, m, v)
			energy := d.EnergyKcal
			if !d.Free {
				energy += v.coach.correction
			}
			energy *= v.ratio + f.p.DaySD*z[0]
			v.slow = f.slowDecay*v.slow + f.slowKick*z[1]
			m.RestKcal, m.ActivityYield, m.Partition.LossScale = v.rest, v.yield, v.lossScale
			m.Step(&v.state, dynamics.Input{
				EnergyKcal:        energy,
				CarbohydrateKcal:  max(0, d.carbohydrateKcal+d.carbohydratePerKcal*energy),
				ActivityKcalPerKg: d.ActivityKcalPerKg,
			})
		}
	}
}

// draw fills in what chance brings a block in a week. Drawing apart from flying
// keeps the generator's rare slow path out of the inner loop.
func (f *flight) draw(w *worker, block []future, days int, steered bool) {
	for i := range block {
		v, z := &block[i], &w.draws[i]
		*w.source = v.random
		z[drawDrift], z[drawExchange] = w.normal.NormFloat64(), w.normal.NormFloat64()
		if steered {
			z[drawEye] = w.normal.NormFloat64()
		}
		for j := range 2 * days {
			z[drawDays+j] = w.normal.NormFloat64()
		}
		v.random = *w.source
	}
}

// tail draws from Student's t with 4 degrees of freedom, which is how a morning's
// weight scatters (reading.Settings.TailDF): a normal over the root of a chi
// square, which of 4 degrees is the sum of two exponentials. The scale is learned
// by the median of what is seen, so that the median is made a normal's.
func (w *worker) tail() float64 {
	const medianOfNormal, medianOfT4 = 0.67449, 0.74070
	chi := 0.5 * (w.normal.ExpFloat64() + w.normal.ExpFloat64())
	return medianOfNormal / medianOfT4 * w.normal.NormFloat64() / math.Sqrt(chi)
}

// land counts the last morning and writes down how a block ends.
func (f *flight) land(w *worker, first, end int) {
	e := &f.ends
	for i := first; i < end; i++ {
		v := &f.futures[i]
		e.bodyFat[i] = f.count(&w.counts[0], &w.model, v)
		e.method[i] = e.bodyFat[i] + v.bias
		e.lean[i] = w.model.ReferenceFatFreeKg(&v.state)
		e.lost[i] = v.firstLeanKg - e.lean[i]
		e.leanest[i] = v.leanest
		*w.source = v.random
		e.weight[i] = v.state.FatKg + e.lean[i] + v.gain*w.model.WaterKg(&v.state) + v.slow + f.fastSD*w.tail()
	}
}
