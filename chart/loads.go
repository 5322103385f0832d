package chart

import (
	"fmt"
	"strings"

	"glidepath/civil"
)

// Loads draws how hard each week of training felt: its load, how alike its days
// were, and the strain of both.
type Loads struct{ Weeks []LoadWeek }

// LoadWeek is a week from its Monday on; nil is not known.
type LoadWeek struct {
	From     civil.Date
	Load     *float64 // session RPE times minutes, summed
	Monotony *float64
	Strain   *float64
}

// monotonyHigh is from where days are alike enough to be a worry (Foster 1998).
const monotonyHigh = 2.0

// loadRows are the panels.
var loadRows = []struct {
	title, bar string
	of         func(LoadWeek) *float64
	mark       float64 // a line to hold it against; 0 is none
	markName   string
}{
	{"Load of the week, RPE × minutes", "load-bar", func(w LoadWeek) *float64 { return w.Load }, 0, ""},
	{"Monotony of its days", "load-bar", func(w LoadWeek) *float64 { return w.Monotony }, monotonyHigh, "high"},
	{"Strain, load × monotony", "load-bar", func(w LoadWeek) *float64 { return w.Strain }, 0, ""},
}

// Empty reports whether there is nothing to draw.
func (ch Loads) Empty() bool {
	for _, w := range ch.Weeks {
		if known(w.Load) > 0 {
			return false
		}
	}
	return true
}

// SVG draws the chart; "" where there is nothing to draw.
func (ch Loads) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	c := &canvas{width: 840, id: o.ID}
	left, right, height := 60.0, 832.0, 96.0
	if o.Narrow {
		c.width, left, right, height = 344, 54, 340, 86
	}
	var d days
	for _, w := range ch.Weeks {
		d.add(w.From, w.From.AddDays(7))
	}
	y := 14.0
	var f frame
	for _, r := range loadRows {
		var s span
		s.add(0, r.mark)
		for _, w := range ch.Weeks {
			s.add(known(r.of(w)))
		}
		if s.high == 0 {
			continue
		}
		var items []keyItem
		if r.mark > 0 {
			items = append(items, keyItem{fmt.Sprintf("%s from %s", r.markName, Number(r.mark, 0)), lineSample("baseline")})
		}
		y = c.titledKey(y, r.title, o.Narrow && len(items) > 0, items)
		f = frame{left, right, y + 12, y + 12 + height, d.from, d.to, 0, s.high * 1.06}
		c.valueAxis(f, 4)
		for _, w := range ch.Weeks {
			c.weekBar(f, r.bar, w.From, 0, known(r.of(w)))
		}
		if r.mark > 0 {
			c.line("baseline", f.left, f.y(r.mark), f.right, f.y(r.mark))
		}
		c.dateAxis(f, o.Notation)
		y = f.bottom + 50
	}
	c.height = f.bottom + 26
	return c.document("Load, monotony and strain by week", ch.describe(o.Notation), o)
}

// weekBar draws a bar from one value to another over the week from a date.
func (c *canvas) weekBar(f frame, class string, from civil.Date, low, high float64) {
	if !finite(high) || high <= low {
		return
	}
	x1, x2 := f.x(from), f.x(from.AddDays(7))
	gap := (x2 - x1) * 0.14
	c.rect(class, x1+gap, f.y(high), x2-x1-2*gap, f.y(low)-f.y(high))
}

func (ch Loads) describe(n Notation) string {
	for i := len(ch.Weeks) - 1; i >= 0; i-- {
		w := ch.Weeks[i]
		if w.Load == nil {
			continue
		}
		s := []string{fmt.Sprintf("In the week from %s the load was %s", n.Date(w.From), Number(*w.Load, 0))}
		if w.Monotony != nil {
			s = append(s, "monotony "+Number(*w.Monotony, 1))
		}
		if w.Strain != nil {
			s = append(s, "strain "+Number(*w.Strain, 0))
		}
		return strings.Join(s, ", ") + "."
	}
	return ""
}
