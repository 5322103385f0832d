package chart

import (
	"fmt"
	"strings"

	"glidepath/civil"
)

// Activity draws steps and cardio by week beside what was asked.
type Activity struct{ Weeks []ActivityWeek }

// ActivityWeek is a week from its first day on; nil is not known.
type ActivityWeek struct {
	From                       civil.Date
	StepsPerDay, StepsAsked    *float64 // mean of the days logged; a day
	CardioMinutes, CardioAsked *float64 // a week
}

// activityRow is one of the two panels.
type activityRow struct {
	title, bar  string
	done, asked func(ActivityWeek) *float64
}

var activityRows = []activityRow{
	{
		"Steps a day, mean of the week", "steps-bar",
		func(w ActivityWeek) *float64 { return w.StepsPerDay }, func(w ActivityWeek) *float64 { return w.StepsAsked },
	},
	{
		"Cardio, minutes a week", "cardio-bar",
		func(w ActivityWeek) *float64 { return w.CardioMinutes }, func(w ActivityWeek) *float64 { return w.CardioAsked },
	},
}

// Empty reports whether there is nothing to draw.
func (ch Activity) Empty() bool {
	for _, r := range activityRows {
		if s := ch.span(r); s.any {
			return false
		}
	}
	return true
}

func (ch Activity) span(r activityRow) span {
	var s span
	for _, w := range ch.Weeks {
		s.add(known(r.done(w)), known(r.asked(w)))
	}
	return s
}

// known is the value, or NaN for nil.
func known(v *float64) float64 {
	if v == nil {
		return nan
	}
	return *v
}

// SVG draws the chart; "" where there is nothing to draw.
func (ch Activity) SVG(o Options) string {
	if ch.Empty() {
		return ""
	}
	c := &canvas{width: 840, id: o.ID}
	left, right, height := 52.0, 832.0, 120.0
	if o.Narrow {
		c.width, left, right, height = 344, 50, 340, 116
	}
	var d days
	for _, w := range ch.Weeks {
		d.add(w.From, w.From.AddDays(7))
	}
	y := 14.0
	var f frame
	for _, r := range activityRows {
		s := ch.span(r)
		if !s.any {
			continue
		}
		y = activityKey(c, y, r, o.Narrow)
		top := s.high
		if top <= 0 {
			top = 1
		}
		f = frame{left, right, y + 12, y + 12 + height, d.from, d.to, 0, top * 1.06}
		ch.drawRow(c, f, r)
		c.dateAxis(f, o.Notation)
		y = f.bottom + 50
	}
	c.height = f.bottom + 26
	return c.document("Steps and cardio by week", ch.describe(), o)
}

func activityKey(c *canvas, y float64, r activityRow, narrow bool) float64 {
	items := []keyItem{
		{"done", func(c *canvas, x, y float64) { c.rect(r.bar, x+4, y-5, 12, 11) }},
		{"asked", lineSample("asked")},
	}
	return c.titledKey(y, r.title, narrow, items)
}

func (ch Activity) drawRow(c *canvas, f frame, r activityRow) {
	c.valueAxis(f, 4)
	for _, w := range ch.Weeks {
		x1, x2 := f.x(w.From), f.x(w.From.AddDays(7))
		gap := (x2 - x1) * 0.14
		if v := known(r.done(w)); finite(v) {
			c.rect(r.bar, x1+gap, f.y(v), x2-x1-2*gap, f.bottom-f.y(v))
		}
		if v := known(r.asked(w)); finite(v) {
			c.line("asked", x1+1, f.y(v), x2-1, f.y(v))
		}
	}
}

func (ch Activity) describe() string {
	var s []string
	for i := len(ch.Weeks) - 1; i >= 0; i-- {
		w := ch.Weeks[i]
		if w.StepsPerDay == nil && w.CardioMinutes == nil {
			continue
		}
		if w.StepsPerDay != nil {
			s = append(s, fmt.Sprintf("In the last week logged, %s steps a day.", Number(*w.StepsPerDay, 0)))
		}
		if w.CardioMinutes != nil {
			s = append(s, fmt.Sprintf("%s minutes of cardio in the week.", Number(*w.CardioMinutes, 0)))
		}
		break
	}
	return strings.Join(s, " ")
}
