package chart

import (
	"fmt"
	"strings"

	"glidepath/civil"
)

// Courses draws where weight goes by each of a few ways of going on, one over
// another: as now, as proposed, as typed.
type Courses struct {
	Of   []Course
	Show civil.Date // zero is none
}

// Course is one way of going on, with the 90 % interval of each day, kg.
type Course struct {
	Name   string
	Weight []Estimate
}

// courseStyles are the lines and bands of the courses, in their order: whole, dashed
// and dotted.
var courseStyles = []struct{ line, band string }{{"trend", "band"}, {"forecast", "fat-band"}, {"typed", "lean-band"}}

// Empty reports whether there is nothing to draw.
func (ch Courses) Empty() bool {
	for _, c := range ch.Of {
		if _, ok := lastKnown(c.Weight); ok {
			return false
		}
	}
	return true
}

// SVG draws the chart; "" where there is nothing to draw. There are at most three
// courses.
func (ch Courses) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	n := o.Notation
	c := &canvas{width: 840, id: o.ID}
	left, right, height := 52.0, 832.0, 190.0
	if o.Narrow {
		c.width, left, right, height = 344, 44, 330, 170
	}
	var d days
	var s span
	var items []keyItem
	of := make([]Course, len(ch.Of))
	for i, course := range ch.Of {
		course.Weight = scaledEstimates(course.Weight, n.perKg())
		of[i] = course
		d.addEstimates(course.Weight)
		s.addEstimates(course.Weight)
		items = append(items, keyItem{course.Name, bandSample(courseStyles[i].line, courseStyles[i].band)})
	}
	d = d.atLeastWeek()
	r := s.padded(0.06, 1)
	y := c.titledKey(14, "Weight by then, "+n.WeightUnit(), o.Narrow, items)
	f := frame{left, right, y + 12, y + 12 + height, d.from, d.to, r.low, r.high}
	c.valueAxis(f, 5)
	if f.holds(ch.Show) {
		c.rule(f, "show", ch.Show, f.top, f.bottom)
	}
	for i, course := range of {
		c.band(f, courseStyles[i].band, course.Weight)
	}
	for i, course := range of {
		c.curve(f, courseStyles[i].line, middles(course.Weight))
	}
	c.dateAxis(f, n)
	c.height = f.bottom + 26
	return c.document("Where weight goes", ch.describe(n), o)
}

func (ch Courses) describe(n Notation) string {
	var parts []string
	for _, course := range ch.Of {
		if e, ok := lastKnown(course.Weight); ok {
			e = e.scaled(n.perKg())
			parts = append(parts, fmt.Sprintf("%s, on %s %s%s %s", course.Name, n.Date(e.Date), Number(e.Value, 1), rangeOf(e, 1), n.WeightUnit()))
		}
	}
	return strings.Join(parts, "; ") + "."
}
