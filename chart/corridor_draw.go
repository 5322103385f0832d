package chart

import (
	"fmt"
	"math"
	"strconv"

	"glidepath/athlete"
)

// corridorDrawing is a corridor being laid out from the top down.
type corridorDrawing struct {
	Corridor
	o                    Options
	c                    *canvas
	left, right          float64
	heightOne, heightTwo float64
	weight, energy       frame
}

func (d *corridorDrawing) draw() {
	y := d.head(14)
	dates, r := d.days(), d.weightRange()
	d.weight = frame{d.left, d.right, y, y + d.heightOne, dates.from, dates.to, r.low, r.high}
	bottom := d.weight.bottom
	if d.hasEnergy() {
		y = d.energyHead(bottom + 30)
		r := d.kcal().padded(0.06, 300)
		d.energy = frame{d.left, d.right, y + 14, y + 14 + d.heightTwo, dates.from, dates.to, r.low, r.high}
		bottom = d.energy.bottom
	}
	d.c.valueAxis(d.weight, 9)
	if d.hasEnergy() {
		d.c.valueAxis(d.energy, 5)
	}
	d.rules(bottom) // over the grid, under the lines
	d.drawWeight()
	if d.hasEnergy() {
		d.drawEnergy()
	}
	foot := d.weight
	foot.bottom = bottom
	d.c.dateAxis(foot, d.o.Notation)
	y = d.weeksOut(foot, bottom+18)
	y = d.notes(foot, y)
	y = d.phaseStrip(foot, y+9)
	d.c.height = y + 6
}

func (d *corridorDrawing) hasEnergy() bool { return d.kcal().any }

func (d *corridorDrawing) kcal() span {
	var s span
	s.addEstimates(d.Expenditure)
	s.addPoints(d.Reported)
	return s
}

// head writes the title and the key, leaves rows for the labels of the rules and
// of the marks, and returns the top of the panel.
func (d *corridorDrawing) head(y float64) float64 {
	title := "Body weight, " + d.o.Notation.WeightUnit()
	var items []keyItem
	if len(d.Trend) > 0 {
		items = append(items, keyItem{"trend, 90" + nbsp + "% band", bandSample("trend", "band")})
	}
	if len(d.Scale) > 0 {
		items = append(items, keyItem{"scale", func(c *canvas, x, y float64) {
			for _, k := range []float64{3, 10, 17} {
				c.el("circle", "class", "scale", "cx", x+k, "cy", y, "r", 2.1)
			}
		}})
	}
	if len(d.Forecast) > 0 {
		items = append(items, keyItem{"50, 80, 90" + nbsp + "% of futures", func(c *canvas, x, y float64) {
			c.rect("fan", x, y-6, 20, 12)
			c.rect("fan", x, y-4, 20, 8)
			c.rect("fan", x, y-2, 20, 4)
		}})
	}
	if d.o.Narrow {
		items = append(items, d.narrowKey()...)
	}
	y = d.c.titledKey(y, title, d.o.Narrow, items)
	y += lineHeight + 10 // the rules' labels
	if len(d.Marks) > 0 {
		y += lineHeight + 1
	}
	return y + 8
}

// narrowKey explains the lines that have a label of their own on the wide
// drawing.
func (d *corridorDrawing) narrowKey() []keyItem {
	var items []keyItem
	add := func(there bool, name, class string) {
		if there {
			items = append(items, keyItem{name, lineSample(class)})
		}
	}
	add(len(d.Forecast) > 0, "forecast", "forecast")
	add(len(d.Plan) > 0, "plan", "plan")
	add(len(d.Edges) > 0, "upper edge", "upper")
	add(len(d.Edges) > 0, "lower edge", "lower")
	add(d.ClassLimitKg != nil, "class limit", "limit")
	for _, k := range d.Notes.kinds() {
		items = append(items, keyItem{k.name, func(c *canvas, x, y float64) { k.shape(c, x+10, x+10, y) }})
	}
	if d.Target != nil {
		items = append(items, keyItem{"target", func(c *canvas, x, y float64) {
			c.line("target", x+3, y, x+17, y)
			c.interval("tolerance", x+10, y-6, y+6)
		}})
	}
	return items
}

