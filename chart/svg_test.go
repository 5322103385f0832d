package chart_test

import (
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/chart/charttest"
	"glidepath/civil"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the golden files")

type drawing struct {
	name string
	svg  func(chart.Options) string
}

func drawings(s charttest.Season) []drawing {
	return []drawing{
		{"corridor", s.Corridor.SVG},
		{"starts", s.Starts.SVG},
		{"courses", s.Courses.SVG},
		{"composition", s.Composition.SVG},
		{"strength", s.Strength.SVG},
		{"activity", s.Activity.SVG},
		{"recovery", s.Recovery.SVG},
		{"muscles", s.Muscles.SVG},
		{"loads", s.Loads.SVG},
		{"splits", s.Splits.SVG},
		{"state", s.State.SVG},
		{"kept", s.Kept.SVG},
		{"trade", s.Trade.SVG},
		{"spark", s.Corridor.Spark},
	}
}

// variants are the ways in which a page shows each drawing.
func variants() map[string]chart.Options {
	return map[string]chart.Options{
		"wide":     {ID: "w-"},
		"narrow":   {ID: "n-", Narrow: true},
		"imperial": {ID: "i-", Notation: chart.Notation{Units: athlete.Imperial}},
	}
}

func TestGolden(t *testing.T) {
	for variant, o := range variants() {
		for _, d := range drawings(charttest.New()) {
			got := d.svg(o)
			checkDrawing(t, d.name+" "+variant, got)
			if again := d.svg(o); again != got {
				t.Errorf("%s %s: two drawings of the same input differ", d.name, variant)
			}
			// One element a line, so that a difference can be read.
			got = strings.ReplaceAll(got, "><", ">\n<") + "\n"
			file := filepath.Join("testdata", d.name+"-"+variant+".svg")
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Errorf("%s %s differs from its golden file (-want +got):\n%.2000s", d.name, variant, diff)
			}
		}
	}
}

// checkDrawing asserts what must be true of any drawing: well-formed, named, no
// number that is not one, ids that are its own, and no text upon another.
func checkDrawing(t interface{ Errorf(string, ...any) }, name, svg string) {
	if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
		t.Errorf("%s: a number that is not one", name)
	}
	p, err := parse(svg)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	if p.title == "" || p.desc == "" {
		t.Errorf("%s: title %q, description %q", name, p.title, p.desc)
	}
	for id, n := range p.ids {
		if n > 1 {
			t.Errorf("%s: id %q is used %d times", name, id, n)
		}
	}
	for i, a := range p.texts {
		if a.left < -0.5 || a.right > p.width+0.5 || a.top < -0.5 || a.bottom > p.height+0.5 {
			t.Errorf("%s: %q sticks out of the drawing: %+v", name, a.text, a)
		}
		for _, b := range p.texts[i+1:] {
			if a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom {
				t.Errorf("%s: %q lies upon %q", name, a.text, b.text)
			}
		}
	}
}

type parsed struct {
	title, desc   string
	width, height float64
	texts         []textBox
	ids           map[string]int
}

type textBox struct {
	text                     string
	left, top, right, bottom float64
}

// parse reads a drawing with the standard library's XML decoder.
func parse(svg string) (*parsed, error) {
	p := &parsed{ids: map[string]int{}}
	dec := xml.NewDecoder(strings.NewReader(svg))
	var open []xml.StartElement
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return p, nil
		}
		if err != nil {
			return nil, err
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			open = append(open, tok.Copy())
			if id := attr(tok, "id"); id != "" {
				p.ids[id]++
			}
			if tok.Name.Local == "svg" {
				p.width, p.height = number(attr(tok, "width")), number(attr(tok, "height"))
			}
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) == 0 {
				continue
			}
			switch e := open[len(open)-1]; e.Name.Local {
			case "title":
				p.title += string(tok)
			case "desc":
				p.desc += string(tok)
			case "text":
				p.texts = append(p.texts, boxOf(e, string(tok)))
			}
		}
	}
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// boxOf is the room that a text takes: the capitals' height above the baseline
// and the descenders' below.
func boxOf(e xml.StartElement, s string) textBox {
	class := attr(e, "class")
	w := chart.TextWidth(s, chart.TypeSize, class == "title" || class == "strong" || class == "accent")
	x, y := number(attr(e, "x")), number(attr(e, "y"))
	switch attr(e, "text-anchor") {
	case "middle":
		x -= w / 2
	case "end":
		x -= w
	}
	return textBox{s, x, y - 0.7*chart.TypeSize, x + w, y + 0.2*chart.TypeSize}
}

