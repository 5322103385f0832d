package chart

import (
	"fmt"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// Composition draws body fat and lean mass with their bands, and each
// measurement as a mark whose shape tells its method.
type Composition struct {
	BodyFatPct []Estimate
	LeanKg     []Estimate
	// Measured are single measurements of body fat with their intervals, %.
	Measured []Measured
}

// Measured is one measurement by a method.
type Measured struct {
	Method athlete.Method
	Estimate
}

// Empty reports whether there is nothing to draw.
func (ch Composition) Empty() bool { return !ch.fat().any && !ch.lean().any }

func (ch Composition) fat() span {
	var s span
	s.addEstimates(ch.BodyFatPct)
	for _, m := range ch.Measured {
		s.add(m.Value, m.Low, m.High)
	}
	return s
}

func (ch Composition) lean() span {
	var s span
	s.addEstimates(ch.LeanKg)
	return s
}

func (ch Composition) days() days {
	var d days
	d.addEstimates(ch.BodyFatPct)
	d.addEstimates(ch.LeanKg)
	for _, m := range ch.Measured {
		d.add(m.Date)
	}
	return d.atLeastWeek()
}

// methods lists the methods in use, in the order of athlete.Methods.
func (ch Composition) methods() []athlete.Method {
	var out []athlete.Method
	for _, m := range athlete.Methods() {
		if slices.ContainsFunc(ch.Measured, func(x Measured) bool { return x.Method == m }) {
			out = append(out, m)
		}
	}
	return out
}

// SVG draws the chart; "" where there is nothing to draw.
func (ch Composition) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	n := o.Notation
	ch.LeanKg = scaledEstimates(ch.LeanKg, n.perKg())
	c := &canvas{width: 840, id: o.ID}
	left, right, height := 52.0, 672.0, 200.0
	if o.Narrow {
		c.width, left, right, height = 344, 44, 330, 180
	}
	d := ch.days()
	y := 14.0
	var f frame
	if s := ch.fat(); s.any {
		y = ch.fatHead(c, y, o.Narrow)
		r := s.padded(0.06, 2)
		f = frame{left, right, y + 12, y + 12 + height, d.from, d.to, r.low, r.high}
		ch.drawFat(c, f, o.Narrow)
		y = f.bottom + 30
	}
	if s := ch.lean(); s.any {
		c.text(0, y, start, "title", "Lean mass, "+n.WeightUnit())
		r := s.padded(0.1, 2)
		f = frame{left, right, y + 12, y + 12 + height*0.7, d.from, d.to, r.low, r.high}
		c.valueAxis(f, 5)
		c.band(f, "lean-band", ch.LeanKg)
		c.curve(f, "lean", middles(ch.LeanKg))
		c.endEstimate(f, o.Narrow, "lean mass", ch.LeanKg, 1, nbsp+n.WeightUnit())
	}
	c.dateAxis(f, n)
	c.height = f.bottom + 26
	return c.document("Body fat and lean mass", ch.describe(n), o)
}

func (ch Composition) fatHead(c *canvas, y float64, narrow bool) float64 {
	items := []keyItem{{"estimate, 90" + nbsp + "% band", bandSample("fat", "fat-band")}}
	for i, m := range ch.methods() {
		items = append(items, keyItem{string(m), func(c *canvas, x, y float64) { c.marker(i, "measured", x+10, y) }})
	}
	return c.titledKey(y, "Body fat, %", narrow, items)
}

func (ch Composition) drawFat(c *canvas, f frame, narrow bool) {
	c.valueAxis(f, 6)
	c.band(f, "fat-band", ch.BodyFatPct)
	c.curve(f, "fat", middles(ch.BodyFatPct))
	methods := ch.methods()
	for _, m := range ch.Measured {
		if !m.known() {
			continue
		}
		x := f.x(m.Date)
		if m.banded() {
			c.interval("error", x, f.y(m.Low), f.y(m.High))
		}
		c.marker(slices.Index(methods, m.Method), "measured", x, f.y(m.Value))
	}
	c.endEstimate(f, narrow, "body fat", ch.BodyFatPct, 1, nbsp+"%")
}

// endEstimate names a line with its last estimate in the right-hand margin; on
// a narrow drawing there is none, and the page says the number.
func (c *canvas) endEstimate(f frame, narrow bool, name string, es []Estimate, decimals int, unit string) {
	e, ok := lastKnown(es)
	if !ok || narrow {
		return
	}
	value := Number(e.Value, decimals) + unit + rangeOf(e, decimals)
	c.endLabels(f, []endLabel{{f.y(e.Value), name, value}})
}

func (ch Composition) describe(n Notation) string {
	var s []string
	if e, ok := lastKnown(ch.BodyFatPct); ok {
		s = append(s, fmt.Sprintf("Body fat on %s is %s %%.", n.Date(e.Date), Interval(e.Value, e.Low, e.High, 1)))
	}
	if e, ok := lastKnown(ch.LeanKg); ok {
		s = append(s, fmt.Sprintf("Lean mass on %s is %s %s.", n.Date(e.Date), Interval(e.Value, e.Low, e.High, 1), n.WeightUnit()))
	}
	if len(ch.Measured) > 0 {
		var dates []civil.Date
		for _, m := range ch.Measured {
			dates = append(dates, m.Date)
		}
		s = append(s, fmt.Sprintf("%d measurements from %s to %s.", len(dates), n.Date(slices.Min(dates)), n.Date(slices.Max(dates))))
	}
	return strings.Join(s, " ")
}
