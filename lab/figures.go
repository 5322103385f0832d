//nolint:misspell // gonum spells colour its own way
package lab

import (
	"bytes"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Figure is a plot as SVG.
type Figure struct {
	Name string
	Alt  string // what it shows, in words
	SVG  []byte
}

// The palette of Okabe and Ito (Wong 2011, Nat Methods 8:441); dash and shape
// tell the same as colour.
var (
	ink    = color.RGBA{0x1c, 0x1a, 0x17, 0xff}
	soft   = color.RGBA{0x87, 0x81, 0x75, 0xff}
	shade  = color.RGBA{0xe6, 0xe2, 0xd8, 0xff}
	paper  = color.RGBA{0xfb, 0xfa, 0xf6, 0xff}
	blue   = color.RGBA{0x00, 0x72, 0xb2, 0xff}
	green  = color.RGBA{0x00, 0x9e, 0x73, 0xff}
	orange = color.RGBA{0xd5, 0x5e, 0x00, 0xff}
	purple = color.RGBA{0xcc, 0x79, 0xa7, 0xff}
)

// pens draw the policies' lines.
var pens = map[PolicyName]draw.LineStyle{
	Product:     {Color: blue, Width: vg.Points(2.2)},
	Informed:    {Color: green, Width: vg.Points(1.4), Dashes: []vg.Length{vg.Points(6), vg.Points(2)}},
	Clairvoyant: {Color: ink, Width: vg.Points(1.2), Dashes: []vg.Length{vg.Points(1.5), vg.Points(2)}},
	Thumb:       {Color: orange, Width: vg.Points(1.4), Dashes: []vg.Length{vg.Points(3), vg.Points(2)}},
	Formula:     {Color: purple, Width: vg.Points(1.4), Dashes: []vg.Length{vg.Points(8), vg.Points(2), vg.Points(2), vg.Points(2)}},
}

// Figures draws what a trial says: where the seasons ended and, where intervals
// were checked, how they fared.
func (t *Trial) Figures() ([]Figure, error) {
	r := t.Report()
	drawings := []func(*Report) (Figure, error){t.errors}
	if len(r.Coverage) > 0 {
		drawings = append(drawings, ranks, coverage, reliability)
	}
	var out []Figure
	for _, do := range drawings {
		f, err := do(r)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}

// newPlot is an empty plot in the project's look.
func newPlot(x, y string) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = paper
	p.X.Label.Text, p.Y.Label.Text = x, y
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Color, a.Tick.Color = soft, soft
		a.Padding = vg.Points(3)
		a.Label.Padding = vg.Points(3)
	}
	for _, s := range []*draw.TextStyle{
		&p.X.Label.TextStyle, &p.Y.Label.TextStyle, &p.X.Tick.Label, &p.Y.Tick.Label, &p.Legend.TextStyle, &p.Title.TextStyle,
	} {
		*s = styled(*s)
	}
	p.Legend.Padding = vg.Points(2)
	p.Title.Padding = vg.Points(3)
	return p
}

// styled is a text style in the size and face of all figures.
func styled(s draw.TextStyle) draw.TextStyle {
	s.Font.Size, s.Font.Variant, s.Color = vg.Points(10), "Sans", ink
	return s
}

// tiles draws plots in rows of so many, each of a size in points.
func tiles(plots []*plot.Plot, across int, width, height vg.Length) ([]byte, error) {
	rows := (len(plots) + across - 1) / across
	c := vgsvg.New(width*vg.Length(across), height*vg.Length(rows))
	whole := draw.New(c)
	whole.SetColor(paper)
	whole.Fill(whole.Path())
	const margin = 7
	for i, p := range plots {
		x, y := vg.Length(i%across)*width, vg.Length(rows-1-i/across)*height
		p.Draw(draw.Canvas{Canvas: c, Rectangle: vg.Rectangle{
			Min: vg.Point{X: x + margin, Y: y + margin}, Max: vg.Point{X: x + width - margin, Y: y + height - margin},
		}})
	}
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return nil, err
	}
	// A page without the font that gonum measures with has another sans.
	return bytes.ReplaceAll(b.Bytes(), []byte("font-family:Liberation Sans;"), []byte("font-family:'Liberation Sans',Arial,sans-serif;")), nil
}

