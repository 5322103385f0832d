package chart

import (
	"math"
	"time"

	"glidepath/civil"
)

// frame is where a panel lies on the canvas and what its axes span.
type frame struct {
	left, right, top, bottom float64
	from, to                 civil.Date
	low, high                float64
}

func (f frame) x(d civil.Date) float64 {
	span := float64(f.to.DaysSince(f.from))
	return f.left + (f.right-f.left)*float64(d.DaysSince(f.from))/span
}

func (f frame) y(v float64) float64 {
	return f.bottom - (f.bottom-f.top)*(v-f.low)/(f.high-f.low)
}

func (f frame) holds(d civil.Date) bool { return d >= f.from && d <= f.to }

// span gathers the least and the greatest of what is finite.
type span struct {
	low, high float64
	any       bool
}

func (s *span) add(vs ...float64) {
	for _, v := range vs {
		if !finite(v) {
			continue
		}
		if !s.any {
			s.low, s.high, s.any = v, v, true
		}
		s.low, s.high = math.Min(s.low, v), math.Max(s.high, v)
	}
}

func (s *span) addPoints(ps []Point) {
	for _, p := range ps {
		s.add(p.Value)
	}
}

func (s *span) addEstimates(es []Estimate) {
	for _, e := range es {
		s.add(e.Value, e.Low, e.High)
	}
}

// padded leaves a share of the range free at either end, and at least as much
// range as least.
func (s span) padded(share, least float64) span {
	if d := s.high - s.low; d < least {
		s.low, s.high = s.low-(least-d)/2, s.high+(least-d)/2
	}
	pad := share * (s.high - s.low)
	return span{s.low - pad, s.high + pad, true}
}

// days gathers the first and the last date.
type days struct{ from, to civil.Date }

func (d *days) add(dates ...civil.Date) {
	for _, t := range dates {
		if t.IsZero() {
			continue
		}
		if d.from.IsZero() || t < d.from {
			d.from = t
		}
		if t > d.to {
			d.to = t
		}
	}
}

func (d *days) addPoints(ps []Point) {
	for _, p := range ps {
		if finite(p.Value) {
			d.add(p.Date)
		}
	}
}

func (d *days) addEstimates(es []Estimate) {
	for _, e := range es {
		if e.known() {
			d.add(e.Date)
		}
	}
}

// atLeastWeek widens to a week, so that a single reading has an axis.
func (d days) atLeastWeek() days {
	const n = 7
	if d.from.IsZero() {
		return d
	}
	if d.to.DaysSince(d.from) < n {
		d.to = d.from.AddDays(n)
	}
	return d
}

// ticks are round values from low to high in steps of 1, 2 or 5 times a power
// of ten, at most so many, with the decimals that they need.
func ticks(low, high float64, most int) (values []float64, decimals int) {
	raw := (high - low) / float64(most)
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * power
	for _, k := range []float64{1, 2, 5} {
		if k*power >= raw {
			step = k * power
			break
		}
	}
	for i := math.Ceil(low/step - 1e-9); i*step <= high+1e-9*step; i++ {
		values = append(values, i*step)
	}
	return values, int(math.Max(0, -math.Floor(math.Log10(step)+1e-9)))
}

// dateTick is a labelled day on the time axis.
type dateTick struct {
	date  civil.Date
	label string
}

// dateTicks are the firsts of months, as close as their labels allow, or Mondays
// where the axis is short. January is labelled with its year.
func dateTicks(f frame, n Notation) []dateTick {
	perDay := (f.right - f.left) / float64(f.to.DaysSince(f.from))
	if f.to.DaysSince(f.from) < 75 {
		return weekTicks(f, n, perDay)
	}
	room := textWidth("2026", typeSize, false) + 10
	step := 12
	for _, k := range []int{1, 2, 3, 6} {
		if float64(k)*28*perDay >= room {
			step = k
			break
		}
	}
	var out []dateTick
	first := f.from.Time()
	for m := 0; ; m++ {
		d := civil.Of(first.Year(), first.Month()+time.Month(m), 1)
		if d > f.to {
			return out
		}
		if d < f.from || (int(d.Time().Month())-1)%step != 0 {
			continue
		}
		label := d.Format("Jan")
		if d.Time().Month() == time.January {
			label = d.Format("2006")
		}
		out = append(out, dateTick{d, label})
	}
}

func weekTicks(f frame, n Notation, perDay float64) []dateTick {
	room := textWidth(n.ShortDate(civil.Of(2026, time.May, 28)), typeSize, false) + 10
	step := 7
	for float64(step)*perDay < room {
		step *= 2
	}
	monday := f.from
	for monday.Weekday() != time.Monday {
		monday++
	}
	var out []dateTick
	for d := monday; d <= f.to; d = d.AddDays(step) {
		out = append(out, dateTick{d, n.ShortDate(d)})
	}
	return out
}
