// Package chart draws the pictures of a season as SVG: the corridor, the starts of
// a prep compared, body composition, strength retention, activity and recovery.
//
// Each chart is a plain struct of dated numbers. Its SVG method writes one
// element that scales by its viewBox, names itself to screen readers with a
// title and a description made from the figures, and takes every colour from
// the custom properties in Style, so that the same drawing serves light, dark
// and paper. Nothing is told by colour alone: each series has its own dash,
// marker or hatching.
//
// A value that is not finite is "not known" and leaves a gap. Weights come in
// kilograms and are drawn in the unit of the Notation. The same input gives the
// same bytes.
package chart

import (
	"math"

	"glidepath/civil"
)

// Point is a value on a day.
type Point struct {
	Date  civil.Date
	Value float64
}

// Estimate is a value on a day with its 90 % interval.
type Estimate struct {
	Date             civil.Date
	Value, Low, High float64
}

// FanPoint is the forecast for a day: the median and three central intervals
// that hold 50, 80 and 90 % of the futures, the narrowest first.
type FanPoint struct {
	Date      civil.Date
	Median    float64
	Low, High [3]float64
}

// Mark is something that happened on a day.
type Mark struct {
	Date  civil.Date
	Label string
}

// Options say how a chart is to be drawn; the zero value is the wide drawing for
// use within a page that has Style.
type Options struct {
	// ID goes before every id in the drawing, and must be unique in the page.
	ID string
	// Narrow draws for a phone held upright: taller, with the keys above.
	Narrow bool
	// Standalone adds the styles, for an SVG that is a file of its own.
	Standalone bool
	Notation   Notation
}

// nan is a value that is not known.
var nan = math.NaN()

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func (e Estimate) known() bool  { return finite(e.Value) }
func (e Estimate) banded() bool { return finite(e.Low) && finite(e.High) }

// scaled multiplies an estimate, for a change of unit.
func (e Estimate) scaled(k float64) Estimate {
	return Estimate{e.Date, e.Value * k, e.Low * k, e.High * k}
}

func scaledPoints(ps []Point, k float64) []Point {
	out := make([]Point, len(ps))
	for i, p := range ps {
		out[i] = Point{p.Date, p.Value * k}
	}
	return out
}

func scaledEstimates(es []Estimate, k float64) []Estimate {
	out := make([]Estimate, len(es))
	for i, e := range es {
		out[i] = e.scaled(k)
	}
	return out
}

// middles drops the intervals.
func middles(es []Estimate) []Point {
	out := make([]Point, len(es))
	for i, e := range es {
		out[i] = Point{e.Date, e.Value}
	}
	return out
}

// lastKnown is the latest estimate with a value; ok is false where none has.
func lastKnown(es []Estimate) (e Estimate, ok bool) {
	for i := len(es) - 1; i >= 0; i-- {
		if es[i].known() {
			return es[i], true
		}
	}
	return Estimate{}, false
}
