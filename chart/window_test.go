package chart_test

import (
	"strings"
	"testing"

	"glidepath/chart"
	"glidepath/chart/charttest"
)

// A window leaves nothing outside it, and one that is open leaves all.
func TestBetween(t *testing.T) {
	whole := charttest.New().Corridor
	if open := whole.Between(chart.Window{}); open.SVG(chart.Options{}) != whole.SVG(chart.Options{}) {
		t.Error("an open window changes the drawing")
	}
	w := chart.Window{From: whole.Trend[10].Date, To: whole.Trend[20].Date}
	part := whole.Between(w)
	a, ok := part.DayAxis(chart.Options{})
	if !ok || a.From < w.From || a.To > w.To {
		t.Errorf("the days of the window are %s to %s", a.From, a.To)
	}
	if len(part.Trend) != 11 || part.Target != nil || !part.Show.Date.IsZero() || len(part.Forecast) != 0 {
		t.Errorf("left are %d days of trend, %d of forecast, target %v, show %v", len(part.Trend), len(part.Forecast), part.Target, part.Show)
	}
	for _, p := range part.Phases {
		if p.From < w.From || p.To > w.To {
			t.Errorf("the phase %s runs from %s to %s", p.Kind, p.From, p.To)
		}
	}
	if svg := part.SVG(chart.Options{}); !strings.Contains(svg, "<svg") || strings.Contains(svg, "show 1") {
		t.Error("the part is not drawn, or with the show")
	}
	// The drawing and its axis agree on where the days lie.
	for _, narrow := range []bool{false, true} {
		o := chart.Options{Narrow: narrow}
		a, _ := whole.DayAxis(o)
		if a.From != whole.Trend[0].Date || a.Left >= a.Right || a.Right > a.Width {
			t.Errorf("the axis is %+v", a)
		}
	}
	if _, ok := (chart.Corridor{}).DayAxis(chart.Options{}); ok {
		t.Error("nothing has an axis")
	}
}
