package chart

// Spark draws the corridor at the size of a line of text for a roster: edges,
// trend, forecast, target and show, without axes or words. "" where there is
// nothing to draw.
func (ch Corridor) Spark(o Options) string {
	if ch.Empty() {
		return ""
	}
	ch.Notes = Notes{}
	d := corridorDrawing{Corridor: ch.inUnit(o.Notation), o: o, c: &canvas{width: 176, height: 44, id: o.ID}}
	d.o.Narrow = true // no labels at the ends
	dates, r := d.days(), d.weightRange()
	d.weight = frame{3, 167, 3, 41, dates.from, dates.to, r.low, r.high}
	if !d.Show.Date.IsZero() {
		d.c.rule(d.weight, "show", d.Show.Date, 1, 43)
	}
	d.Scale, d.Plan, d.ClassLimitKg = nil, nil, nil
	d.drawSeries()
	title := "Corridor to the show"
	if d.Show.Date.IsZero() {
		title = "Corridor"
	}
	return d.c.document(title, ch.describe(o.Notation), o)
}
