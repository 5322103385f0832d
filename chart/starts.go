package chart

import (
	"fmt"

	"glidepath/civil"
)

// Starts draws what each start of a prep comes to: the lowest energy of a week
// and the lean mass lost, over the date of the start, with the chosen start marked.
type Starts struct {
	Of []Start
}

// Start is one date and what it comes to.
type Start struct {
	Date       civil.Date
	LowestKcal float64
	LeanLostKg float64
	Lands      bool // reaches the target within the limits
	Dominated  bool // another is as good or better in everything
	Chosen     bool
}

// The kinds of start, in the order of the key; each has its own marker.
var startKinds = []struct {
	name  string
	shape int // of markers
	class string
	is    func(Start) bool
}{
	{"best for its date", 0, "start-best", func(s Start) bool { return s.Lands && !s.Dominated }},
	{"another start is as good in everything", 0, "measured", func(s Start) bool { return s.Lands && s.Dominated }},
	{"does not arrive", 4, "start-missed", func(s Start) bool { return !s.Lands }},
}

// Empty reports whether there is nothing to compare.
func (ch Starts) Empty() bool { return len(ch.Of) < 2 }

// SVG draws the chart; "" where there is nothing to compare.
func (ch Starts) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	n := o.Notation
	c := &canvas{width: 840, id: o.ID}
	left, right, height := 60.0, 832.0, 130.0
	if o.Narrow {
		c.width, left, right, height = 344, 52, 336, 116
	}
	var d days
	for _, s := range ch.Of {
		d.add(s.Date)
	}
	d = d.atLeastWeek()
	d.from, d.to = d.from.AddDays(-3), d.to.AddDays(3)
	y := 14.0
	var f frame
	for i, p := range []struct {
		title string
		least float64
		value func(Start) float64
	}{
		{"Lowest energy of a week, kcal a day", 60, func(s Start) float64 { return s.LowestKcal }},
		{"Lean mass lost by the show, " + n.WeightUnit(), 0.4, func(s Start) float64 { return s.LeanLostKg * n.perKg() }},
	} {
		if i == 0 {
			y = c.titledKey(y, p.title, true, ch.key())
		} else {
			c.text(0, y, start, "title", p.title)
		}
		var s span
		for _, at := range ch.Of {
			s.add(p.value(at))
		}
		r := s.padded(0.12, p.least)
		f = frame{left, right, y + 12, y + 12 + height, d.from, d.to, r.low, r.high}
		c.valueAxis(f, 5)
		ch.draw(c, f, p.value)
		c.dateAxis(f, n)
		y = f.bottom + 50
	}
	c.height = f.bottom + 26
	return c.document("What each start of the prep comes to", ch.describe(n), o)
}

func (ch Starts) key() []keyItem {
	items := []keyItem{{"the plan’s start", func(c *canvas, x, y float64) { c.line("today", x+10, y-6, x+10, y+6) }}}
	for _, k := range startKinds {
		for _, s := range ch.Of {
			if k.is(s) {
				items = append(items, keyItem{k.name, func(c *canvas, x, y float64) { c.marker(k.shape, k.class, x+10, y) }})
				break
			}
		}
	}
	return items
}

func (ch Starts) draw(c *canvas, f frame, value func(Start) float64) {
	var line []Point
	for _, s := range ch.Of {
		if s.Chosen {
			c.rule(f, "today", s.Date, f.top, f.bottom)
		}
		if s.Lands {
			line = append(line, Point{s.Date, value(s)})
		}
	}
	c.curve(f, "lift", line)
	for _, s := range ch.Of {
		for _, k := range startKinds {
			if k.is(s) && finite(value(s)) {
				c.marker(k.shape, k.class, f.x(s.Date), f.y(value(s)))
			}
		}
	}
}

func (ch Starts) describe(n Notation) string {
	words := func(s Start) string {
		return fmt.Sprintf("from %s the lowest week has %s kcal a day and %s of lean mass is lost", n.Date(s.Date), Number(s.LowestKcal, 0), n.Weight(s.LeanLostKg))
	}
	out := fmt.Sprintf("%d starts are compared: %s; %s.", len(ch.Of), words(ch.Of[0]), words(ch.Of[len(ch.Of)-1]))
	for _, s := range ch.Of {
		if s.Chosen {
			out += fmt.Sprintf(" The plan starts on %s.", n.Date(s.Date))
		}
	}
	return out
}
