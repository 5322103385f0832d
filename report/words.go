package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/phrase"
)

const nbsp = "\u00a0"

// unknown stands in a table where there is no number.
const unknown = "–"

// Likelihood says a probability in the calibrated words of Mastrandrea et al.
// 2010, Guidance Note on Consistent Treatment of Uncertainties (IPCC), table 1.
func Likelihood(p float64) string {
	switch {
	case math.IsNaN(p):
		return "not known"
	case p > 0.99:
		return "virtually certain"
	case p >= 0.90:
		return "very likely"
	case p >= 0.66:
		return "likely"
	case p >= 0.33:
		return "about as likely as not"
	case p >= 0.10:
		return "unlikely"
	case p >= 0.01:
		return "very unlikely"
	}
	return "exceptionally unlikely"
}

// percent writes a probability in whole per cent, and never as certainty.
func percent(p float64) string {
	switch {
	case math.IsNaN(p):
		return unknown
	case p < 0.01:
		return "under 1" + nbsp + "%"
	case p > 0.99:
		return "over 99" + nbsp + "%"
	}
	return chart.Number(100*p, 0) + nbsp + "%"
}

// shown is an estimate as written: "2,610 kcal a day" and "(2,480 to 2,740)".
type shown struct{ Value, Range string }

// estimate writes a value with its unit and its interval.
func estimate(e *Estimate, decimals int, unit string) shown {
	if e == nil || !isFinite(e.Value) {
		return shown{Value: unknown}
	}
	s := shown{Value: chart.Number(e.Value, decimals)}
	if unit != "" {
		s.Value += nbsp + unit
	}
	if e.banded() {
		s.Range = "(" + chart.Number(e.Low, decimals) + " to " + chart.Number(e.High, decimals) + ")"
	}
	return s
}

func (e *Estimate) banded() bool {
	return isFinite(e.Low) && isFinite(e.High) && (e.Low != 0 || e.High != 0)
}

func (e *Estimate) times(k float64) *Estimate {
	if e == nil {
		return nil
	}
	return &Estimate{e.Value * k, e.Low * k, e.High * k}
}

// optional writes a number that may be missing.
func optional(v *float64, decimals int) string {
	if v == nil {
		return unknown
	}
	return chart.Number(*v, decimals)
}

// Methods of view that the template calls. A method of a cell writes the number
// alone, because the heading has the unit.

func (v *view) Date(d civil.Date) string      { return v.Notation.Date(d) }
func (v *view) ShortDate(d civil.Date) string { return v.Notation.ShortDate(d) }
func (v *view) WeightUnit() string            { return v.Notation.WeightUnit() }

func (v *view) Weight(e *Estimate) shown {
	return estimate(e.times(v.Notation.FromKg(1)), 1, v.WeightUnit())
}

func (v *view) WeightCell(e *Estimate) shown {
	return estimate(e.times(v.Notation.FromKg(1)), 1, "")
}

func (v *view) Kcal(e *Estimate) shown     { return estimate(e, 0, "kcal a day") }
func (v *view) KcalCell(e *Estimate) shown { return estimate(e, 0, "") }
func (v *view) Pct(e *Estimate) shown      { return estimate(e, 1, "%") }
func (v *view) PctWhole(e *Estimate) shown { return estimate(e, 0, "%") }
func (v *view) PctCell(e *Estimate) shown  { return estimate(e, 0, "") }
func (v *view) Rate(e *Estimate) shown     { return estimate(e, 2, "% a week") }
func (v *view) Weeks(e *Estimate) shown    { return estimate(e, 1, "weeks") }
func (v *view) WeeksCell(e *Estimate) shown {
	return estimate(e, 1, "")
}

// Tenth writes a number that may be missing to a tenth.
func (v *view) Tenth(n *float64) string { return optional(n, 1) }

// Heavy writes a weight of many repetitions, kg, in the reader's unit.
func (v *view) Heavy(kg float64) string { return chart.Number(v.Notation.FromKg(kg), 0) }

