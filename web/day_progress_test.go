package web

import (
	"strings"
	"testing"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/numeric"
	"glidepath/training"
)

// Strength is told with its interval; one that is surely less is no failing, and one
// that may be all of it is not called a loss.
func TestStrengthIsToldKindly(t *testing.T) {
	a := &athlete.Athlete{}
	if got := strengthWords(a, &app.Progress{}); got != "" {
		t.Errorf("of nothing it says %q", got)
	}
	for _, c := range []struct {
		low, high float64
		says      string
	}{{91, 97, "is no failing"}, {96, 102, "may well be all of it"}, {101, 107, "It has grown"}} {
		mid := (c.low + c.high) / 2
		p := &app.Progress{Strength: training.StrengthReport{
			BaselineFrom: civil.Of(2025, 10, 1), BaselineTo: civil.Of(2025, 11, 28),
			Overall: &training.Retention{Pct: numeric.Interval{Value: mid, Low90: c.low, High90: c.high}},
		}}
		got := strengthWords(a, p)
		if !strings.Contains(got, c.says) || !strings.Contains(got, "from 1 Oct to 28 Nov") || !strings.Contains(got, " to ") {
			t.Errorf("%v to %v: %q", c.low, c.high, got)
		}
		if strings.Count(got, "no failing")+strings.Count(got, "all of it")+strings.Count(got, "grown") != 1 {
			t.Errorf("%v to %v says two things: %q", c.low, c.high, got)
		}
	}
}
