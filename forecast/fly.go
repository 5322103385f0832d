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

// The futures fly a week at a time, block by block. A block is a structure of
// arrays and within it the days are the outer loop, so that the processor works at
// several bodies at once where one body's days would wait for each other, and a
// week's counts are enough to hold.
const (
	blockFutures = dynamics.CrowdSize
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

// block is a few futures on the way: the bodies on a morning, and what was drawn
// for good.
type block struct {
	dynamics.Crowd
	first, n int // the number of its first future, and how many they are

	gain, ratio [blockFutures]float64
	bias        [blockFutures]float64 // of the athlete's method, points of body fat
	fatterKg    [blockFutures]float64 // at the start than is believed, on the scale of that method
	firstLeanKg [blockFutures]float64 // reference fat-free mass at the start
	slow        [blockFutures]float64 // slow fluid, kg
	leanest     [blockFutures]float64 // body fat so far, per cent
	coach       [blockFutures]steering
	random      [blockFutures]rand.PCG
}

// flight holds all futures and what they end in.
type flight struct {
	p       *Problem
	days    []plannedDay
	blocks  []block
	workers []worker
	root    [reading.Learned * reading.Learned]float64 // of the posterior's covariance
	low     float64                                    // kg, of the weight histogram
	// Slow fluid decays, and in a day this much comes to it, kg; the rest of the
	// noise is of one morning.
	slowDecay, slowKick, fastSD float64

	dietDays int  // up to the last day that is not free
	staged   bool // the last morning is a show's

	fan  []Fan
	soon []float64 // weight on the scale on soonDay
	ends ends
}

// plannedDay is a day of the plan, ready for use in the inner loop.
type plannedDay struct {
	Day
	carbohydratePerKcal float64
	carbohydrateKcal    float64 // beside it, where no energy is planned
}

// ends are the futures' last morning, sorted, and in the order of futures the
// least body fat that each has seen and whether some week's intake had to stand at
// the floor. method is body fat on the scale of the athlete's method.
type ends struct {
	weight, bodyFat, method, lean, lost []float64

	leanest []float64
	atFloor []bool
}

// worker is what one goroutine writes to.
type worker struct {
	model  dynamics.Model
	source *rand.PCG
	normal *rand.Rand // draws from source
	draws  [weekDraws][blockFutures]float64
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
	for i, d := range p.Plan {
		if !d.Free {
			f.dietDays = i + 1
		}
	}
	f.staged = f.dietDays < len(p.Plan)
	if len(p.Plan) > soonDay {
		f.soon = make([]float64, p.Futures)
	}
	f.blocks = make([]block, (p.Futures+blockFutures-1)/blockFutures)
	for i := range f.blocks {
		f.blocks[i].first = i * blockFutures
		f.blocks[i].n = min(blockFutures, p.Futures-i*blockFutures)
	}
	f.workers = make([]worker, p.Workers)
	for i := range f.workers {
		w := &f.workers[i]
		w.model, w.source = p.From.Model, rand.NewPCG(0, 0)
		w.normal = rand.New(w.source)
	}
	f.fan = make([]Fan, len(p.Plan)+1)
	f.ends.atFloor = make([]bool, p.Futures)
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
		f.eachBlock(func(w *worker, b *block) { f.week(w, b, from, to) })
		f.spread(from, to-from)
	}
	f.eachBlock(f.land)
	f.spread(len(f.days), 1)
	e := &f.ends
	sorted := [...][]float64{e.weight, e.bodyFat, e.method, e.lean, e.lost, f.soon}
	f.share(len(sorted), func(_ *worker, i int) { slices.Sort(sorted[i]) })
}

