package training

import (
	"math"
	"math/rand/v2"

	"glidepath/athlete"
	"glidepath/civil"
)

// A simulated lifter, who is not what the filter assumes: days run together, the
// noise has heavy tails and bad days, the repetitions follow curves that are not
// those of the blend, repetitions in reserve are misjudged with a bias of the
// lifter's own, and the load is what the lifter believes in, rounded to the plates.
type habits struct {
	lifts  []string
	form   float64 // SD of slow ups and downs of form, over some three weeks
	day    float64 // SD of a day, shared by the lifts of that day
	again  float64 // correlation of one session's day with the next
	rest   float64 // scale of what is of one lift on one day alone, Student t of 4
	slump  float64 // chance of a bad day, 4 to 10 % down in all lifts
	judge  float64 // SD of judging repetitions in reserve, anew each set
	sets   [2]int  // sets of a lift a day, from and to
	split  bool    // half of the lifts in one session, half in the next
	silent float64 // chance that a set has no repetitions in reserve
}

var ordinary = habits{
	form: 0.007, day: 0.012, again: 0.3, rest: 0.01, slump: 0.04, judge: 0.8, sets: [2]int{2, 4}, silent: 0.05,
}

var sixLifts = []string{"back squat", "bench press", "romanian deadlift", "overhead press", "barbell row", "lat pulldown"}

// gymLift is a lift as this lifter does it.
type gymLift struct {
	name    string
	max     float64 // log of the true maximum, kg
	slope   float64 // a true repetition to failure costs this share at first
	bend    float64 // and less or more with each further one
	belief  float64 // log of what the lifter loads by
	plate   float64
	tire    float64 // share lost with each set
	bias    float64 // of judged repetitions in reserve
	program []int   // repetitions aimed at, by block of four weeks
	own     float64 // share of a common drop that shows in this lift
}

func newGymLift(r *rand.Rand, name string) gymLift {
	max := math.Log(80 + 100*r.Float64())
	g := gymLift{
		name: name, max: max, belief: max,
		slope: 0.030 + 0.005*r.NormFloat64(), bend: 0.92 + 0.05*r.NormFloat64(),
		plate: 2.5, tire: 0.015 + 0.015*r.Float64(), bias: -0.4 + 0.5*r.NormFloat64(), own: 1,
	}
	for range 20 {
		g.program = append(g.program, 5+r.IntN(6))
	}
	return g
}

// loss is the log of what so many repetitions to failure take from the maximum.
func (g *gymLift) loss(reps float64) float64 { return g.slope * math.Pow(math.Max(0, reps-1), g.bend) }

// toFailure inverts loss.
func (g *gymLift) toFailure(share float64) float64 {
	return 1 + math.Pow(math.Max(0, share)/g.slope, 1/g.bend)
}

func (g *gymLift) perform(r *rand.Rand, h *habits, on civil.Date, week int, today float64, order *int) (sets []athlete.Set) {
	aim := g.program[week/4%len(g.program)]
	reserve := 1 + r.IntN(3)
	load := math.Round(math.Exp(g.belief-g.loss(float64(aim+reserve)))/g.plate) * g.plate
	for i := range h.sets[0] + r.IntN(h.sets[1]-h.sets[0]+1) {
		able := g.toFailure(g.max + today - g.tire*float64(i) - math.Log(load))
		felt := able + g.bias + h.judge*r.NormFloat64() // to failure, as the lifter thinks
		reps := int(math.Max(1, math.Min(math.Floor(able), math.Round(felt)-float64(reserve))))
		rir := math.Max(0, math.Min(5, math.Round(felt-float64(reps))))
		*order++
		s := athlete.Set{Date: on, Exercise: g.name, WeightKg: load, Reps: reps, RIR: &rir, Order: *order}
		if r.Float64() < h.silent {
			s.RIR = nil
		}
		sets = append(sets, s)
		if i == 0 {
			g.belief += 0.3 * (math.Log(load) + g.loss(float64(reps)+rir) - g.belief)
		}
	}
	return sets
}

// career is what a lifter logs over some weeks, two sessions of every lift a week.
// drop is the log of what is kept after day.
func (h *habits) career(r *rand.Rand, weeks int, kept func(day int) float64) []athlete.Set {
	var lifts []gymLift
	for _, name := range h.lifts {
		lifts = append(lifts, newGymLift(r, name))
	}
	return h.train(r, lifts, 0, weeks, kept)
}

func (h *habits) train(r *rand.Rand, lifts []gymLift, from, to int, kept func(day int) float64) (sets []athlete.Set) {
	day, form := h.day*r.NormFloat64(), make([]float64, len(lifts))
	for i := range form {
		form[i] = h.form * r.NormFloat64()
	}
	const slow = 0.85 // of form, from one session to the next
	for session := 2 * from; session < 2*to; session++ {
		at := session*7/2 + r.IntN(2)
		day = h.again*day + math.Sqrt(1-h.again*h.again)*h.day*r.NormFloat64()
		bad := 0.0
		if r.Float64() < h.slump {
			bad = 0.04 + 0.06*r.Float64()
		}
		order := 0
		for i := range lifts {
			if h.split && (i+session)%2 == 0 {
				continue
			}
			form[i] = slow*form[i] + math.Sqrt(1-slow*slow)*h.form*r.NormFloat64()
			rest := h.rest * r.NormFloat64() / math.Sqrt((square(r)+square(r)+square(r)+square(r))/4)
			today := lifts[i].own*kept(at) + form[i] + day + rest - bad
			sets = append(sets, lifts[i].perform(r, h, start.AddDays(at), session/2, today, &order)...)
		}
	}
	return sets
}

func square(r *rand.Rand) float64 {
	x := r.NormFloat64()
	return x * x
}

var start = civil.MustParse("2025-01-06") // a Monday
