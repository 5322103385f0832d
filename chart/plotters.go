package chart

import (
	"math"
	"strings"

	"glidepath/civil"
)

// path gathers the commands of a path.
type path struct{ b strings.Builder }

func (p *path) to(command string, x, y float64) {
	p.b.WriteString(command + coordinate(x) + " " + coordinate(y))
}

func (p *path) closed() { p.b.WriteString("Z") }

// runs splits a series into stretches without a gap.
func runs[T any](all []T, known func(T) bool) [][]T {
	var out [][]T
	from := -1
	for i, v := range all {
		switch {
		case known(v) && from < 0:
			from = i
		case !known(v) && from >= 0:
			out = append(out, all[from:i])
			from = -1
		}
	}
	if from >= 0 {
		out = append(out, all[from:])
	}
	return out
}

// curve draws a line through points, broken where a value is not known.
func (c *canvas) curve(f frame, class string, ps []Point) {
	var p path
	for _, run := range runs(ps, func(p Point) bool { return finite(p.Value) }) {
		for i, q := range run {
			command := "L"
			if i == 0 {
				command = "M"
			}
			p.to(command, f.x(q.Date), f.y(q.Value))
		}
		if len(run) == 1 { // a lone point still shows, as a short stroke
			p.to("L", f.x(run[0].Date)+1, f.y(run[0].Value))
		}
	}
	if p.b.Len() > 0 {
		c.el("path", "class", class, "d", p.b.String())
	}
}

// band fills the room between the ends of intervals.
func (c *canvas) band(f frame, class string, es []Estimate, attrs ...any) {
	var p path
	for _, run := range runs(es, Estimate.banded) {
		if len(run) < 2 {
			continue
		}
		for i, e := range run {
			command := "L"
			if i == 0 {
				command = "M"
			}
			p.to(command, f.x(e.Date), f.y(e.High))
		}
		for i := len(run) - 1; i >= 0; i-- {
			p.to("L", f.x(run[i].Date), f.y(run[i].Low))
		}
		p.closed()
	}
	if p.b.Len() > 0 {
		c.el("path", append([]any{"class", class, "d", p.b.String()}, attrs...)...)
	}
}

// hatched fills the room between the ends of intervals with a light hatching.
func (c *canvas) hatched(f frame, es []Estimate) {
	id := c.id + "hatch"
	c.open("pattern", "id", id, "width", "6", "height", "6", "patternUnits", "userSpaceOnUse", "patternTransform", "rotate(45)")
	c.line("hatch", 0.5, 0, 0.5, 6)
	c.close("pattern")
	c.band(f, "room", es, "fill", "url(#"+id+")")
}

// steps draws values that each hold from their date until the next one's, the
// last for as many days as the one before it, or a week.
func (c *canvas) steps(f frame, class string, ps []Point) {
	var p path
	open := false
	for i, q := range ps {
		if !finite(q.Value) {
			open = false
			continue
		}
		until := q.Date.AddDays(7)
		switch {
		case i+1 < len(ps):
			until = ps[i+1].Date
		case i > 0:
			until = q.Date.AddDays(q.Date.DaysSince(ps[i-1].Date))
		}
		command := "L"
		if !open {
			command = "M"
		}
		p.to(command, f.x(q.Date), f.y(q.Value))
		p.to("L", f.x(min(until, f.to)), f.y(q.Value))
		open = true
	}
	if p.b.Len() > 0 {
		c.el("path", "class", class, "d", p.b.String())
	}
}

// dots draws a small circle at each point.
func (c *canvas) dots(f frame, class string, radius float64, ps []Point) {
	for _, q := range ps {
		if finite(q.Value) && f.holds(q.Date) {
			c.el("circle", "class", class, "cx", f.x(q.Date), "cy", f.y(q.Value), "r", radius)
		}
	}
}

// interval draws a thin upright line with caps.
func (c *canvas) interval(class string, x, y1, y2 float64) {
	var p path
	p.to("M", x-3, y1)
	p.to("L", x+3, y1)
	p.to("M", x, y1)
	p.to("L", x, y2)
	p.to("M", x-3, y2)
	p.to("L", x+3, y2)
	c.el("path", "class", class, "d", p.b.String())
}

// markers are the shapes that tell measuring methods apart.
var markers = []string{"circle", "square", "diamond", "triangle", "cross", "plus", "down", "bar"}

// marker draws one of the shapes about a centre.
func (c *canvas) marker(shape int, class string, x, y float64) {
	const r = 4.2
	var p path
	switch markers[shape%len(markers)] {
	case "circle":
		c.el("circle", "class", class, "cx", x, "cy", y, "r", r)
		return
	case "square":
		c.rect(class, x-r+.5, y-r+.5, 2*r-1, 2*r-1)
		return
	case "diamond":
		p.polygon(x, y-r-1, x+r+1, y, x, y+r+1, x-r-1, y)
	case "triangle":
		p.polygon(x, y-r-.6, x+r+.6, y+r-.4, x-r-.6, y+r-.4)
	case "down":
		p.polygon(x, y+r+.6, x+r+.6, y-r+.4, x-r-.6, y-r+.4)
	case "cross":
		p.cross(x-r+.6, y-r+.6, x+r-.6, y+r-.6)
		p.cross(x-r+.6, y+r-.6, x+r-.6, y-r+.6)
	case "plus":
		p.cross(x-r, y, x+r, y)
		p.cross(x, y-r, x, y+r)
	case "bar":
		p.cross(x, y-r, x, y+r)
	}
	c.el("path", "class", class, "d", p.b.String())
}

func (p *path) polygon(xy ...float64) {
	for i := 0; i < len(xy); i += 2 {
		command := "L"
		if i == 0 {
			command = "M"
		}
		p.to(command, xy[i], xy[i+1])
	}
	p.closed()
}

func (p *path) cross(x1, y1, x2, y2 float64) {
	p.to("M", x1, y1)
	p.to("L", x2, y2)
}

// valueAxis draws the grid and the numbers at its left.
func (c *canvas) valueAxis(f frame, most int) {
	values, decimals := ticks(f.low, f.high, most)
	for _, v := range values {
		c.line("grid", f.left, f.y(v), f.right, f.y(v))
		c.text(f.left-7, f.y(v)+4.5, end, "", Number(v, decimals))
	}
}

// dateAxis draws the line at the foot of a frame with its ticks and labels. A
// label by the left end moves into the frame, clear of the numbers.
func (c *canvas) dateAxis(f frame, n Notation) {
	c.line("axis", f.left, f.bottom, f.right, f.bottom)
	limit := 0.0
	for _, t := range dateTicks(f, n) {
		x, half := f.x(t.date), textWidth(t.label, typeSize, false)/2
		c.line("axis", x, f.bottom, x, f.bottom+5)
		x = math.Max(x, f.left+half)
		if x-half < limit || x+half > c.width {
			continue
		}
		c.text(x, f.bottom+18, middle, "", t.label)
		limit = x + half + 4
	}
}

// rule draws an upright line through frames one above the other.
func (c *canvas) rule(f frame, class string, d civil.Date, top, bottom float64) {
	c.line(class, f.x(d), top, f.x(d), bottom)
}
