package chart

import (
	"fmt"
	"strings"
)

// Strength draws how much of the off-season strength is left, overall and for
// each lift, with 90 % intervals, in per cent of the baseline.
type Strength struct {
	Overall []Estimate
	Lifts   []Lift
}

// Lift is the strength retained in one exercise, % of its baseline.
type Lift struct {
	Name     string
	Retained []Estimate
}

// Empty reports whether there is nothing to draw.
func (ch Strength) Empty() bool { return !ch.pct().any }

func (ch Strength) pct() span {
	var s span
	s.addEstimates(ch.Overall)
	for _, l := range ch.Lifts {
		s.addEstimates(l.Retained)
	}
	return s
}

// SVG draws the chart; "" where there is nothing to draw.
func (ch Strength) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	c := &canvas{width: 840, id: o.ID}
	left, right, height, columns := 52.0, 672.0, 170.0, 3
	if o.Narrow {
		c.width, left, right, height, columns = 344, 44, 330, 160, 2
	}
	var d days
	d.addEstimates(ch.Overall)
	for _, l := range ch.Lifts {
		d.addEstimates(l.Retained)
	}
	d = d.atLeastWeek()
	s := ch.pct()
	s.add(100)
	r := s.padded(0.06, 6)
	y := 14.0
	if _, ok := lastKnown(ch.Overall); ok {
		y = ch.drawOverall(c, frame{left, right, 0, height, d.from, d.to, r.low, r.high}, o)
	}
	var tiles []tile
	for _, l := range ch.Lifts {
		tiles = append(tiles, l.tile(r))
	}
	y = c.grid(y-10, columns, 96, d, o.Notation, tiles)
	c.height = y + 4
	return c.document("Strength against the off-season baseline", ch.describe(o.Notation), o)
}

func (ch Strength) drawOverall(c *canvas, f frame, o Options) (y float64) {
	items := []keyItem{
		{"90" + nbsp + "% band", bandSample("trend", "band")},
		{"baseline, 100" + nbsp + "%", lineSample("baseline")},
	}
	y = c.titledKey(14, "Strength overall, % of baseline", o.Narrow, items)
	f.top += y + 12
	f.bottom += y + 12
	c.valueAxis(f, 5)
	c.baseline(f)
	c.band(f, "band", ch.Overall)
	c.curve(f, "trend", middles(ch.Overall))
	c.endEstimate(f, o.Narrow, "overall", ch.Overall, 0, nbsp+"%")
	c.dateAxis(f, o.Notation)
	return f.bottom + 50
}

func (c *canvas) baseline(f frame) { c.line("baseline", f.left, f.y(100), f.right, f.y(100)) }

func (l Lift) tile(r span) tile {
	value := "no set logged"
	if e, ok := lastKnown(l.Retained); ok {
		value = Number(e.Value, 0) + nbsp + "%" + rangeOf(e, 0)
	}
	return tile{title: l.Name, value: value, y: r, draw: func(c *canvas, f frame) {
		c.baseline(f)
		c.band(f, "lift-band", l.Retained)
		c.curve(f, "lift", middles(l.Retained))
	}}
}

func (ch Strength) describe(n Notation) string {
	var s []string
	if e, ok := lastKnown(ch.Overall); ok {
		s = append(s, fmt.Sprintf("On %s overall strength is %s %% of the baseline.", n.Date(e.Date), Interval(e.Value, e.Low, e.High, 0)))
	}
	for _, l := range ch.Lifts {
		if e, ok := lastKnown(l.Retained); ok {
			s = append(s, fmt.Sprintf("%s: %s %%.", l.Name, Interval(e.Value, e.Low, e.High, 0)))
		}
	}
	return strings.Join(s, " ")
}
