package chart

import (
	"fmt"
	"strings"
)

// Recovery draws markers such as sleep, hunger and fatigue as small pictures of
// one kind: a dot a day and the mean of the last seven days.
type Recovery struct{ Markers []Marker }

// Marker is one thing that the athlete notes each day.
type Marker struct {
	Name, Unit string
	Points     []Point
	// Low and High are the ends of the scale where it has any, as 1 and 10; equal
	// values leave the axis to the data.
	Low, High float64
}

// Empty reports whether there is nothing to draw.
func (ch Recovery) Empty() bool {
	for _, m := range ch.Markers {
		if !m.empty() {
			return false
		}
	}
	return true
}

func (m Marker) empty() bool {
	var s span
	s.addPoints(m.Points)
	return !s.any
}

// SVG draws the markers that have data; "" where none has.
func (ch Recovery) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	c := &canvas{width: 840, id: o.ID}
	columns, height := 3, 110.0
	if o.Narrow {
		c.width, columns, height = 344, 1, 90
	}
	var d days
	var tiles []tile
	for _, m := range ch.Markers {
		if !m.empty() {
			d.addPoints(m.Points)
			tiles = append(tiles, m.tile())
		}
	}
	c.height = c.grid(2, columns, height, d.atLeastWeek(), o.Notation, tiles) + 4
	return c.document("Recovery day by day", ch.describe(), o)
}

func (m Marker) tile() tile {
	mean := weekMeans(m.Points)
	s := span{m.Low, m.High, true}
	if m.Low >= m.High {
		s = span{}
		s.addPoints(m.Points)
	}
	value := m.Unit
	if e, ok := lastPoint(mean); ok {
		value = fmt.Sprintf("%s; last 7 days %s", m.Unit, Number(e.Value, 1))
	}
	return tile{title: m.Name, value: value, y: s.padded(0.04, 1), draw: func(c *canvas, f frame) {
		c.dots(f, "daily", 1.6, m.Points)
		c.curve(f, "mean", mean)
	}}
}

func lastPoint(ps []Point) (Point, bool) {
	for i := len(ps) - 1; i >= 0; i-- {
		if finite(ps[i].Value) {
			return ps[i], true
		}
	}
	return Point{}, false
}

// weekMeans gives for each day the mean of the values on it and the six days
// before, not known where fewer than three of the seven have one. The points
// must be in order of date.
func weekMeans(ps []Point) []Point {
	out := make([]Point, len(ps))
	from := 0
	for i, p := range ps {
		for ps[from].Date <= p.Date.AddDays(-7) {
			from++
		}
		sum, n := 0.0, 0
		for _, q := range ps[from : i+1] {
			if finite(q.Value) {
				sum += q.Value
				n++
			}
		}
		out[i] = Point{p.Date, nan}
		if n >= 3 {
			out[i].Value = sum / float64(n)
		}
	}
	return out
}

func (ch Recovery) describe() string {
	var s []string
	for _, m := range ch.Markers {
		if p, ok := lastPoint(weekMeans(m.Points)); ok {
			s = append(s, fmt.Sprintf("%s, %s: %s on the mean of the last seven days.", m.Name, m.Unit, Number(p.Value, 1)))
		}
	}
	return strings.Join(s, " ")
}
