package chart

import (
	"fmt"
	"strings"
)

// Muscles draws weekly hard sets by muscle beside what they are held against.
type Muscles struct {
	Title string // "" is "Hard sets a week"
	Rows  []MuscleRow
}

// MuscleRow is a muscle's hard sets a week, as they count: indirect ones are given
// already halved. What is not known is nil.
type MuscleRow struct {
	Name             string
	Direct, Indirect float64
	Maintenance      *float64 // what keeps the muscle in a deficit
	OffSeason        *float64
	Now              *float64 // what is done lately, where Direct and Indirect are of a plan
}

func (r MuscleRow) total() float64 { return r.Direct + r.Indirect }

// Empty reports whether there is nothing to draw.
func (ch Muscles) Empty() bool {
	for _, r := range ch.Rows {
		if r.total() > 0 || known(r.Maintenance) > 0 || known(r.OffSeason) > 0 || known(r.Now) > 0 {
			return false
		}
	}
	return true
}

// muscleMarks are what the bars are held against, in the order of the key.
var muscleMarks = []struct {
	name string
	of   func(MuscleRow) *float64
	draw func(c *canvas, x, y float64)
}{
	{"keeps it", func(r MuscleRow) *float64 { return r.Maintenance }, func(c *canvas, x, y float64) { c.line("keep", x, y-9, x, y+9) }},
	{"off-season", func(r MuscleRow) *float64 { return r.OffSeason }, func(c *canvas, x, y float64) { c.marker(2, "measured", x, y) }},
	{"done lately", func(r MuscleRow) *float64 { return r.Now }, func(c *canvas, x, y float64) { c.marker(0, "measured", x, y) }},
}

// SVG draws the chart; "" where there is nothing to draw.
func (ch Muscles) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	c := &canvas{width: 840, id: o.ID}
	left, right, height := 96.0, 760.0, 26.0
	if o.Narrow {
		c.width, left, right = 344, 84, 300
	}
	title := ch.Title
	if title == "" {
		title = "Hard sets a week"
	}
	y := c.titledKey(14, title, o.Narrow, ch.keyItems()) + 14
	var s span
	s.add(0)
	for _, r := range ch.Rows {
		s.add(r.total())
		for _, m := range muscleMarks {
			s.add(known(m.of(r)))
		}
	}
	foot := y + height*float64(len(ch.Rows))
	f := frame{left: left, right: right, top: y, bottom: foot, low: 0, high: s.high * 1.04}
	c.setAxis(f)
	c.halfPattern()
	for i, r := range ch.Rows {
		ch.row(c, f, r, y+height*(float64(i)+0.5))
	}
	c.height = foot + 26
	return c.document(title+" by muscle", ch.describe(), o)
}

func (ch Muscles) keyItems() []keyItem {
	items := []keyItem{
		{"directly", func(c *canvas, x, y float64) { c.rect("sets-bar", x+2, y-5, 16, 11) }},
		{"assisting, counted half", func(c *canvas, x, y float64) { c.halfRect(x+2, y-5, 16, 11) }},
	}
	for _, m := range muscleMarks {
		for _, r := range ch.Rows {
			if finite(known(m.of(r))) {
				items = append(items, keyItem{m.name, func(c *canvas, x, y float64) { m.draw(c, x+10, y) }})
				break
			}
		}
	}
	return items
}

// across is where a value lies on an axis that runs to the right.
func (f frame) across(v float64) float64 {
	return f.left + (f.right-f.left)*(v-f.low)/(f.high-f.low)
}

// setAxis draws upright grid lines with their numbers below.
func (c *canvas) setAxis(f frame) {
	values, decimals := ticks(f.low, f.high, int((f.right-f.left)/52))
	for _, v := range values {
		c.line("grid", f.across(v), f.top, f.across(v), f.bottom)
		c.text(f.across(v), f.bottom+18, middle, "", Number(v, decimals))
	}
	c.line("axis", f.left, f.top, f.left, f.bottom)
}

func (ch Muscles) row(c *canvas, f frame, r MuscleRow, y float64) {
	const half = 7
	c.text(f.left-8, y+4.5, end, "", fitText(r.Name, f.left-8, false))
	c.rect("sets-bar", f.left, y-half, f.across(r.Direct)-f.left, 2*half)
	if r.Indirect > 0 {
		c.halfRect(f.across(r.Direct), y-half, f.across(r.total())-f.across(r.Direct), 2*half)
	}
	for _, m := range muscleMarks {
		if v := known(m.of(r)); finite(v) {
			m.draw(c, f.across(v), y)
		}
	}
	c.text(c.width, y+4.5, end, "strong", Number(r.total(), 1))
}

// halfPattern prepares the hatching of sets that count half.
func (c *canvas) halfPattern() {
	c.open("pattern", "id", c.id+"half", "width", "5", "height", "5", "patternUnits", "userSpaceOnUse", "patternTransform", "rotate(45)")
	c.line("half-line", 1, 0, 1, 5)
	c.close("pattern")
}

func (c *canvas) halfRect(x, y, w, h float64) {
	c.el("rect", "class", "half-bar", "fill", "url(#"+c.id+"half)", "x", x, "y", y, "width", w, "height", h)
}

func (ch Muscles) describe() string {
	var s []string
	for _, r := range ch.Rows {
		one := fmt.Sprintf("%s: %s sets a week", r.Name, Number(r.total(), 1))
		for _, m := range muscleMarks {
			if v := known(m.of(r)); finite(v) {
				one += fmt.Sprintf(", %s %s", m.name, Number(v, 1))
			}
		}
		s = append(s, one+".")
	}
	return strings.Join(s, " ")
}
