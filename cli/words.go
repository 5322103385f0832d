package cli

import (
	"fmt"
	"math"
	"strings"

	"glidepath/report"

	"glidepath/chart"
	"glidepath/civil"
	"glidepath/numeric"
	"glidepath/season"
)

// longDate is a date with its day of the week.
func longDate(d civil.Date) string {
	if d.IsZero() {
		return "never"
	}
	return strings.ReplaceAll(d.Format("Monday 2 January 2006"), " ", nbsp)
}

// date is a date as it stands in a sentence or a table.
func date(d civil.Date) string {
	if d.IsZero() {
		return ""
	}
	return strings.ReplaceAll(d.Format("2 Jan 2006"), " ", nbsp)
}

// between writes a value, its unit and its range: "2,610 kcal a day (2,480 to 2,740)".
func between(value, low, high float64, decimals int, unit string) string {
	s := strings.ReplaceAll(strings.TrimSpace(chart.Number(value, decimals)+" "+unit), " ", nbsp)
	if math.IsNaN(low) || math.IsNaN(high) || low == high {
		return s
	}
	return s + " (" + chart.Number(low, decimals) + nbsp + "to" + nbsp + chart.Number(high, decimals) + ")"
}

// est is an estimate with its 90 % interval.
func est(v numeric.Interval, decimals int, unit string) string {
	return between(v.Value, v.Low90, v.High90, decimals, unit)
}

func span(v season.Span, unit string) string {
	return between(v.Value, v.Low, v.High, 1, unit)
}

// rate says a rate of loss in words, with its 90 % interval; positive is loss.
func rate(v numeric.Interval) string {
	word, sign := "losing", 1.0
	if v.Value < 0 {
		word, sign = "gaining", -1
	}
	low, high := v.Low90*sign, v.High90*sign
	if sign < 0 {
		low, high = high, low
	}
	if low < 0 {
		other := map[string]string{"losing": "gaining", "gaining": "losing"}[word]
		return fmt.Sprintf("%s%s%.2f%s%%%sa week (from %s %.2f to %s %.2f)", word, nbsp, v.Value*sign, nbsp, nbsp, other, -low, word, high)
	}
	return fmt.Sprintf("%s%s%s", word, nbsp, between(v.Value*sign, low, high, 2, "% a week"))
}

// percent writes a probability in whole per cent, and never as certainty.
func percent(p float64) string {
	switch {
	case p < 0.01:
		return "under" + nbsp + "1" + nbsp + "%"
	case p > 0.99:
		return "over" + nbsp + "99" + nbsp + "%"
	}
	return chart.Number(100*p, 0) + nbsp + "%"
}

// chance is a probability in words and as a number.
func chance(p float64) string { return report.Likelihood(p) + " (" + percent(p) + ")" }

// weeks writes a length of time.
func weeks(n float64) string { return chart.Number(n, 1) + nbsp + "weeks" }

// count writes a whole number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1" + nbsp + one
	}
	return chart.Number(float64(n), 0) + nbsp + many
}

func whole(v float64) string { return chart.Number(v, 0) }

func optional(v *float64, decimals int) string {
	if v == nil {
		return "–"
	}
	return chart.Number(*v, decimals)
}

func join(list []string) string {
	switch n := len(list); n {
	case 0:
		return ""
	case 1:
		return list[0]
	default:
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
}
