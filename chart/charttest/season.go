// Package charttest has one invented season for the tests of what draws and
// prints. Nobody lived it: the numbers come from a few smooth curves and a seeded
// random source, and not from the engine.
package charttest

import (
	"math"
	"math/rand/v2"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
)

// The dates of the invented season.
var (
	LogFrom  = civil.MustParse("2026-02-16")
	PrepFrom = civil.MustParse("2026-03-02")
	AsOf     = civil.MustParse("2026-07-05")
	ShowDay  = civil.MustParse("2026-08-29")
	End      = civil.MustParse("2026-09-27")
)

// Weights of the invented season, kg.
const (
	startKg  = 68.4
	targetKg = 58.2
)

// Season is every chart of the invented season.
type Season struct {
	Corridor    chart.Corridor
	Starts      chart.Starts
	Courses     chart.Courses
	Composition chart.Composition
	Strength    chart.Strength
	Activity    chart.Activity
	Recovery    chart.Recovery
	Muscles     chart.Muscles
	Loads       chart.Loads
	Splits      chart.Splits
	State       chart.State
	Kept        chart.Kept
	Trade       chart.Trade
}

// New gives the season; each call gives the same one.
func New() Season {
	rng := rand.New(rand.NewPCG(26, 8))
	return Season{
		Corridor:    corridor(rng),
		Starts:      starts(),
		Courses:     courses(),
		Composition: composition(rng),
		Strength:    strength(rng),
		Activity:    activity(rng),
		Recovery:    recovery(rng),
		Muscles:     muscles(),
		Loads:       loads(rng),
		Splits:      splits(rng),
		State:       state(rng),
		Kept:        kept(),
		Trade:       trade(),
	}
}

// weeks since the prep began.
func weeks(d civil.Date) float64 { return float64(d.DaysSince(PrepFrom)) / 7 }

// tissue is the invented weight without water: steady before the prep, then a
// descent that slows as the athlete gets leaner.
func tissue(d civil.Date) float64 {
	w := math.Max(0, weeks(d))
	return startKg - 9.9*(1-math.Exp(-w/21))/(1-math.Exp(-26.0/21))
}

// travelling is the week without a log.
func travelling(d civil.Date) bool {
	return d >= PrepFrom.AddDays(65) && d < PrepFrom.AddDays(72)
}

func corridor(rng *rand.Rand) chart.Corridor {
	ch := chart.Corridor{
		AsOf:   AsOf,
		Show:   chart.Mark{Date: ShowDay, Label: "Northern Open"},
		Target: &chart.Target{WeightKg: targetKg, LowKg: 57.5, HighKg: 58.9},
		// The invented class of athletes of her height.
		ClassLimitKg: new(61.5),
		Phases: []athlete.Phase{
			{Kind: athlete.OffSeason, From: LogFrom, To: PrepFrom - 1},
			{Kind: athlete.Prep, From: PrepFrom, To: ShowDay.AddDays(-8)},
			{Kind: athlete.PeakWeek, From: ShowDay.AddDays(-7), To: ShowDay - 1},
			{Kind: athlete.ShowDay, From: ShowDay, To: ShowDay},
			{Kind: athlete.Recovery, From: ShowDay + 1, To: End},
		},
		Marks: []chart.Mark{
			{Date: PrepFrom, Label: "energy 2,380 to 2,050 kcal a day"},
			{Date: PrepFrom.AddDays(28), Label: "steps 8,000 to 9,500 a day"},
			{Date: PrepFrom.AddDays(56), Label: "energy down 90 kcal a day"},
			{Date: PrepFrom.AddDays(63), Label: "travel week at maintenance"},
			{Date: PrepFrom.AddDays(70), Label: "back to 1,960 kcal a day"},
			{Date: PrepFrom.AddDays(105), Label: "incline walking, 90 minutes a week"},
		},
		Notes: chart.Notes{Coach: []civil.Date{PrepFrom.AddDays(20), PrepFrom.AddDays(70), PrepFrom.AddDays(71), PrepFrom.AddDays(98)}},
	}
	for d := LogFrom; d <= AsOf; d++ { // a word on every eleventh day, and on each of the journey
		if travelling(d) || d.DaysSince(LogFrom)%11 == 0 {
			ch.Notes.Athlete = append(ch.Notes.Athlete, d)
		}
	}
	water := 0.0
	for d := LogFrom; d <= AsOf; d++ {
		water = 0.35*water + 0.38*rng.NormFloat64()
		rhythm := 0.16 * math.Cos(2*math.Pi*float64(int(d.Weekday())-1)/7)
		if !travelling(d) && rng.Float64() > 0.06 {
			ch.Scale = append(ch.Scale, chart.Point{Date: d, Value: math.Round(10*(tissue(d)+water+rhythm)) / 10})
		}
		half := 0.32
		if travelling(d) {
			half = 0.32 + 0.5*math.Sin(math.Pi*float64(d.DaysSince(PrepFrom.AddDays(65)))/7)
		}
		mid := tissue(d) + 0.12*math.Sin(weeks(d)*1.3)
		ch.Trend = append(ch.Trend, chart.Estimate{Date: d, Value: mid, Low: mid - half, High: mid + half})
		spent := 2395 - 15*math.Max(0, weeks(d)) + 20*math.Sin(weeks(d))
		halfKcal := 95 + 160*math.Exp(-float64(d.DaysSince(LogFrom))/16)
		ch.Expenditure = append(ch.Expenditure, chart.Estimate{Date: d, Value: spent, Low: spent - halfKcal, High: spent + halfKcal})
	}
	for d := LogFrom; d < AsOf; d = d.AddDays(7) {
		v := math.NaN()
		if !travelling(d.AddDays(3)) {
			v = map[bool]float64{true: 2380, false: 2050 - 6*math.Max(0, weeks(d))}[d < PrepFrom] + 45*rng.NormFloat64()
		}
		ch.Reported = append(ch.Reported, chart.Point{Date: d, Value: v})
	}
	for d := PrepFrom; d <= ShowDay; d++ {
		toGo := float64(ShowDay.DaysSince(d)) / 7
		upper := 58.9 * math.Exp(0.0056*toGo+0.000085*toGo*toGo)
		lower := math.Max(57.5, startKg*math.Exp(-0.0098*weeks(d)+0.000095*weeks(d)*weeks(d)))
		ch.Edges = append(ch.Edges, chart.Edge{Date: d, LowerKg: lower, UpperKg: upper})
		ch.Plan = append(ch.Plan, chart.Point{Date: d, Value: startKg - (startKg-targetKg)*(1-math.Exp(-weeks(d)/24))/(1-math.Exp(-25.7/24))})
	}
	ch.Forecast = fan(AsOf, ShowDay, tissue, 0.25, 0.2)
	return ch
}

