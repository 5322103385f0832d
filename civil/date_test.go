package civil

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// The standard library's calendar is the outside reference here.
func TestDateAgreesWithTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 3_000_000).Draw(t, "days since 0001-01-01")
		want := time.Date(1, 1, n, 0, 0, 0, 0, time.UTC)
		d := FromTime(want)
		if int(d) != n {
			t.Fatalf("FromTime = %d, want %d", d, n)
		}
		if !d.Time().Equal(want) || d.Weekday() != want.Weekday() {
			t.Fatalf("day %d: %v %v, want %v %v", n, d.Time(), d.Weekday(), want, want.Weekday())
		}
		if want.Year() < 10000 {
			back, err := Parse(d.String())
			if err != nil || back != d {
				t.Fatalf("round trip of %v gave %v, %v", d, back, err)
			}
		}
	})
}

func TestYearsUntil(t *testing.T) {
	born := Of(2008, time.February, 29)
	for _, c := range []struct {
		on   Date
		want int
	}{
		{Of(2026, time.February, 28), 17},
		{Of(2026, time.March, 1), 18},
		{Of(2008, time.February, 29), 0},
	} {
		if got := born.YearsUntil(c.on); got != c.want {
			t.Errorf("age on %v = %d, want %d", c.on, got, c.want)
		}
	}
}

func TestTextOfNoDate(t *testing.T) {
	var d Date
	b, _ := d.MarshalText()
	if string(b) != "" || !d.IsZero() {
		t.Fatalf("zero Date marshals to %q", b)
	}
	if err := d.UnmarshalText([]byte("2026-02-30")); err == nil {
		t.Fatal("30 February was taken as a date")
	}
}
