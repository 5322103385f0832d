package report

import (
	"math"

	"glidepath/chart"
	"glidepath/civil"
)

// weightWeek is the corridor's picture as a row of numbers, kg.
type weightWeek struct {
	On           civil.Date
	Forecast     bool
	Weight, Plan *Estimate
	Lower, Upper float64
}

// WeightWeeks tells the corridor in numbers, a week apart and counted from the
// day of the show, or from the day of the reading where there is no show.
func (v *view) WeightWeeks() []weightWeek {
	ch := v.Corridor.Chart
	rows := map[civil.Date]*weightWeek{}
	row := func(d civil.Date) *weightWeek {
		if rows[d] == nil {
			rows[d] = &weightWeek{On: d, Lower: math.NaN(), Upper: math.NaN()}
		}
		return rows[d]
	}
	for _, e := range ch.Edges {
		row(e.Date).Lower, row(e.Date).Upper = e.LowerKg, e.UpperKg
	}
	for _, p := range ch.Plan {
		row(p.Date).Plan = &Estimate{Value: p.Value}
	}
	for _, p := range ch.Forecast {
		row(p.Date).Weight, row(p.Date).Forecast = &Estimate{p.Median, p.Low[2], p.High[2]}, true
	}
	for _, e := range ch.Trend {
		row(e.Date).Weight, row(e.Date).Forecast = &Estimate{e.Value, e.Low, e.High}, false
	}
	anchor := ch.Show.Date
	if anchor.IsZero() {
		anchor = ch.AsOf
	}
	var first, last civil.Date
	for d := range rows {
		if first.IsZero() || d < first {
			first = d
		}
		last = max(last, d)
	}
	var out []weightWeek
	for d := first; d <= last && !d.IsZero(); d++ {
		if r := rows[d]; r != nil && d.DaysSince(anchor)%7 == 0 {
			out = append(out, *r)
		}
	}
	return out
}

// Room writes the corridor of a day.
func (v *view) Room(w weightWeek) shown {
	if !isFinite(w.Lower) || !isFinite(w.Upper) {
		return shown{Value: unknown}
	}
	n := v.Notation
	return shown{Range: chart.Number(n.FromKg(w.Lower), 1) + " to " + chart.Number(n.FromKg(w.Upper), 1)}
}

// recoveryWeek is the mean of each marker in a week from Monday on.
type recoveryWeek struct {
	From  civil.Date
	Means []string
}

// RecoveryMarkers are the markers that have any value.
func (v *view) RecoveryMarkers() []chart.Marker {
	var out []chart.Marker
	for _, m := range v.Recovery.Chart.Markers {
		if (chart.Recovery{Markers: []chart.Marker{m}}).Empty() {
			continue
		}
		out = append(out, m)
	}
	return out
}

// RecoveryWeeks are the means by week, as written; a week with fewer than three
// values has none.
func (v *view) RecoveryWeeks() []recoveryWeek {
	type cell struct {
		sum float64
		n   int
	}
	markers := v.RecoveryMarkers()
	weeks := map[civil.Date][]cell{}
	var first, last civil.Date
	for i, m := range markers {
		for _, p := range m.Points {
			if !isFinite(p.Value) {
				continue
			}
			monday := p.Date.Monday()
			if weeks[monday] == nil {
				weeks[monday] = make([]cell, len(markers))
			}
			weeks[monday][i].sum += p.Value
			weeks[monday][i].n++
			if first.IsZero() || monday < first {
				first = monday
			}
			last = max(last, monday)
		}
	}
	var out []recoveryWeek
	for d := first; d <= last && !d.IsZero(); d = d.AddDays(7) {
		w := recoveryWeek{From: d}
		for i := range markers {
			mean := unknown
			if cells := weeks[d]; cells != nil && cells[i].n >= 3 {
				mean = chart.Number(cells[i].sum/float64(cells[i].n), 1)
			}
			w.Means = append(w.Means, mean)
		}
		out = append(out, w)
	}
	return out
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