// fan spreads normal intervals about a curve: a spread to start from and what a
// square root of a week adds, kg. The quantiles are those of the normal
// distribution (50, 80 and 90 %).
func fan(from, to civil.Date, mid func(civil.Date) float64, at, perRootWeek float64) []chart.FanPoint {
	z := [3]float64{0.6745, 1.2816, 1.6449}
	var out []chart.FanPoint
	for d := from; d <= to; d++ {
		w := float64(d.DaysSince(from)) / 7
		sd := math.Sqrt(at*at + perRootWeek*perRootWeek*w)
		p := chart.FanPoint{Date: d, Median: mid(d)}
		for i := range z {
			p.Low[i], p.High[i] = p.Median-z[i]*sd, p.Median+z[i]*sd
		}
		out = append(out, p)
	}
	return out
}

func composition(rng *rand.Rand) chart.Composition {
	var ch chart.Composition
	fat := func(d civil.Date) float64 { return 24.6 - 11.6*(startKg-tissue(d))/(startKg-targetKg) }
	for d := LogFrom; d <= AsOf; d++ {
		f := fat(d)
		half := 1.5 + 0.9*math.Exp(-float64(d.DaysSince(LogFrom))/20)
		ch.BodyFatPct = append(ch.BodyFatPct, chart.Estimate{Date: d, Value: f, Low: f - half, High: f + half})
		lean := tissue(d) * (1 - f/100)
		ch.LeanKg = append(ch.LeanKg, chart.Estimate{Date: d, Value: lean, Low: lean - 0.014*half*tissue(d)/2, High: lean + 0.014*half*tissue(d)/2})
	}
	add := func(m athlete.Method, day int, off, half float64) {
		v := fat(PrepFrom.AddDays(day)) + off + 0.5*rng.NormFloat64()
		ch.Measured = append(ch.Measured, chart.Measured{Method: m, Estimate: chart.Estimate{Date: PrepFrom.AddDays(day), Value: v, Low: v - half, High: v + half}})
	}
	for day := -7; day < 125; day += 21 {
		add(athlete.Calipers7, day, -0.8, 3.2)
	}
	add(athlete.Scan, -4, 1.4, 2.2)
	add(athlete.Scan, 88, 1.4, 2.2)
	add(athlete.Eye, 52, 0, 3)
	add(athlete.Eye, 118, 0.5, 3)
	return ch
}

func strength(rng *rand.Rand) chart.Strength {
	var ch chart.Strength
	line := func(loss, half float64, gap bool) []chart.Estimate {
		var out []chart.Estimate
		for d := LogFrom; d <= AsOf; d = d.AddDays(3) {
			v := 100 - loss*math.Pow(math.Max(0, weeks(d))/18, 1.6) + 0.5*rng.NormFloat64()
			e := chart.Estimate{Date: d, Value: v, Low: v - half, High: v + half}
			if gap && travelling(d) {
				e.Value, e.Low, e.High = math.NaN(), math.NaN(), math.NaN()
			}
			out = append(out, e)
		}
		return out
	}
	ch.Overall = line(3.1, 1.9, false)
	for _, l := range []struct {
		name string
		loss float64
	}{{"Back squat", 4.4}, {"Romanian deadlift", 1.8}, {"Bench press", 4.9}, {"Overhead press", 3.6}, {"Chest-supported row", 1.1}, {"Pull-up", -3.2}} {
		ch.Lifts = append(ch.Lifts, chart.Lift{Name: l.name, Retained: line(l.loss, 3.4, true)})
	}
	return ch
}

