package chart_test

import (
	"math"
	"slices"
	"testing"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"

	"pgregory.net/rapid"
)

// No two boxes overlap, the order is kept, and boxes that had room stay put.
func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "n")
		want, size := make([]float64, n), make([]float64, n)
		total := 0.0
		for i := range want {
			want[i] = rapid.Float64Range(-50, 250).Draw(t, "want")
			size[i] = rapid.Float64Range(5, 30).Draw(t, "size")
			total += size[i]
		}
		high := math.Max(200, total)
		got := chart.Spread(want, size, 0, high)
		for i := range got {
			if got[i]-size[i]/2 < -1e-9 || got[i]+size[i]/2 > high+1e-9 {
				t.Fatalf("box %d at %v of size %v is outside 0 to %v", i, got[i], size[i], high)
			}
			for j := range got {
				if want[i] < want[j] && got[i]+size[i]/2 > got[j]-size[j]/2+1e-9 {
					t.Fatalf("boxes %d and %d overlap or changed places: %v of %v, want %v", i, j, got, size, want)
				}
			}
		}
	})
	got := chart.Spread([]float64{100, 20, 60}, []float64{10, 10, 10}, 0, 200)
	if !slices.Equal(got, []float64{100, 20, 60}) {
		t.Errorf("boxes with room of their own moved to %v", got)
	}
	// Two boxes of 10 that want one place: least squares puts them 5 either side.
	if got := chart.Spread([]float64{50, 50}, []float64{10, 10}, 0, 200); !slices.Equal(got, []float64{45, 55}) {
		t.Errorf("two boxes at 50 went to %v", got)
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		most      int
		want      []float64
		decimals  int
	}{
		{57.1, 72.4, 9, []float64{58, 60, 62, 64, 66, 68, 70, 72}, 0},
		{-0.3, 0.3, 6, []float64{-0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3}, 1},
		{1800, 2700, 5, []float64{1800, 2000, 2200, 2400, 2600}, 0},
		{0, 10600, 4, []float64{0, 5000, 10000}, 0},
	} {
		got, decimals := chart.Ticks(c.low, c.high, c.most)
		near := func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
		if !slices.EqualFunc(got, c.want, near) || decimals != c.decimals {
			t.Errorf("ticks of %v to %v: %v with %d decimals, want %v with %d", c.low, c.high, got, decimals, c.want, c.decimals)
		}
	}
}

func TestNumbersAsWritten(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{2610, 0, "2,610"},
		{1234567.25, 1, "1,234,567.2"},
		{-0.04, 1, "0.0"},
		{-12.5, 1, "\u221212.5"},
		{999.96, 1, "1,000.0"},
		{math.NaN(), 0, "–"},
		{math.Inf(-1), 2, "–"},
	} {
		if got := chart.Number(c.v, c.decimals); got != c.want {
			t.Errorf("Number(%v, %d) = %q, want %q", c.v, c.decimals, got, c.want)
		}
	}
	if got := chart.Interval(2610, 2480, 2740, 0); got != "2,610 (2,480 to 2,740)" {
		t.Errorf("interval: %q", got)
	}
	if got := chart.Interval(math.NaN(), 1, 2, 0); got != "not known" {
		t.Errorf("unknown: %q", got)
	}
	imperial := chart.Notation{Units: athlete.Imperial}
	day := civil.MustParse("2026-08-29")
	// 1 lb = 0.45359237 kg (International Yard and Pound Agreement, 1959).
	for got, want := range map[string]string{
		imperial.Weight(45.359237):                         "100.0\u00a0lb",
		chart.Notation{}.Weight(58.24):                     "58.2\u00a0kg",
		imperial.Date(day):                                 "Aug 29, 2026",
		chart.Notation{}.Date(day):                         "29 Aug 2026",
		chart.Notation{}.Date(0):                           "",
		chart.Notation{DateLayout: "2006-01-02"}.Date(day): "2026-08-29",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestWeekMeans(t *testing.T) {
	d := civil.MustParse("2026-05-04")
	nan := math.NaN()
	got := chart.WeekMeans([]chart.Point{{d, 6}, {d + 1, nan}, {d + 2, 8}, {d + 3, 7}, {d + 9, 5}})
	want := []float64{nan, nan, nan, 7, nan}
	for i := range want {
		if got[i].Value != want[i] && !(math.IsNaN(got[i].Value) && math.IsNaN(want[i])) {
			t.Errorf("day %d: %v, want %v", i, got[i].Value, want[i])
		}
	}
}
