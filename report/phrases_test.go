package report

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"glidepath/numeric"
	"glidepath/season"
)

// plain turns the spaces that hold a number and its unit together into others.
func plain(s string) string { return strings.ReplaceAll(s, nbsp, " ") }

func TestRateWords(t *testing.T) {
	for _, c := range []struct {
		value, low, high float64 // loss is positive
		want             string
	}{
		{0.5, 0.3, 0.7, "losing 0.50 % of body weight a week (0.30 to 0.70)"},
		{-0.2, -0.35, -0.05, "gaining 0.20 % of body weight a week (0.05 to 0.35)"},
		{0.1, -0.2, 0.4, "steady as far as can be told, at −0.10 % of body weight a week (−0.40 to 0.20)"},
	} {
		if got := plain(rateWords(numeric.Interval{Value: c.value, Low90: c.low, High90: c.high})); got != c.want {
			t.Errorf("%v: %q, want %q", c.value, got, c.want)
		}
	}
}

func TestSlackWords(t *testing.T) {
	for _, c := range []struct {
		span season.Span
		want string
	}{
		{season.Span{Value: 3, Low: 1, High: 5}, "3.0 weeks of slack (1.0 to 5.0)"},
		{season.Span{Value: 1, Low: -1, High: 3}, "1.0 weeks of slack, which may be none (−1.0 to 3.0)"},
		{season.Span{Value: -1, Low: -3, High: 1}, "1.0 weeks short of the time that the limits need (from 3.0 short to 1.0 to spare)"},
		{season.Span{Value: -4, Low: -6, High: -2}, "4.0 weeks short of the time that the limits need (2.0 to 6.0)"},
	} {
		if got := plain(slackWords(c.span)); got != c.want {
			t.Errorf("%v: %q, want %q", c.span, got, c.want)
		}
	}
}

func TestLengths(t *testing.T) {
	for days, want := range map[int]string{1: "1 day", 6: "6 days", 7: "1 week", 13: "13 days", 14: "2 weeks", 74: "10.6 weeks"} {
		if got := plain(weeks(days)); got != want {
			t.Errorf("%d days: %q, want %q", days, got, want)
		}
	}
}

func TestSentence(t *testing.T) {
	for in, want := range map[string]string{
		"losing -0.1 % (-0.2 to 0.1)":    "Losing −0.1\u00a0% (−0.2 to 0.1).",
		"7-site calipers, on 2026-03-02": "7-site calipers, on 2026-03-02.",
		"Is it so? ":                     "Is it so?",
		"":                               "",
	} {
		if got := sentence(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

func TestGrouped(t *testing.T) {
	got := grouped([]string{"squat: too few.", "No lift tells.", "bench press: too few.", "row: too heavy."})
	want := []string{"Squat and bench press: too few.", "No lift tells.", "Row: too heavy."}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