// rectangle is a filled one.
func rectangle(x0, y0, x1, y1 float64, c color.Color) *plotter.Polygon {
	return &plotter.Polygon{
		XYs:   []plotter.XYs{{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}},
		Color: c,
	}
}

func thinLine(x0, y0, x1, y1 float64) *plotter.Line {
	return &plotter.Line{XYs: plotter.XYs{{X: x0, Y: y0}, {X: x1, Y: y1}}, LineStyle: draw.LineStyle{Color: soft, Width: vg.Points(0.7)}}
}

// ticks are at each step from one value to another, written with a format.
func ticks(from, to, step float64, format string) plot.ConstantTicks {
	var out plot.ConstantTicks
	for i := 0; from+float64(i)*step <= to+step/1e6; i++ {
		v := from + float64(i)*step
		out = append(out, plot.Tick{Value: v, Label: fmt.Sprintf(format, v)})
	}
	return out
}

// signed leaves the sign of nothing out.
func signed(t plot.ConstantTicks) plot.ConstantTicks {
	for i := range t {
		if t[i].Value == 0 {
			t[i].Label = "0"
		}
	}
	return t
}

// errors is the cumulative share of the feasible by how far from the target
// they stood on the stage.
func (t *Trial) errors(*Report) (Figure, error) {
	const least, most = -3.0, 6.0
	p := newPlot("body fat on the stage, by the athlete's method, less the target: points", "share of the feasible, %")
	p.Add(rectangle(-within, 0, within, 100, shade), thinLine(0, 0, 0, 100))
	for _, name := range t.Policies {
		var off []float64
		for i := range t.Outcomes[name] {
			if o := &t.Outcomes[name][i]; t.Ground[i].Feasible() {
				off = append(off, o.StagePct-o.Target)
			}
		}
		slices.Sort(off)
		line := &plotter.Line{XYs: staircase(off, least, most), LineStyle: pens[name]}
		p.Add(line)
		p.Legend.Add(string(name), line)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = least, most, 0, 100
	p.X.Tick.Marker, p.Y.Tick.Marker = signed(ticks(least, most, 1, "%+.0f")), ticks(0, 100, 25, "%.0f")
	p.Legend.YOffs = vg.Points(4)
	svg, err := tiles([]*plot.Plot{p}, 1, 480, 300)
	return Figure{"errors", "Cumulative share of the feasible athletes by body fat on the stage less the target, a line for each policy; within a point either way is shaded", svg}, err
}

// staircase is the empirical distribution of sorted values between two ends, in
// per cent.
func staircase(sorted []float64, least, most float64) plotter.XYs {
	n := float64(len(sorted))
	out := plotter.XYs{}
	y := 0.0
	for i, v := range sorted {
		if v > most {
			break
		}
		if v >= least {
			if len(out) == 0 {
				out = append(out, plotter.XY{X: least, Y: y})
			}
			out = append(out, plotter.XY{X: v, Y: y}, plotter.XY{X: v, Y: 100 * float64(i+1) / n})
		}
		y = 100 * float64(i+1) / n
	}
	if len(out) == 0 {
		out = append(out, plotter.XY{X: least, Y: y})
	}
	return append(out, plotter.XY{X: most, Y: y})
}

// ranks are the rank histograms, with the band that nine in ten, and more, of
// even ranks keep to.
func ranks(r *Report) (Figure, error) {
	var plots []*plot.Plot
	for _, c := range r.Coverage {
		n, most := 0, 0
		for _, k := range c.Ranks {
			n += k
			most = max(most, k)
		}
		low, high := Band(n, len(c.Ranks))
		p := newPlot("rank of what came, %", "athletes")
		p.Title.Text = string(c.What)
		p.Add(rectangle(0, float64(low), 100, float64(high), shade))
		width := 100 / float64(len(c.Ranks))
		for i, k := range c.Ranks {
			x := width * float64(i)
			p.Add(rectangle(x+width*0.08, 0, x+width*0.92, float64(k), blue))
		}
		even := float64(n) / float64(len(c.Ranks))
		p.Add(thinLine(0, even, 100, even))
		top := 1.15 * math.Max(float64(most), float64(high))
		p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 100, 0, top
		step := math.Max(5, 5*math.Ceil(top/20))
		p.X.Tick.Marker, p.Y.Tick.Marker = ticks(0, 100, 25, "%.0f"), ticks(0, top, step, "%.0f")
		plots = append(plots, p)
	}
	svg, err := tiles(plots, 2, 250, 200)
	return Figure{"ranks", "Histograms of the rank of what came among the forecast's futures, one review of each athlete; the band is where 95 % of even histograms' bars end", svg}, err
}

// coverage is what the 50 and 90 % intervals held, beside what they should.
func coverage(r *Report) (Figure, error) {
	p := newPlot("share of intervals that held what came, %", "")
	n := len(r.Coverage)
	names := make([]string, n)
	p.Add(rectangle(47, -0.6, 53, float64(n)-0.4, shade), rectangle(87, -0.6, 93, float64(n)-0.4, shade))
	for i, c := range r.Coverage {
		y := float64(n - 1 - i)
		names[n-1-i] = string(c.What)
		for _, s := range []struct {
			share Share
			color color.Color
			shape draw.GlyphDrawer
		}{{c.In50, orange, draw.PyramidGlyph{}}, {c.In90, blue, draw.CircleGlyph{}}} {
			whisker := thinLine(100*s.share.Low, y, 100*s.share.High, y)
			whisker.Color, whisker.Width = s.color, vg.Points(1.4)
			p.Add(whisker, &plotter.Scatter{
				XYs:        plotter.XYs{{X: 100 * s.share.Value, Y: y}},
				GlyphStyle: draw.GlyphStyle{Color: s.color, Radius: vg.Points(3.4), Shape: s.shape},
			})
		}
	}
	p.NominalY(names...)
	p.Y.Tick.Label = styled(p.Y.Tick.Label)
	p.Y.Tick.Label.XAlign, p.Y.Tick.Label.YAlign = text.XRight, text.YCenter
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 100, -0.6, float64(n)-0.4
	p.X.Tick.Marker = plot.ConstantTicks{{Value: 0, Label: "0"}, {Value: 25, Label: "25"}, {Value: 50, Label: "50"}, {Value: 75, Label: "75"}, {Value: 90, Label: "90"}, {Value: 100, Label: "100"}}
	svg, err := tiles([]*plot.Plot{p}, 1, 480, 180)
	return Figure{"coverage", "Share of 50 % intervals (triangles) and 90 % intervals (dots) that held what came, with 95 % intervals; shaded is what is promised", svg}, err
}

// reliability is what came of chances against what was said, with how many
// forecasts there were of each.
func reliability(r *Report) (Figure, error) {
	p := newPlot("chance said of being on target, %", "came true, %")
	diagonal := thinLine(0, 0, 100, 100)
	p.Add(diagonal)
	var at plotter.XYs
	counts := plotter.XYLabels{}
	for _, b := range r.Reliability {
		x := 100 * b.Said
		whisker := thinLine(x, 100*b.Came.Low, x, 100*b.Came.High)
		whisker.Color, whisker.Width = blue, vg.Points(1.4)
		p.Add(whisker)
		at = append(at, plotter.XY{X: x, Y: 100 * b.Came.Value})
		counts.XYs = append(counts.XYs, plotter.XY{X: x, Y: -9})
		counts.Labels = append(counts.Labels, strconv.Itoa(int(b.Came.Of)))
	}
	labels, err := plotter.NewLabels(counts)
	if err != nil {
		return Figure{}, err
	}
	for i := range labels.TextStyle {
		labels.TextStyle[i] = styled(labels.TextStyle[i])
		labels.TextStyle[i].Font.Size = vg.Points(8.5)
		labels.TextStyle[i].XAlign, labels.TextStyle[i].YAlign = text.XCenter, text.YCenter
	}
	p.Add(&plotter.Scatter{XYs: at, GlyphStyle: draw.GlyphStyle{Color: blue, Radius: vg.Points(3.4), Shape: draw.CircleGlyph{}}}, labels, thinLine(0, 0, 100, 0))
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 100, -15, 100
	p.X.Tick.Marker, p.Y.Tick.Marker = ticks(0, 100, 25, "%.0f"), append(ticks(0, 100, 25, "%.0f"), plot.Tick{Value: -9, Label: "forecasts"})
	svg, err := tiles([]*plot.Plot{p}, 1, 380, 340)
	return Figure{"reliability", "How often the target was met, by the chance that had been said, with 95 % intervals; the line is where they agree, the numbers below are how many forecasts there were", svg}, err
}
