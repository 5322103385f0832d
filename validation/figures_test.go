//nolint:misspell // gonum spells colour its own way
package validation

import (
	"bytes"
	"image/color"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// The palette of Okabe and Ito (Wong 2011, Nat Methods 8:441); shape tells the
// same as colour.
var (
	ink       = color.RGBA{0x33, 0x33, 0x33, 0xff}
	blue      = color.RGBA{0x00, 0x72, 0xb2, 0xff}
	orange    = color.RGBA{0xd5, 0x5e, 0x00, 0xff}
	green     = color.RGBA{0x00, 0x9e, 0x73, 0xff}
	pale      = color.RGBA{0xcc, 0xdf, 0xec, 0xff}
	quiet     = color.RGBA{0xbb, 0xbb, 0xbb, 0xff}
	thin      = vg.Points(0.6)
	lineWidth = vg.Points(1.4)
)

// svg draws a plot, width and height in points.
func svg(t *testing.T, p *plot.Plot, width, height vg.Length) []byte {
	t.Helper()
	for _, style := range []*draw.TextStyle{
		&p.X.Label.TextStyle, &p.Y.Label.TextStyle, &p.X.Tick.Label, &p.Y.Tick.Label, &p.Legend.TextStyle,
	} {
		style.Font.Size, style.Font.Variant = vg.Points(10), "Sans"
	}
	p.Legend.Padding = vg.Points(2)
	c := vgsvg.New(width, height)
	const margin = 6
	p.Draw(draw.Crop(draw.New(c), margin, -margin, margin, -margin))
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func line(xy plotter.XYs, c color.Color, dashes ...vg.Length) *plotter.Line {
	return &plotter.Line{XYs: xy, LineStyle: draw.LineStyle{Color: c, Width: lineWidth, Dashes: dashes}}
}

func dots(xy plotter.XYs, c color.Color, shape draw.GlyphDrawer) *plotter.Scatter {
	return &plotter.Scatter{XYs: xy, GlyphStyle: draw.GlyphStyle{Color: c, Radius: vg.Points(3.2), Shape: shape}}
}

// every is a tick at each step.
func every(from, to, step int) plot.ConstantTicks {
	var out plot.ConstantTicks
	for v := from; v <= to; v += step {
		out = append(out, plot.Tick{Value: float64(v), Label: strconv.Itoa(v)})
	}
	return out
}

// residualFigure is a row for each study: where the trained partition and
// Forbes's end, against the reported fat.
func residualFigure(t *testing.T, all []led) []byte {
	t.Helper()
	p := plot.New()
	p.X.Label.Text = "predicted less reported fat at the end, kg"
	const right = 5.6
	n := len(all)
	names := make([]string, n)
	var trainedXY, forbesXY plotter.XYs
	groups := plotter.XYLabels{}
	last := role("")
	for i := range all {
		y := float64(n - 1 - i)
		names[n-1-i] = all[i].key
		trainedXY = append(trainedXY, plotter.XY{X: all[i].residual(), Y: y})
		forbesXY = append(forbesXY, plotter.XY{X: all[i].forbesResidual(), Y: y})
		if all[i].role != last {
			p.Add(&plotter.Line{
				XYs:       plotter.XYs{{X: -1.6, Y: y + 0.5}, {X: right, Y: y + 0.5}},
				LineStyle: draw.LineStyle{Color: quiet, Width: thin},
			})
			groups.XYs = append(groups.XYs, plotter.XY{X: right, Y: y})
			groups.Labels = append(groups.Labels, string(all[i].role))
		}
		last = all[i].role
	}
	zero := line(plotter.XYs{{X: 0, Y: -0.6}, {X: 0, Y: float64(n) - 0.4}}, ink)
	zero.Width = thin
	a, b := dots(trainedXY, blue, draw.CircleGlyph{}), dots(forbesXY, orange, draw.TriangleGlyph{})
	labels, err := plotter.NewLabels(groups)
	if err != nil {
		t.Fatal(err)
	}
	for i := range labels.TextStyle {
		labels.TextStyle[i].XAlign, labels.TextStyle[i].YAlign = text.XRight, text.YCenter
		labels.TextStyle[i].Font.Size, labels.TextStyle[i].Font.Variant = vg.Points(10), "Sans"
	}
	p.Add(zero, b, a, labels)
	p.Legend.Add("trained partition", a)
	p.Legend.Add("Forbes", b)
	p.NominalY(names...)
	p.X.Min, p.X.Max = -1.6, right
	p.X.Tick.Marker = every(-1, 5, 1)
	return svg(t, p, 430, 400)
}

// hallidayFigure is how her weight and fat fell as the engine has them from her
// intake, with the scan's end.
func hallidayFigure(t *testing.T) []byte {
	t.Helper()
	o := fedStudies[0].eat()
	p := plot.New()
	p.X.Label.Text, p.Y.Label.Text = "week", "change, kg"
	curve := func(values []float64) plotter.XYs {
		var out plotter.XYs
		for day := 0; day < len(values); day += 7 {
			out = append(out, plotter.XY{X: float64(day) / 7, Y: values[day] - values[0]})
		}
		return out
	}
	weight, fat := line(curve(o.weight), blue), line(curve(o.fat), orange, vg.Points(5), vg.Points(2))
	weighed := dots(plotter.XYs{{X: 20, Y: o.weight1 - o.weight0}}, blue, draw.CircleGlyph{})
	scanned := dots(plotter.XYs{{X: 20, Y: o.fat1 - o.fat0}}, orange, draw.TriangleGlyph{})
	p.Add(weight, fat, weighed, scanned)
	p.Legend.Add("weight, from intake", weight)
	p.Legend.Add("weight, reported", weighed)
	p.Legend.Add("fat, from intake", fat)
	p.Legend.Add("fat, reported", scanned)
	p.Legend.Top = true
	p.Y.Min, p.Y.Max, p.X.Max = -5.5, 0, 20.5
	p.X.Tick.Marker, p.Y.Tick.Marker = every(0, 20, 4), every(-5, 0, 1)
	return svg(t, p, 430, 240)
}

// seriesFigure is the series with two forecasts of the engine that is told, and
// of two simple methods.
func seriesFigure(t *testing.T) []byte {
	t.Helper()
	all := wtloss(t)
	p := plot.New()
	p.X.Label.Text, p.Y.Label.Text = "day", "weight, kg"
	var seenXY plotter.XYs
	for _, s := range all {
		seenXY = append(seenXY, plotter.XY{X: float64(s.day), Y: s.weight})
	}
	for i, origin := range []int{90, 165} {
		seen := until(all, origin)
		last := seen[len(seen)-1]
		var days []int
		for d := last.day + 1; d <= last.day+56; d += 5 {
			days = append(days, d)
		}
		curve := func(ps []prediction) plotter.XYs {
			var out plotter.XYs
			for i, d := range days {
				out = append(out, plotter.XY{X: float64(d), Y: ps[i].mean})
			}
			return out
		}
		of := told(175.81).engine(seen, days)
		var band plotter.XYs
		for i, d := range days {
			band = append(band, plotter.XY{X: float64(d), Y: of[i].high})
		}
		for i, d := range slices.Backward(days) {
			band = append(band, plotter.XY{X: float64(d), Y: of[i].low})
		}
		area, err := plotter.NewPolygon(band)
		if err != nil {
			t.Fatal(err)
		}
		area.Color, area.Width = pale, 0
		e := line(curve(of), blue)
		x := line(curve(exponential(seen, days)), green, vg.Points(5), vg.Points(2))
		l := line(curve(trend(seen, days)), orange, vg.Points(2), vg.Points(2))
		p.Add(area, e, x, l)
		if i == 0 {
			p.Legend.Add("engine, told, with its 90 %", e)
			p.Legend.Add("exponential", x)
			p.Legend.Add("straight line, 28 days", l)
		}
	}
	s := dots(seenXY, ink, draw.CircleGlyph{})
	s.Radius = vg.Points(1.8)
	p.Add(s)
	p.Legend.Add("weighed", s)
	p.Legend.Top = true
	p.X.Tick.Marker, p.Y.Tick.Marker = every(0, 240, 30), every(100, 180, 20)
	return svg(t, p, 430, 280)
}
