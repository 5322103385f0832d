package chart

import (
	"cmp"
	"slices"
)

// spread places boxes of given sizes along a line without overlap, between low
// and high, with the least sum of squared moves from where they want their
// centres: isotonic regression by pooling adjacent violators (Barlow et al.
// 1972, Statistical Inference under Order Restrictions). Where they don't all
// fit they keep their order and run past high. It returns the centres.
func spread(want, size []float64, low, high float64) []float64 {
	order := make([]int, len(want))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(want[a], want[b]) })

	type pool struct {
		sum float64
		n   int
	}
	mean := func(p pool) float64 { return p.sum / float64(p.n) }
	var pools []pool
	total := 0.0 // size of all boxes before this one
	for _, i := range order {
		pools = append(pools, pool{want[i] - size[i]/2 - total, 1})
		total += size[i]
		for len(pools) > 1 && mean(pools[len(pools)-2]) > mean(pools[len(pools)-1]) {
			last := pools[len(pools)-1]
			pools = pools[:len(pools)-1]
			pools[len(pools)-1].sum += last.sum
			pools[len(pools)-1].n += last.n
		}
	}

	out := make([]float64, len(want))
	used, k := 0.0, 0
	for _, p := range pools {
		at := max(min(mean(p), high-total), low)
		for range p.n {
			i := order[k]
			out[i] = at + used + size[i]/2
			used += size[i]
			k++
		}
	}
	return out
}

// endLabel names a line at its right-hand end.
type endLabel struct {
	y     float64
	name  string
	value string
}

// endLabels writes labels in the right-hand margin, moved apart where they would
// overlap, with a leader from the line's end to its label.
func (c *canvas) endLabels(f frame, labels []endLabel) {
	const lead = 22
	want, size := make([]float64, len(labels)), make([]float64, len(labels))
	for i, l := range labels {
		want[i], size[i] = l.y, lineHeight+3
		if l.value != "" {
			size[i] += lineHeight
		}
	}
	centres := spread(want, size, f.top-6, f.bottom+12)
	for i, l := range labels {
		y := centres[i] - size[i]/2 + 14
		c.el("path", "class", "leader", "d", "M"+coordinate(f.right+4)+" "+coordinate(l.y)+
			"L"+coordinate(f.right+lead-6)+" "+coordinate(y-4)+"H"+coordinate(f.right+lead-3))
		c.text(f.right+lead, y, start, "strong", l.name)
		c.text(f.right+lead, y+lineHeight, start, "", l.value)
	}
}

// keyItem explains a mark: a sample and its name.
type keyItem struct {
	name   string
	sample func(c *canvas, x, y float64)
}

// titledKey writes a panel's title with its key beside it, or beneath it on a
// narrow drawing, and returns the baseline of the last row.
func (c *canvas) titledKey(y float64, title string, narrow bool, items []keyItem) float64 {
	c.text(0, y, start, "title", title)
	if narrow {
		return c.key(0, y+lineHeight+4, items)
	}
	return c.key(textWidth(title, typeSize, true)+28, y, items)
}

const sampleWidth = 26.0

// key writes items from x on, over as many rows as the width asks for, and
// returns the baseline of the last row.
func (c *canvas) key(x, y float64, items []keyItem) float64 {
	indent := x
	at := x
	for _, it := range items {
		w := sampleWidth + textWidth(it.name, typeSize, false) + 18
		if at > indent && at+w-18 > c.width {
			at, y = indent, y+lineHeight+2
		}
		it.sample(c, at, y-4.5)
		c.text(at+sampleWidth, y, start, "", it.name)
		at += w
	}
	return y
}

// lineSample is the key for a line of a class.
func lineSample(class string) func(*canvas, float64, float64) {
	return func(c *canvas, x, y float64) { c.line(class, x, y, x+20, y) }
}

// bandSample is the key for a line in its band.
func bandSample(line, band string) func(*canvas, float64, float64) {
	return func(c *canvas, x, y float64) {
		c.rect(band, x, y-5, 20, 10)
		c.line(line, x, y, x+20, y)
	}
}

// rowLabel is a text that wants to stand over a place on the time axis.
type rowLabel struct {
	x     float64
	class string
	text  string
}

// rowLabels writes texts in one row, moved apart sideways where they would
// overlap, within the canvas.
func (c *canvas) rowLabels(y float64, labels []rowLabel) {
	want, size := make([]float64, len(labels)), make([]float64, len(labels))
	for i, l := range labels {
		want[i] = l.x
		size[i] = textWidth(l.text, typeSize, l.class == "strong") + 10
	}
	for i, x := range spread(want, size, 0, c.width) {
		c.text(x, y, middle, labels[i].class, labels[i].text)
	}
}
