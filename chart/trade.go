package chart

import (
	"fmt"
	"math"
)

// Trade draws what the same energy costs by each way of spending it: minutes at the
// left, fatigue at the right, in parts by where it comes from.
type Trade struct {
	Kcal float64 // net
	Ways []TradeWay
}

// TradeWay is one way of spending the energy.
type TradeWay struct {
	Name    string
	Minutes float64 // not known for steps, which have none of their own
	Steps   float64 // where Minutes is not known
	// Fatigue points, by where they come from.
	Base, Impact, Intensity, Overlap float64
}

// tradeParts are the parts of fatigue in their order along a bar; each has its own
// hatching besides its colour.
var tradeParts = []struct {
	name, class string
	of          func(*TradeWay) float64
}{
	{"the work itself", "trade-base", func(w *TradeWay) float64 { return w.Base }},
	{"landing", "trade-impact", func(w *TradeWay) float64 { return w.Impact }},
	{"how hard it is", "trade-intensity", func(w *TradeWay) float64 { return w.Intensity }},
	{"tomorrow’s lifting", "trade-overlap", func(w *TradeWay) float64 { return w.Overlap }},
}

func (w *TradeWay) points() float64 {
	sum := 0.0
	for _, p := range tradeParts {
		sum += math.Max(0, p.of(w))
	}
	return sum
}

func (w *TradeWay) known() bool { return finite(w.points()) && w.points() > 0 }

// Empty reports whether there is nothing to compare.
func (ch Trade) Empty() bool { return len(ch.known()) < 2 }

func (ch Trade) known() []TradeWay {
	var out []TradeWay
	for i := range ch.Ways {
		if ch.Ways[i].known() {
			out = append(out, ch.Ways[i])
		}
	}
	return out
}

// tradeLayout is where the columns of a drawing lie.
type tradeLayout struct {
	nameWidth        float64
	minutes, points  float64 // left ends of the bars
	minutesW, pointW float64 // their greatest lengths
	rowHeight, bar   float64 // of a row; where in it the bars lie
}

// SVG draws the chart; "" where there is nothing to compare.
func (ch Trade) SVG(o Options) string {
	ways := ch.known()
	if ch.Empty() {
		return ""
	}
	c := &canvas{width: 840, id: o.ID}
	l := tradeLayout{nameWidth: 236, minutes: 250, minutesW: 150, points: 500, pointW: 278, rowHeight: 26}
	if o.Narrow {
		c.width = 344
		l = tradeLayout{nameWidth: 344, minutes: 0, minutesW: 92, points: 168, pointW: 122, rowHeight: 44, bar: 18}
	}
	y := c.tradeKey(ways)
	c.text(l.minutes, y, start, "title", "Minutes")
	c.text(l.points, y, start, "title", "Fatigue points")
	c.tradeHatching()
	var minutes, points span
	for i := range ways {
		minutes.add(0, ways[i].Minutes)
		points.add(0, ways[i].points())
	}
	y += 10
	for i := range ways {
		c.tradeRow(&ways[i], l, y, l.minutesW/math.Max(minutes.high, 1), l.pointW/points.high)
		y += l.rowHeight
	}
	c.height = y + 6
	return c.document(fmt.Sprintf("The same %s kcal by each way", Number(ch.Kcal, 0)), describeTrade(ch.Kcal, ways), o)
}

// tradeKey explains the parts that are there and returns the baseline of the
// headings.
func (c *canvas) tradeKey(ways []TradeWay) float64 {
	var items []keyItem
	for _, p := range tradeParts {
		for i := range ways {
			if p.of(&ways[i]) > 0 {
				items = append(items, keyItem{p.name, func(c *canvas, x, y float64) { c.tradeBar(p.class, x+2, y-5, 18) }})
				break
			}
		}
	}
	return c.titledKey(14, "Where fatigue comes from", true, items) + lineHeight + 10
}

const tradeBarHeight = 13.0

func (c *canvas) tradeRow(w *TradeWay, l tradeLayout, y, perMinute, perPoint float64) {
	c.text(0, y+14, start, "", fitText(w.Name, l.nameWidth, false))
	y += l.bar
	base := y + 14
	for _, x := range []float64{l.minutes, l.points} {
		c.line("axis", x, y+1, x, y+7+tradeBarHeight)
	}
	label := Number(w.Steps, 0) + " steps"
	width := 0.0
	if finite(w.Minutes) {
		width = w.Minutes * perMinute
		c.rect("trade-minutes", l.minutes, y+4, width, tradeBarHeight)
		label = Number(w.Minutes, 0)
	}
	c.text(l.minutes+width+6, base, start, "strong", label)
	x := l.points
	for _, p := range tradeParts {
		if v := p.of(w) * perPoint; v > 0 {
			c.tradeBar(p.class, x, y+4, v)
			x += v
		}
	}
	c.text(x+6, base, start, "strong", Number(w.points(), 0))
}

// tradeBar fills a bar in a part's colour and lays its hatching over it.
func (c *canvas) tradeBar(class string, x, y, width float64) {
	c.rect(class, x, y, width, tradeBarHeight)
	if class != tradeParts[0].class {
		c.el("rect", "class", "trade-hatched", "x", x, "y", y, "width", width, "height", tradeBarHeight, "fill", "url(#"+c.id+class+")")
	}
}

// tradeHatching defines the hatching of the parts but the first: to the left, to the
// right, and upright.
func (c *canvas) tradeHatching() {
	for i, turn := range []string{"rotate(45)", "rotate(-45)", "rotate(0)"} {
		c.open("pattern", "id", c.id+tradeParts[i+1].class, "width", "5", "height", "5", "patternUnits", "userSpaceOnUse", "patternTransform", turn)
		c.line("trade-hatch", 1, 0, 1, 5)
		c.close("pattern")
	}
}

func describeTrade(kcal float64, ways []TradeWay) string {
	words := func(w *TradeWay) string {
		amount := Number(w.Minutes, 0) + " minutes"
		if !finite(w.Minutes) {
			amount = Number(w.Steps, 0) + " steps"
		}
		return fmt.Sprintf("%s, %s and %s points", w.Name, amount, Number(w.points(), 0))
	}
	least, most := &ways[0], &ways[0]
	for i := range ways {
		if ways[i].points() < least.points() {
			least = &ways[i]
		}
		if ways[i].points() > most.points() {
			most = &ways[i]
		}
	}
	return fmt.Sprintf("%s kcal by %d ways. The least tiring is %s; the most tiring %s.", Number(kcal, 0), len(ways), words(least), words(most))
}
