package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// Corridor is the signature picture: body weight over the season between the
// two edges, with the plan, what the scale said, the trend and the forecast to
// the show; under it, on the same days, expenditure and what was eaten. Weights
// are in kg, energies in kcal a day on the athlete's own reporting scale. Each
// part may be missing.
type Corridor struct {
	AsOf civil.Date
	Show Mark

	Edges    []Edge
	Plan     []Point
	Scale    []Point
	Trend    []Estimate
	Forecast []FanPoint
	Target   *Target
	// ClassLimitKg is the most that the athlete may weigh in the class.
	ClassLimitKg *float64

	Phases []athlete.Phase
	// Marks are changes of prescription; the drawing numbers them from 1.
	Marks []Mark
	Notes Notes

	Expenditure []Estimate
	// Reported is the reported energy; each value holds until the next one's date.
	Reported []Point
}

// Edge is the corridor on a day: the lightest and the heaviest weight from which
// the show can be reached within every limit, kg.
type Edge struct {
	Date             civil.Date
	LowerKg, UpperKg float64
}

// Target is the weight wanted on the day of the show, kg.
type Target struct{ WeightKg, LowKg, HighKg float64 }

// Empty reports whether there is nothing to draw: no weight, edge, plan or
// forecast on any day.
func (ch Corridor) Empty() bool {
	var s span
	ch.weights(&s)
	return !s.any || ch.days().from.IsZero()
}

func (ch Corridor) weights(s *span) {
	s.addPoints(ch.Plan)
	s.addPoints(ch.Scale)
	s.addEstimates(ch.Trend)
	for _, p := range ch.Forecast {
		s.add(p.Median, p.Low[2], p.High[2])
	}
	if ch.Target != nil {
		s.add(ch.Target.WeightKg, ch.Target.LowKg, ch.Target.HighKg)
	}
	if s.any {
		return
	}
	for _, e := range ch.Edges {
		s.add(e.LowerKg, e.UpperKg)
	}
}

func (ch Corridor) days() days {
	var d days
	d.addPoints(ch.Plan)
	d.addPoints(ch.Scale)
	d.addEstimates(ch.Trend)
	d.addEstimates(ch.Expenditure)
	d.addPoints(ch.Reported)
	for _, e := range ch.Edges {
		d.add(e.Date)
	}
	for _, p := range ch.Forecast {
		d.add(p.Date)
	}
	if !d.from.IsZero() {
		d.add(ch.Show.Date, ch.AsOf)
	}
	return d.atLeastWeek()
}

// weightRange is what the weight axis spans: all that happened or may happen, and as
// much of the edges as leaves the rest at least half of the height.
func (ch Corridor) weightRange() span {
	var core span
	ch.weights(&core)
	room := math.Max(core.high-core.low, 2) / 2
	all := core
	for _, e := range ch.Edges {
		all.add(e.LowerKg, e.UpperKg)
	}
	all.low = math.Max(all.low, core.low-room)
	all.high = math.Min(all.high, core.high+room)
	if ch.ClassLimitKg != nil && *ch.ClassLimitKg > core.low-room && *ch.ClassLimitKg < core.high+room {
		all.add(*ch.ClassLimitKg)
	}
	return all.padded(0.03, 2)
}

// inUnit is the same corridor with every weight in the reader's unit, less a
// target or a limit that is not known.
func (ch Corridor) inUnit(n Notation) Corridor {
	k := n.perKg()
	ch.Plan, ch.Scale, ch.Trend = scaledPoints(ch.Plan, k), scaledPoints(ch.Scale, k), scaledEstimates(ch.Trend, k)
	ch.Edges, ch.Forecast = slices.Clone(ch.Edges), slices.Clone(ch.Forecast)
	for i := range ch.Edges {
		ch.Edges[i].LowerKg *= k
		ch.Edges[i].UpperKg *= k
	}
	for i := range ch.Forecast {
		p := &ch.Forecast[i]
		p.Median *= k
		for j := range p.Low {
			p.Low[j] *= k
			p.High[j] *= k
		}
	}
	if t := ch.Target; t != nil {
		ch.Target = &Target{t.WeightKg * k, t.LowKg * k, t.HighKg * k}
		if !finite(t.WeightKg) || !finite(t.LowKg) || !finite(t.HighKg) {
			ch.Target = nil
		}
	}
	if l := ch.ClassLimitKg; l != nil {
		ch.ClassLimitKg = new(*l * k)
		if !finite(*l) {
			ch.ClassLimitKg = nil
		}
	}
	return ch
}

// SVG draws the corridor; "" where there is nothing to draw.
func (ch Corridor) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	d := corridorDrawing{Corridor: ch.inUnit(o.Notation), o: o, c: &canvas{id: o.ID}}
	d.heightOne, d.heightTwo = 310, 112
	if o.Narrow {
		d.heightOne, d.heightTwo = 280, 104
	}
	axis, _ := ch.DayAxis(o)
	d.c.width, d.left, d.right = axis.Width, axis.Left, axis.Right
	d.draw()
	title := "Body weight in its corridor to the show"
	if len(ch.Edges) == 0 && ch.Show.Date.IsZero() {
		title = "Body weight"
	}
	return d.c.document(title, ch.describe(o.Notation), o)
}

// describe tells a screen reader what the picture shows.
func (ch Corridor) describe(n Notation) string {
	var s []string
	d := ch.days()
	s = append(s, fmt.Sprintf("From %s to %s, in %s.", n.Date(d.from), n.Date(d.to), n.WeightUnit()))
	k := n.perKg()
	if e, ok := lastKnown(ch.Trend); ok {
		e = e.scaled(k)
		s = append(s, fmt.Sprintf("The trend on %s is %s.", n.Date(e.Date), Interval(e.Value, e.Low, e.High, 1)))
	}
	if f := ch.Forecast; len(f) > 0 && finite(f[len(f)-1].Median) {
		last := f[len(f)-1]
		s = append(s, fmt.Sprintf("The forecast for %s is %s with 90 %% of futures between.", n.Date(last.Date), Interval(last.Median*k, last.Low[2]*k, last.High[2]*k, 1)))
	}
	if t := ch.Target; t != nil {
		s = append(s, fmt.Sprintf("The target is %s.", Interval(t.WeightKg*k, t.LowKg*k, t.HighKg*k, 1)))
	}
	if e, ok := lastKnown(ch.Expenditure); ok {
		s = append(s, fmt.Sprintf("Expenditure on %s is %s kcal a day.", n.Date(e.Date), Interval(e.Value, e.Low, e.High, 0)))
	}
	for i, m := range ch.Marks {
		s = append(s, fmt.Sprintf("Change %d on %s: %s.", i+1, n.Date(m.Date), strings.TrimSuffix(m.Label, ".")))
	}
	return strings.Join(append(s, ch.Notes.describe(n, d)...), " ")
}
