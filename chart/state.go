package chart

import "fmt"

// State draws how the athlete recovers, week by week, on a scale on which 0 is as
// usual for them and worse lies below.
type State struct {
	Weeks []Estimate // 90 % intervals
	Short float64    // from where down it is short of recovery
}

// Empty reports whether there is nothing to draw.
func (ch State) Empty() bool {
	_, ok := lastKnown(ch.Weeks)
	return !ok
}

// SVG draws the chart; "" where there is nothing to draw.
func (ch State) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	c := &canvas{width: 840, id: o.ID}
	left, right, height := 52.0, 672.0, 150.0
	if o.Narrow {
		c.width, left, right, height = 344, 44, 330, 140
	}
	var d days
	d.addEstimates(ch.Weeks)
	d = d.atLeastWeek()
	var s span
	s.addEstimates(ch.Weeks)
	s.add(0, ch.Short)
	r := s.padded(0.08, 4)
	items := []keyItem{
		{"mean of a week, 90" + nbsp + "% band", bandSample("trend", "band")},
		{"as usual, 0", lineSample("baseline")},
		{"short of it", lineSample("limit")},
	}
	y := c.titledKey(14, "Recovery, steps from what is usual", o.Narrow, items)
	f := frame{left, right, y + 12, y + 12 + height, d.from, d.to, r.low, r.high}
	c.valueAxis(f, 5)
	c.line("baseline", f.left, f.y(0), f.right, f.y(0))
	c.line("limit", f.left, f.y(ch.Short), f.right, f.y(ch.Short))
	c.band(f, "band", ch.Weeks)
	c.curve(f, "trend", middles(ch.Weeks))
	c.endEstimate(f, o.Narrow, "recovery", ch.Weeks, 1, "")
	c.dateAxis(f, o.Notation)
	c.height = f.bottom + 26
	e, _ := lastKnown(ch.Weeks)
	desc := fmt.Sprintf("In the week to %s recovery is %s, where 0 is as usual and %s is short.", o.Notation.Date(e.Date), Interval(e.Value, e.Low, e.High, 1), Number(ch.Short, 1))
	return c.document("Recovery week by week", desc, o)
}