func TestStandaloneCarriesItsStyle(t *testing.T) {
	svg := charttest.New().Corridor.SVG(chart.Options{Standalone: true})
	checkDrawing(t, "standalone", svg)
	if !strings.Contains(svg, "<style>") || !strings.Contains(svg, "prefers-color-scheme: dark") {
		t.Error("the standalone drawing has no style of its own")
	}
}

func TestNothingToDraw(t *testing.T) {
	nan := math.NaN()
	for name, svg := range map[string]string{
		"corridor":     chart.Corridor{}.SVG(chart.Options{}),
		"spark":        chart.Corridor{}.Spark(chart.Options{}),
		"one start":    chart.Starts{Of: []chart.Start{{Date: charttest.AsOf, LowestKcal: 1800, LeanLostKg: 1, Lands: true}}}.SVG(chart.Options{}),
		"all unknown":  chart.Corridor{Scale: []chart.Point{{Date: charttest.AsOf, Value: nan}}}.SVG(chart.Options{}),
		"composition":  chart.Composition{}.SVG(chart.Options{}),
		"strength":     chart.Strength{Lifts: []chart.Lift{{Name: "Squat"}}}.SVG(chart.Options{}),
		"activity":     chart.Activity{Weeks: []chart.ActivityWeek{{From: charttest.AsOf}}}.SVG(chart.Options{}),
		"recovery":     chart.Recovery{Markers: []chart.Marker{{Name: "Sleep"}}}.SVG(chart.Options{}),
		"muscles":      chart.Muscles{Rows: []chart.MuscleRow{{Name: "chest"}}}.SVG(chart.Options{}),
		"loads":        chart.Loads{Weeks: []chart.LoadWeek{{From: charttest.AsOf, Load: new(0.0)}}}.SVG(chart.Options{}),
		"splits":       chart.Splits{Kinds: []string{"a"}, Weeks: []chart.SplitWeek{{From: charttest.AsOf, Sets: []float64{0}}}}.SVG(chart.Options{}),
		"state":        chart.State{Weeks: []chart.Estimate{{Date: charttest.AsOf, Value: nan}}}.SVG(chart.Options{}),
		"kept":         chart.Kept{Rows: []chart.KeptRow{{Name: "squat", Pct: chart.Estimate{Value: nan}}}}.SVG(chart.Options{}),
		"one way":      chart.Trade{Kcal: 100, Ways: []chart.TradeWay{{Name: "steps", Steps: 4000, Minutes: nan, Base: 100}, {Name: "?", Base: nan}}}.SVG(chart.Options{}),
		"no dates yet": chart.Corridor{Target: &chart.Target{WeightKg: 60, LowKg: 59, HighKg: 61}}.SVG(chart.Options{}),
	} {
		if svg != "" {
			t.Errorf("%s: drew %.80s", name, svg)
		}
	}
}

// A name is data wherever it comes from.
func TestHostileText(t *testing.T) {
	s := charttest.New()
	const hostile = `</text><script>alert("x")</script>&'` + "\x00"
	s.Corridor.Marks[0].Label = hostile
	s.Strength.Lifts[0].Name = hostile
	s.Recovery.Markers[0].Name = hostile
	s.Muscles.Rows[0].Name, s.Kept.Rows[0].Name, s.Splits.Kinds[0] = hostile, hostile, hostile
	s.Trade.Ways[0].Name = hostile
	for _, d := range drawings(s) {
		svg := d.svg(chart.Options{ID: `x"><script>`})
		checkDrawing(t, d.name, svg)
		if strings.Contains(svg, "<script") {
			t.Errorf("%s: markup came through", d.name)
		}
	}
}