func (d *corridorDrawing) energyHead(y float64) float64 {
	var items []keyItem
	if len(d.Expenditure) > 0 {
		items = append(items, keyItem{"expenditure, 90" + nbsp + "% band", bandSample("spent", "spent-band")})
	}
	if len(d.Reported) > 0 {
		items = append(items, keyItem{"reported", func(c *canvas, x, y float64) {
			var p path
			p.to("M", x, y+4)
			p.to("L", x+7, y+4)
			p.to("L", x+7, y-4)
			p.to("L", x+14, y-4)
			p.to("L", x+14, y+1)
			p.to("L", x+20, y+1)
			c.el("path", "class", "eaten", "d", p.b.String())
		}})
	}
	return d.c.titledKey(y, "Energy, kcal a day", d.o.Narrow, items)
}

// rules draws the uprights for the day of the reading and the show, with their
// dates over the panel, and the numbered marks.
func (d *corridorDrawing) rules(bottom float64) {
	f, n := d.weight, d.o.Notation
	y := f.top - 10
	if len(d.Marks) > 0 {
		d.marks(y)
		y -= lineHeight + 1
	}
	date := n.Date
	if d.o.Narrow {
		date = n.ShortDate
	}
	var labels []rowLabel
	if f.holds(d.AsOf) && !d.AsOf.IsZero() {
		labels = append(labels, rowLabel{f.x(d.AsOf), "", "as of " + date(d.AsOf)})
		d.c.rule(f, "today", d.AsOf, y+5, bottom)
	}
	if f.holds(d.Show.Date) && !d.Show.Date.IsZero() {
		labels = append(labels, rowLabel{f.x(d.Show.Date), "strong", "show " + date(d.Show.Date)})
		d.c.rule(f, "show", d.Show.Date, y+5, bottom)
	}
	d.c.rowLabels(y, labels)
}

func (d *corridorDrawing) marks(y float64) {
	var labels []rowLabel
	for i, m := range d.Marks {
		if !d.weight.holds(m.Date) {
			continue
		}
		x := d.weight.x(m.Date)
		var p path
		p.polygon(x-4, y+5, x+4, y+5, x, y+12)
		d.c.el("path", "class", "mark", "d", p.b.String())
		labels = append(labels, rowLabel{x, "accent", strconv.Itoa(i + 1)})
	}
	d.c.rowLabels(y, labels)
}

func (d *corridorDrawing) drawWeight() {
	d.drawSeries()
	if !d.o.Narrow {
		d.labelEnds()
	}
}

// drawSeries draws everything within the panel of the weights.
func (d *corridorDrawing) drawSeries() {
	c, f := d.c, d.weight
	c.clip(f)
	room := make([]Estimate, len(d.Edges))
	lower, upper := make([]Point, len(d.Edges)), make([]Point, len(d.Edges))
	for i, e := range d.Edges {
		room[i] = Estimate{e.Date, e.UpperKg, e.LowerKg, e.UpperKg}
		if e.LowerKg > e.UpperKg { // too late: there is no room
			room[i].Low = nan
		}
		lower[i], upper[i] = Point{e.Date, e.LowerKg}, Point{e.Date, e.UpperKg}
	}
	c.hatched(f, room)
	for level := 2; level >= 0; level-- {
		c.band(f, "fan", d.fan(level))
	}
	c.curve(f, "lower", lower)
	c.curve(f, "upper", upper)
	if d.ClassLimitKg != nil {
		// Only what is still to come can keep the limit.
		c.curve(f, "limit", []Point{{max(f.from, d.AsOf), *d.ClassLimitKg}, {f.to, *d.ClassLimitKg}})
	}
	c.dots(f, "scale", 2.1, d.Scale)
	c.band(f, "band", d.Trend)
	c.curve(f, "plan", d.Plan)
	c.curve(f, "forecast", middles(d.fan(2)))
	c.curve(f, "trend", middles(d.Trend))
	c.close("g")
	if t := d.Target; t != nil && f.holds(d.Show.Date) && !d.Show.Date.IsZero() {
		x := f.x(d.Show.Date)
		c.interval("tolerance", x, f.y(t.LowKg), f.y(t.HighKg))
		c.line("target", x-8, f.y(t.WeightKg), x+8, f.y(t.WeightKg))
	}
}

func (d *corridorDrawing) fan(level int) []Estimate {
	out := make([]Estimate, len(d.Forecast))
	for i, p := range d.Forecast {
		out[i] = Estimate{p.Date, p.Median, p.Low[level], p.High[level]}
	}
	return out
}

