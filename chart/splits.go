package chart

import (
	"fmt"
	"strings"

	"glidepath/civil"
)

// Splits draws the hard sets of each week by a few kinds, such as ranges of
// repetitions, one upon another.
type Splits struct {
	Title string
	// Kinds are at most three, the one that stands at the foot first.
	Kinds []string
	Weeks []SplitWeek
}

// SplitWeek is the sets of a week by kind, in the order of Kinds.
type SplitWeek struct {
	From civil.Date
	Sets []float64
}

// splitBars are the fills of the kinds, dark to light, so that they differ in grey.
var splitBars = []string{"split-1", "split-2", "split-3"}

// Empty reports whether there is nothing to draw.
func (ch Splits) Empty() bool {
	for _, w := range ch.Weeks {
		if w.total() > 0 {
			return false
		}
	}
	return true
}

func (w SplitWeek) total() (sum float64) {
	for _, v := range w.Sets {
		sum += v
	}
	return sum
}

// SVG draws the chart; "" where there is nothing to draw.
func (ch Splits) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	c := &canvas{width: 840, id: o.ID}
	left, right, height := 60.0, 832.0, 110.0
	if o.Narrow {
		c.width, left, right, height = 344, 54, 340, 100
	}
	var d days
	var s span
	for _, w := range ch.Weeks {
		d.add(w.From, w.From.AddDays(7))
		s.add(w.total())
	}
	var items []keyItem
	for i, k := range ch.Kinds {
		items = append(items, keyItem{k, func(c *canvas, x, y float64) { c.rect(splitBars[i], x+4, y-5, 12, 11) }})
	}
	y := c.titledKey(14, ch.Title, o.Narrow, items)
	f := frame{left, right, y + 12, y + 12 + height, d.from, d.to, 0, s.high * 1.06}
	c.valueAxis(f, 4)
	for _, w := range ch.Weeks {
		at := 0.0
		for i, v := range w.Sets {
			c.weekBar(f, splitBars[i], w.From, at, at+v)
			at += v
		}
	}
	c.dateAxis(f, o.Notation)
	c.height = f.bottom + 26
	return c.document(ch.Title, ch.describe(o.Notation), o)
}

func (ch Splits) describe(n Notation) string {
	for i := len(ch.Weeks) - 1; i >= 0; i-- {
		w := ch.Weeks[i]
		if w.total() == 0 {
			continue
		}
		var parts []string
		for k, v := range w.Sets {
			parts = append(parts, fmt.Sprintf("%s %s", ch.Kinds[k], Number(v, 0)))
		}
		return fmt.Sprintf("In the week from %s: %s.", n.Date(w.From), strings.Join(parts, ", "))
	}
	return ""
}
