package charttest

import (
	"math"
	"math/rand/v2"

	"glidepath/athlete"
	"glidepath/chart"
)

// muscles are sets by hand, with one muscle that has none and one without a past.
func muscles() chart.Muscles {
	var ch chart.Muscles
	for i, m := range athlete.Muscles() {
		r := chart.MuscleRow{Name: string(m), Direct: float64(4 + 3*i%11), Indirect: float64(i%4) / 2, Maintenance: new(6.0), OffSeason: new(float64(9 + i%5)), Now: new(float64(7 + i%3))}
		switch m {
		case athlete.Abdominals:
			r.Direct, r.Indirect = 0, 0
		case athlete.Calves:
			r.Maintenance, r.OffSeason, r.Now = nil, nil, nil
		}
		ch.Rows = append(ch.Rows, r)
	}
	return ch
}

// loads are weeks of four sessions, one of them without a log.
func loads(rng *rand.Rand) chart.Loads {
	var ch chart.Loads
	for d := LogFrom; d < AsOf; d = d.AddDays(7) {
		w := chart.LoadWeek{From: d}
		if !travelling(d.AddDays(3)) {
			load, monotony := 1900+200*rng.NormFloat64(), 1.3+0.3*rng.NormFloat64()
			w.Load, w.Monotony, w.Strain = &load, &monotony, new(load*monotony)
		}
		ch.Weeks = append(ch.Weeks, w)
	}
	return ch
}

func splits(rng *rand.Rand) chart.Splits {
	ch := chart.Splits{Title: "Hard sets by repetitions to failure", Kinds: []string{"1 to 5", "6 to 12", "13 and more"}}
	for d := LogFrom; d < AsOf; d = d.AddDays(7) {
		w := chart.SplitWeek{From: d, Sets: []float64{0, 0, 0}}
		if !travelling(d.AddDays(3)) {
			w.Sets = []float64{math.Round(8 + 2*rng.NormFloat64()), math.Round(48 + 4*rng.NormFloat64()), math.Round(14 + 3*rng.NormFloat64())}
		}
		ch.Weeks = append(ch.Weeks, w)
	}
	return ch
}

// state falls slowly below what is usual.
func state(rng *rand.Rand) chart.State {
	ch := chart.State{Short: -1.5}
	for d := LogFrom.AddDays(6); d <= AsOf; d = d.AddDays(7) {
		v := -0.09*math.Max(0, weeks(d)) + 0.3*rng.NormFloat64()
		ch.Weeks = append(ch.Weeks, chart.Estimate{Date: d, Value: v, Low: v - 0.8, High: v + 0.8})
	}
	return ch
}

func kept() chart.Kept {
	return chart.Kept{Title: "Strength kept by muscle, % of baseline", Rows: []chart.KeptRow{
		{Name: "Quadriceps", Pct: chart.Estimate{Value: 96.2, Low: 93.1, High: 99.4}},
		{Name: "Back", Pct: chart.Estimate{Value: 99.1, Low: 95.5, High: 102.8}},
		{Name: "A lift with a name that is long beyond all reason", Pct: chart.Estimate{Value: 101.4, Low: 97, High: 105.9}},
		{Name: "Calves", Pct: chart.Estimate{Value: math.NaN()}},
	}}
}