// labelEnds names the lines in the right-hand margin.
func (d *corridorDrawing) labelEnds() {
	f, unit := d.weight, nbsp+d.o.Notation.WeightUnit()
	within := func(v float64) float64 { return math.Max(f.top, math.Min(f.bottom, f.y(v))) }
	var labels []endLabel
	if n := len(d.Edges); n > 0 {
		last := d.Edges[n-1]
		if finite(last.UpperKg) {
			labels = append(labels, endLabel{within(last.UpperKg), "upper edge", ""})
		}
		if finite(last.LowerKg) {
			labels = append(labels, endLabel{within(last.LowerKg), "lower edge", ""})
		}
	}
	if d.ClassLimitKg != nil {
		labels = append(labels, endLabel{within(*d.ClassLimitKg), "class limit", Number(*d.ClassLimitKg, 1) + unit})
	}
	if e, ok := lastKnown(d.fan(2)); ok {
		labels = append(labels, endLabel{within(e.Value), "forecast", Number(e.Value, 1) + unit + rangeOf(e, 1)})
	}
	if t := d.Target; t != nil {
		e := Estimate{0, t.WeightKg, t.LowKg, t.HighKg}
		labels = append(labels, endLabel{within(t.WeightKg), "target", Number(e.Value, 1) + unit + rangeOf(e, 1)})
	}
	if n := len(d.Plan); n > 0 && finite(d.Plan[n-1].Value) {
		labels = append(labels, endLabel{within(d.Plan[n-1].Value), "plan", ""})
	}
	d.c.endLabels(f, labels)
}

func rangeOf(e Estimate, decimals int) string {
	if !e.banded() {
		return ""
	}
	return " (" + Number(e.Low, decimals) + " to " + Number(e.High, decimals) + ")"
}

func (d *corridorDrawing) drawEnergy() {
	c, f := d.c, d.energy
	c.clip(f)
	c.band(f, "spent-band", d.Expenditure)
	c.steps(f, "eaten", d.Reported)
	c.curve(f, "spent", middles(d.Expenditure))
	c.close("g")
	if d.o.Narrow {
		return
	}
	if e, ok := lastKnown(d.Expenditure); ok {
		c.text(f.right+22, f.top+14, start, "strong", "expenditure")
		c.text(f.right+22, f.top+14+lineHeight, start, "", Number(e.Value, 0)+rangeOf(e, 0))
	}
}

// weeksOut counts the weeks to the show under the axis and returns the baseline.
func (d *corridorDrawing) weeksOut(f frame, y float64) float64 {
	if d.Show.Date.IsZero() || !f.holds(d.Show.Date) {
		return y
	}
	y += lineHeight
	week := 7 * (f.right - f.left) / float64(f.to.DaysSince(f.from))
	step := 4
	for float64(step)*week < 44 {
		step *= 2
	}
	for w := step; ; w += step {
		day := d.Show.Date.AddDays(-7 * w)
		if day < f.from {
			break
		}
		d.c.text(f.x(day), y, middle, "", fmt.Sprintf("%d"+nbsp+"wk", w))
		d.c.line("axis", f.x(day), y+5, f.x(day), y+9)
	}
	if !d.o.Narrow {
		d.c.text(f.right+22, y, start, "", "weeks to the show")
	}
	return y
}

// phaseStrip draws the phases as boxes with their names, those that don't fit
// in a row beneath, and returns the foot.
func (d *corridorDrawing) phaseStrip(f frame, y float64) float64 {
	const height = 22
	var below []rowLabel
	any := false
	for _, p := range d.Phases {
		from, to := max(p.From, f.from), min(p.To.AddDays(1), f.to)
		if from >= to {
			continue
		}
		any = true
		x1, x2 := f.x(from), f.x(to)
		class := "phase"
		switch p.Kind {
		case athlete.Prep:
			class = "phase-prep"
		case athlete.PeakWeek:
			class = "phase-peak"
		}
		d.c.rect(class, x1, y, x2-x1, height)
		if name := string(p.Kind); textWidth(name, typeSize, false)+8 <= x2-x1 {
			d.c.open("g", "class", "bare")
			d.c.text((x1+x2)/2, y+15.5, middle, "", name)
			d.c.close("g")
		} else {
			below = append(below, rowLabel{(x1 + x2) / 2, "", name})
		}
	}
	if !any {
		return y
	}
	if len(below) > 0 {
		d.c.rowLabels(y+height+15, below)
		return y + height + 18
	}
	return y + height
}
