package training

import (
	"math"
	"slices"

	"glidepath/civil"
	"glidepath/numeric"
)

// OverallPoint is strength as a whole on a day, % of the baseline.
type OverallPoint struct {
	Date civil.Date       `json:"date"`
	Pct  numeric.Interval `json:"pct"`
}

// OverallSeries is strength as a whole by week, counted back from AsOf: on each
// day the random-effects mean, as in Overall, of the lifts that Overall stands
// for, each at its level of the last session. Days before every one of them has a
// session are left out. The interval counts the levels' errors and the spread
// between lifts, but not the baseline's own error; the last point is Overall,
// which counts both. Nil where Overall is.
func (r *StrengthReport) OverallSeries() []OverallPoint {
	if r.Overall == nil {
		return nil
	}
	var lifts []Lift
	for _, l := range r.Lifts {
		if l.BaselineKg != nil && slices.Contains(r.OverallFrom, l.Exercise) {
			lifts = append(lifts, l)
		}
	}
	from := r.AsOf
	for i, l := range lifts {
		if first := l.Series[0].Date; i == 0 || first > from {
			from = first
		}
	}
	var out []OverallPoint
	for on := from.AddDays(r.AsOf.DaysSince(from) % 7); on < r.AsOf; on = on.AddDays(7) {
		changes, variances := make([]float64, len(lifts)), make([]float64, len(lifts))
		for i, l := range lifts {
			level := l.on(on)
			changes[i] = math.Log(level.Value / *l.BaselineKg)
			sd := math.Log(level.High90/level.Low90) / 2 / z90
			variances[i] = sd * sd
		}
		out = append(out, OverallPoint{on, logInterval(pool(changes, variances)).Scale(100)})
	}
	return append(out, OverallPoint{r.AsOf, r.Overall.Pct})
}

// z90 is the normal quantile of a central 90 % interval's end.
const z90 = 1.6448536269514722

// on is the level of the last session up to a day on or after the first.
func (l *Lift) on(day civil.Date) numeric.Interval {
	level := l.Series[0].LevelKg
	for _, p := range l.Series {
		if p.Date > day {
			break
		}
		level = p.LevelKg
	}
	return level
}
