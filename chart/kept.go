package chart

import (
	"fmt"
	"strings"
)

// Kept draws how much of the off-season's strength is kept, one row for each lift
// or muscle with its 90 % interval, in per cent of the baseline.
type Kept struct {
	Title string
	Rows  []KeptRow
}

// KeptRow is one of them.
type KeptRow struct {
	Name string
	Pct  Estimate // its date is not drawn
}

// Empty reports whether there is nothing to draw.
func (ch Kept) Empty() bool {
	for _, r := range ch.Rows {
		if r.Pct.known() {
			return false
		}
	}
	return true
}

// SVG draws the chart; "" where there is nothing to draw.
func (ch Kept) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	c := &canvas{width: 840, id: o.ID}
	left, right, height := 176.0, 690.0, 26.0
	if o.Narrow {
		c.width, left, right = 344, 112, 228
	}
	items := []keyItem{
		{"90" + nbsp + "% interval", func(c *canvas, x, y float64) { c.span(x, x+20, y); c.marker(0, "measured", x+10, y) }},
		{"baseline, 100" + nbsp + "%", func(c *canvas, x, y float64) { c.line("baseline", x+10, y-9, x+10, y+9) }},
	}
	y := c.titledKey(14, ch.Title, o.Narrow, items) + 14
	var s span
	s.add(100)
	for _, r := range ch.Rows {
		if !r.Pct.known() {
			continue
		}
		if s.add(r.Pct.Value); r.Pct.banded() {
			s.add(r.Pct.Low, r.Pct.High)
		}
	}
	r := s.padded(0.05, 8)
	f := frame{left: left, right: right, top: y, bottom: y + height*float64(len(ch.Rows)), low: r.low, high: r.high}
	c.setAxis(f)
	c.line("baseline", f.across(100), f.top, f.across(100), f.bottom)
	for i, row := range ch.Rows {
		row.draw(c, f, y+height*(float64(i)+0.5))
	}
	c.height = f.bottom + 26
	return c.document(ch.Title, ch.describe(), o)
}

func (r KeptRow) draw(c *canvas, f frame, y float64) {
	c.text(f.left-8, y+4.5, end, "", fitText(r.Name, f.left-8, false))
	if !r.Pct.known() {
		c.text(c.width, y+4.5, end, "", "not known")
		return
	}
	if r.Pct.banded() {
		c.span(f.across(r.Pct.Low), f.across(r.Pct.High), y)
	}
	c.marker(0, "measured", f.across(r.Pct.Value), y)
	c.text(c.width, y+4.5, end, "", Number(r.Pct.Value, 0)+nbsp+"%"+rangeOf(r.Pct, 0))
}

// span draws a thin level line with caps.
func (c *canvas) span(x1, x2, y float64) {
	var p path
	p.cross(x1, y, x2, y)
	p.cross(x1, y-3, x1, y+3)
	p.cross(x2, y-3, x2, y+3)
	c.el("path", "class", "error", "d", p.b.String())
}

func (ch Kept) describe() string {
	var s []string
	for _, r := range ch.Rows {
		if r.Pct.known() {
			s = append(s, fmt.Sprintf("%s: %s %%.", r.Name, Interval(r.Pct.Value, r.Pct.Low, r.Pct.High, 0)))
		}
	}
	return strings.Join(s, " ")
}