// Whatever is missing or odd, a drawing is well-formed, has no NaN, and no text
// lies upon another.
func TestAnyCorridor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ch := anyCorridor(t)
		o := chart.Options{Narrow: rapid.Bool().Draw(t, "narrow")}
		if rapid.Bool().Draw(t, "imperial") {
			o.Notation.Units = athlete.Imperial
		}
		for _, svg := range []string{ch.SVG(o), ch.Spark(o)} {
			if svg != "" {
				checkDrawing(t, "corridor", svg)
			}
		}
	})
}

func anyCorridor(t *rapid.T) chart.Corridor {
	value := rapid.Custom(func(t *rapid.T) float64 {
		if rapid.IntRange(0, 5).Draw(t, "known") == 0 {
			return rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1)}).Draw(t, "unknown")
		}
		return rapid.Float64Range(40, 140).Draw(t, "kg")
	})
	first := charttest.LogFrom
	date := rapid.Custom(func(t *rapid.T) civil.Date { return first.AddDays(rapid.IntRange(0, 400).Draw(t, "day")) })
	point := rapid.Custom(func(t *rapid.T) chart.Point {
		return chart.Point{Date: date.Draw(t, "date"), Value: value.Draw(t, "value")}
	})
	estimate := rapid.Custom(func(t *rapid.T) chart.Estimate {
		return chart.Estimate{Date: date.Draw(t, "date"), Value: value.Draw(t, "value"), Low: value.Draw(t, "low"), High: value.Draw(t, "high")}
	})
	ch := chart.Corridor{
		AsOf:        date.Draw(t, "as of"),
		Scale:       rapid.SliceOfN(point, 0, 6).Draw(t, "scale"),
		Plan:        rapid.SliceOfN(point, 0, 3).Draw(t, "plan"),
		Trend:       rapid.SliceOfN(estimate, 0, 6).Draw(t, "trend"),
		Expenditure: rapid.SliceOfN(estimate, 0, 3).Draw(t, "expenditure"),
		Reported:    rapid.SliceOfN(point, 0, 3).Draw(t, "reported"),
	}
	if rapid.Bool().Draw(t, "show") {
		ch.Show = chart.Mark{Date: date.Draw(t, "show"), Label: "show"}
	}
	if rapid.Bool().Draw(t, "target") {
		ch.Target = &chart.Target{WeightKg: value.Draw(t, "t"), LowKg: value.Draw(t, "t low"), HighKg: value.Draw(t, "t high")}
	}
	if rapid.Bool().Draw(t, "limit") {
		ch.ClassLimitKg = new(value.Draw(t, "class limit"))
	}
	for _, e := range rapid.SliceOfN(estimate, 0, 4).Draw(t, "edges") {
		ch.Edges = append(ch.Edges, chart.Edge{Date: e.Date, LowerKg: e.Low, UpperKg: e.High})
	}
	for _, e := range rapid.SliceOfN(estimate, 0, 3).Draw(t, "fan") {
		ch.Forecast = append(ch.Forecast, chart.FanPoint{Date: e.Date, Median: e.Value, Low: [3]float64{e.Low, e.Low, e.Low}, High: [3]float64{e.High, e.High, e.High}})
	}
	for i := range rapid.IntRange(0, 8).Draw(t, "marks") {
		ch.Marks = append(ch.Marks, chart.Mark{Date: date.Draw(t, "mark"), Label: fmt.Sprint("change ", i)})
	}
	ch.Notes = chart.Notes{Coach: rapid.SliceOfN(date, 0, 6).Draw(t, "coach's notes"), Athlete: rapid.SliceOfN(date, 0, 40).Draw(t, "athlete's notes")}
	for _, k := range []athlete.PhaseKind{athlete.OffSeason, athlete.Prep, athlete.PeakWeek, athlete.Recovery} {
		from := first
		if n := len(ch.Phases); n > 0 {
			from = ch.Phases[n-1].To + 1
		}
		ch.Phases = append(ch.Phases, athlete.Phase{Kind: k, From: from, To: from.AddDays(rapid.IntRange(0, 90).Draw(t, "phase days"))})
	}
	return ch
}
