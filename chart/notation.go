package chart

import (
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/phrase"
)

// nbsp keeps a number and its unit on one line.
const nbsp = "\u00a0"

// Notation is how a reader writes weights and dates. The zero value is metric
// with day before month; imperial puts the month first.
type Notation struct {
	Units athlete.Units
	// DateLayout overrides the long form of a date, as in time.Format.
	DateLayout string
}

func (n Notation) imperial() bool { return n.Units == athlete.Imperial }

// WeightUnit is kg or lb.
func (n Notation) WeightUnit() string {
	if n.imperial() {
		return "lb"
	}
	return "kg"
}

// FromKg turns kilograms into the reader's unit of weight.
func (n Notation) FromKg(kg float64) float64 { return kg * n.perKg() }

func (n Notation) perKg() float64 {
	if n.imperial() {
		return 1 / athlete.KgPerPound
	}
	return 1
}

// Weight writes a weight with its unit, to a tenth.
func (n Notation) Weight(kg float64) string {
	return Number(n.FromKg(kg), 1) + nbsp + n.WeightUnit()
}

// Date writes a date in full; the zero date is empty.
func (n Notation) Date(d civil.Date) string {
	switch {
	case d.IsZero():
		return ""
	case n.DateLayout != "":
		return d.Format(n.DateLayout)
	case n.imperial():
		return d.Format("Jan 2, 2006")
	}
	return d.Format("2 Jan 2006")
}

// ShortDate writes the day and month.
func (n Notation) ShortDate(d civil.Date) string {
	switch {
	case d.IsZero():
		return ""
	case n.imperial():
		return d.Format("Jan 2")
	}
	return d.Format("2 Jan")
}

// Interval writes a number with its interval: "2,610 (2,480 to 2,740)". Without
// an interval it is the number alone, and without a number "not known".
func Interval(value, low, high float64, decimals int) string {
	if !finite(value) {
		return "not known"
	}
	s := Number(value, decimals)
	if finite(low) && finite(high) {
		s += " (" + Number(low, decimals) + " to " + Number(high, decimals) + ")"
	}
	return s
}

// Number is phrase.Number.
func Number(v float64, decimals int) string { return phrase.Number(v, decimals) }