func activity(rng *rand.Rand) chart.Activity {
	var ch chart.Activity
	for d := LogFrom; d < AsOf; d = d.AddDays(7) {
		w := chart.ActivityWeek{From: d, StepsAsked: new(8000.0), CardioAsked: new(60.0)}
		if weeks(d) >= 4 {
			*w.StepsAsked = 9500
		}
		if weeks(d) >= 15 {
			*w.CardioAsked = 150
		}
		if !travelling(d.AddDays(3)) {
			w.StepsPerDay = new(*w.StepsAsked * (0.98 + 0.06*rng.NormFloat64()))
			w.CardioMinutes = new(math.Round(*w.CardioAsked * (0.95 + 0.1*rng.NormFloat64())))
		}
		ch.Weeks = append(ch.Weeks, w)
	}
	return ch
}

func recovery(rng *rand.Rand) chart.Recovery {
	series := func(at func(w float64) float64, sd, low, high, unit float64) []chart.Point {
		var out []chart.Point
		for d := LogFrom; d <= AsOf; d++ {
			if travelling(d) {
				continue
			}
			v := at(math.Max(0, weeks(d))) + sd*rng.NormFloat64()
			v = math.Round(v/unit) * unit
			out = append(out, chart.Point{Date: d, Value: math.Max(low, math.Min(high, v))})
		}
		return out
	}
	return chart.Recovery{Markers: []chart.Marker{
		{Name: "Sleep", Unit: "hours a night", Points: series(func(w float64) float64 { return 7.4 - 0.045*w }, 0.6, 0, 12, 0.25)},
		{Name: "Hunger", Unit: "1 none, 10 most", Low: 1, High: 10, Points: series(func(w float64) float64 { return 3 + 0.2*w }, 1, 1, 10, 1)},
		{Name: "Fatigue", Unit: "1 none, 10 most", Low: 1, High: 10, Points: series(func(w float64) float64 { return 3 + 0.13*w }, 1.1, 1, 10, 1)},
		{Name: "Resting pulse", Unit: "beats a minute", Points: series(func(w float64) float64 { return 61 - 0.45*w }, 1.8, 35, 120, 1)},
	}}
}

// starts are from eight weeks before the prep began to three after it, the last of
// which is too late.
func starts() chart.Starts {
	var ch chart.Starts
	for w := -8; w <= 3; w++ {
		s := chart.Start{
			Date: PrepFrom.AddDays(7 * w), Lands: w < 3, Chosen: w == 0,
			LowestKcal: 1790 - 14*float64(w+8) - 1.6*float64((w+8)*(w+8)), LeanLostKg: 0.9 - 0.02*float64(w+8) + 0.0006*math.Pow(float64(w+8), 3),
		}
		s.Dominated = w < -5
		ch.Of = append(ch.Of, s)
	}
	return ch
}

// courses are two ways of going on from AsOf, invented straight lines.
func courses() chart.Courses {
	ch := chart.Courses{Show: ShowDay}
	for i, name := range []string{"as now", "as proposed"} {
		c := chart.Course{Name: name}
		for d := AsOf; d <= ShowDay; d++ {
			days := float64(d.DaysSince(AsOf))
			kg := 60.4 - days*(0.02+0.015*float64(i))
			c.Weight = append(c.Weight, chart.Estimate{Date: d, Value: kg, Low: kg - 0.3 - 0.012*days, High: kg + 0.3 + 0.012*days})
		}
		ch.Of = append(ch.Of, c)
	}
	return ch
}

// trade is an invented price list, the least tiring way first.
func trade() chart.Trade {
	return chart.Trade{Kcal: 300, Ways: []chart.TradeWay{
		{Name: "everyday steps", Steps: 12940, Minutes: math.NaN(), Base: 300},
		{Name: "walking, 5.5 km/h", Minutes: 118, Base: 285, Impact: 15, Intensity: 17, Overlap: 2},
		{Name: "cycling, 85 W", Minutes: 63, Base: 360, Intensity: 95, Overlap: 21},
		{Name: "incline walking, 5.0 km/h at 8 %", Minutes: 54, Base: 330, Impact: 15, Intensity: 118, Overlap: 40},
		{Name: "stair climbing", Minutes: 39, Base: 420, Impact: 30, Intensity: 220, Overlap: 60},
		{Name: "running, 10.0 km/h", Minutes: 28, Base: 405, Impact: 135, Intensity: 395, Overlap: 88},
	}}
}
