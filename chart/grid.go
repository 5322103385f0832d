package chart

import "math"

// tile is one of several small pictures that share their days.
type tile struct {
	title string
	value string // beside the title, or under it where there is no room
	draw  func(c *canvas, f frame)
	y     span
}

// grid lays tiles out in columns from y on and returns the foot.
func (c *canvas) grid(y float64, columns int, height float64, d days, n Notation, tiles []tile) float64 {
	const gutter = 28
	width := (c.width - gutter*float64(columns-1)) / float64(columns)
	foot := y
	for i, t := range tiles {
		left := float64(i%columns) * (width + gutter)
		top := y + float64(i/columns)*(height+2*lineHeight+46)
		c.text(left, top+12, start, "title", fitText(t.title, width, true))
		c.text(left, top+12+lineHeight, start, "", fitText(t.value, width, false))
		f := frame{left + 38, left + width - 6, top + 26 + lineHeight, top + 26 + lineHeight + height, d.from, d.to, t.y.low, t.y.high}
		c.valueAxis(f, int(math.Max(3, height/22)))
		c.clip(f)
		t.draw(c, f)
		c.close("g")
		c.dateAxis(f, n)
		foot = f.bottom + 24
	}
	return foot
}