// Total is a muscle's hard sets as they count.
func (v *view) Total(r chart.MuscleRow) string { return chart.Number(r.Direct+r.Indirect, 1) }

func (v *view) Whole(n float64) string      { return chart.Number(n, 0) }
func (v *view) Cell(n *float64) string      { return optional(n, 0) }
func (v *view) OneDecimal(n float64) string { return chart.Number(n, 1) }

func (v *view) ChanceCell(p *float64) string {
	if p == nil {
		return unknown
	}
	return percent(*p)
}

// AnyOnTarget reports whether any way to the stage has a probability.
func (v *view) AnyOnTarget() bool {
	return slices.ContainsFunc(v.Appraisal.Alternatives, func(a Alternative) bool { return a.OnTarget != nil })
}

// Likelihood says a probability in words.
func (v *view) Likelihood(c Chance) string { return Likelihood(c.P) }

// Percent says a probability as a number.
func (v *view) Percent(c Chance) shown {
	s := shown{Value: percent(c.P)}
	if c.Low != nil && c.High != nil {
		s.Range = fmt.Sprintf("(%s to %s)", chart.Number(100**c.Low, 0), chart.Number(100**c.High, 0))
	}
	return s
}

// DecisionSentence says what the coach did with the proposal.
func (v *view) DecisionSentence(d Decision) string {
	if d.State == "" {
		return "It waits for the coach’s decision."
	}
	s := phrase.Capital(d.State)
	if d.Who != "" {
		s += " by " + d.Who
	}
	if !d.On.IsZero() {
		s += " on " + v.Date(d.On)
	}
	if d.Reason != "" {
		s += ": " + strings.TrimSuffix(d.Reason, ".")
	}
	return s + "."
}

// Countdown says how far off the show is.
func (v *view) Countdown() string {
	if v.Show == nil || v.Show.Date.IsZero() || v.AsOf.IsZero() {
		return ""
	}
	switch n := v.Show.Date.DaysSince(v.AsOf); {
	case n < 0:
		return fmt.Sprintf("%.1f weeks ago", float64(-n)/7)
	case n == 0:
		return "today"
	case n == 1:
		return "in 1 day"
	case n < 14:
		return fmt.Sprintf("in %d days", n)
	default:
		return fmt.Sprintf("in %.1f weeks", float64(n)/7)
	}
}

// CardioText lists a prescription's cardio.
func (v *view) CardioText(plans []athlete.CardioPlan) string {
	if len(plans) == 0 {
		return "none asked"
	}
	parts := make([]string, len(plans))
	for i, p := range plans {
		parts[i] = fmt.Sprintf("%s, %s%smin a week", p.Kind, chart.Number(p.MinutesPerWeek, 0), nbsp)
		if p.Sessions > 0 {
			parts[i] += fmt.Sprintf(" in %d sessions", p.Sessions)
		}
		parts[i] += p.Told(v.Notation.Units)
	}
	return strings.Join(parts, "; ")
}

// SetsText lists weekly hard sets per muscle.
func (v *view) SetsText(sets []athlete.MuscleSets) string {
	parts := make([]string, len(sets))
	for i, s := range sets {
		parts[i] = fmt.Sprintf("%s %s", s.Muscle, chart.Number(s.Sets, 0))
	}
	return strings.Join(parts, ", ")
}

// MeasuredCell writes a measurement of body fat.
func (v *view) MeasuredCell(m chart.Measured) shown {
	return estimate(&Estimate{m.Value, m.Low, m.High}, 1, "")
}

// Length says how long a stretch of days is, both ends included.
func (v *view) Length(from, to civil.Date) string {
	switch n := to.DaysSince(from) + 1; {
	case n == 1:
		return "1" + nbsp + "day"
	case n < 7:
		return fmt.Sprintf("%d%sdays", n, nbsp)
	case n == 7:
		return "1" + nbsp + "week"
	default:
		return weekNumber(float64(n) / 7)
	}
}