// eachBlock calls do for each block of futures.
func (f *flight) eachBlock(do func(w *worker, b *block)) {
	f.share(len(f.blocks), func(w *worker, i int) { do(w, &f.blocks[i]) })
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
func (f *flight) launch(w *worker, b *block) {
	from := &f.p.From
	for i := range b.n {
		w.source.Seed(f.p.Seed, uint64(b.first+i)+1)
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
		s := from.Water
		s.FatKg, s.LeanKg = max(leastFatKg, x[reading.Fat]), w.model.LeanFromFatFree(x[reading.FatFree])
		s.AdaptationKcal = x[reading.Adaptation]
		b.Put(i, &s)
		b.RestKcal[i], b.ActivityYield[i] = x[reading.Rest], max(0.1, x[reading.Yield])
		b.LossScale[i] = dynamics.Trained().LossScale * math.Exp(x[reading.LossScale])
		b.slow[i], b.gain[i], b.bias[i] = x[reading.SlowFluid], x[reading.Gain], x[reading.Bias]
		b.fatterKg[i] = x[reading.Fat] - from.Mean[reading.Fat] +
			(x[reading.Bias]-from.Mean[reading.Bias])/100*(from.Mean[reading.Fat]+from.Mean[reading.FatFree])
		b.ratio[i] = f.p.RatioMean + f.p.RatioSD*w.normal.NormFloat64()
		b.firstLeanKg[i] = w.model.ReferenceFatFreeKg(&s)
		b.leanest[i] = math.Inf(1)
		b.random[i] = *w.source
	}
}

// In a week the offset of expenditure wanders by so much, kcal a day, and fat goes
// for lean, kg.
var (
	weekDrift    = reading.RestDriftKcal * math.Sqrt(weekDays)
	weekExchange = reading.ExchangeKg * math.Sqrt(weekDays)
)

// week flies a block over the days from up to to.
func (f *flight) week(w *worker, b *block, from, to int) {
	steered := f.p.Steered && from > 0
	w.draw(b, to-from, steered)
	for i := range b.n {
		b.RestKcal[i] += weekDrift * w.draws[drawDrift][i]
		exchange := min(weekExchange*w.draws[drawExchange][i], max(0, b.FatKg[i]-leastFatKg))
		b.FatKg[i] -= exchange
		b.LeanKg[i] += exchange
		if steered {
			tissue := b.FatKg[i] + b.ReferenceFatFreeKg(&w.model, i)
			f.steer(&b.coach[i], &f.days[from].Day, tissue+f.days[from].KnownShare*b.fatterKg[i]+trendSD*w.draws[drawEye][i], float64(f.dietDays-from))
		}
	}
	for day := from; day < to; day++ {
		d := &f.days[day]
		if day == soonDay {
			for i := range b.n {
				f.soon[b.first+i] = f.weigh(w, b, i)
			}
		}
		f.count(&w.counts[day-from], &w.model, b)
		eaten, kick := &w.draws[drawDays+2*(day-from)], &w.draws[drawDays+2*(day-from)+1]
		for i := range b.n {
			energy := d.EnergyKcal
			if !d.Free {
				energy += b.coach[i].correction
			}
			energy *= b.ratio[i] + f.p.DaySD*eaten[i]
			b.EnergyKcal[i] = energy
			b.CarbohydrateKcal[i] = max(0, d.carbohydrateKcal+d.carbohydratePerKcal*energy)
			b.slow[i] = f.slowDecay*b.slow[i] + f.slowKick*kick[i]
		}
		w.model.StepCrowd(&b.Crowd, d.ActivityKcalPerKg, b.n)
	}
}

// draw fills in what chance brings a block in a week. Drawing apart from flying
// keeps the generator's rare slow path out of the inner loop.
func (w *worker) draw(b *block, days int, steered bool) {
	z := &w.draws
	for i := range b.n {
		*w.source = b.random[i]
		z[drawDrift][i], z[drawExchange][i] = w.normal.NormFloat64(), w.normal.NormFloat64()
		if steered {
			z[drawEye][i] = w.normal.NormFloat64()
		}
		for j := range 2 * days {
			z[drawDays+j][i] = w.normal.NormFloat64()
		}
		b.random[i] = *w.source
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
func (f *flight) land(w *worker, b *block) {
	f.count(&w.counts[0], &w.model, b)
	e := &f.ends
	for i := range b.n {
		to := b.first + i
		lean := b.ReferenceFatFreeKg(&w.model, i)
		tissue := b.FatKg[i] + lean
		e.bodyFat[to] = 100 * b.FatKg[i] / tissue
		e.method[to] = e.bodyFat[to] + b.bias[i]
		e.lean[to], e.lost[to] = lean, b.firstLeanKg[i]-lean
		e.leanest[to], e.atFloor[to] = b.leanest[i], b.coach[i].atFloor
		e.weight[to] = f.weigh(w, b, i)
		if f.staged {
			e.weight[to] += stageWaterSD * w.normal.NormFloat64()
		}
	}
}

// stageWaterSD is how differently bodies hold water after the food of a peak week,
// kg (judgement: it differs from athlete to athlete until it is rehearsed).
const stageWaterSD = 0.5

// soonDay is the morning, four weeks on, whose weight on the scale is told.
const soonDay = 28

// weigh puts a future on the scale, with the noise of a morning.
func (f *flight) weigh(w *worker, b *block, i int) float64 {
	*w.source = b.random[i]
	tissue := b.FatKg[i] + b.ReferenceFatFreeKg(&w.model, i)
	kg := tissue + b.gain[i]*b.WaterKg(&w.model, i) + b.slow[i] + f.fastSD*w.tail()
	b.random[i] = *w.source
	return kg
}
