package sheet

import (
	"fmt"
	"testing"
	"time"

	"glidepath/civil"

	"pgregory.net/rapid"
)

// Every form of one day. The first rows are ISO 8601-1:2019 calendar dates (5.2.2)
// and date and time (5.4); serials are ECMA-376 part 1, 18.17.4.1, their values
// recomputed below.
func TestDates(t *testing.T) {
	for _, c := range []struct{ in, order string }{
		{"2025-03-04", ""},
		{"20250304", ""},
		{"2025-03-04T07:30:00Z", ""},
		{"2025-03-04T07:30:00+01:00", ""},
		{"2025-03-04 07:30", ""},
		{"2025/03/04", ""},
		{"2025.3.4", ""},
		{" 2025-3-4 ", ""},
		{"4/3/2025", DayMonthYear},
		{"04.03.2025", DayMonthYear},
		{"04-03-25", DayMonthYear},
		{"4.3.25", DayMonthYear},
		{"04/03/2025 7:30 am", DayMonthYear},
		{"3/4/2025", MonthDayYear},
		{"03-04-25", MonthDayYear},
		{"3/4/2025, 7:30:15 PM", MonthDayYear},
		{"25/03/04", YearMonthDay},
		{"4 Mar 2025", ""},
		{"Mar 4, 2025", ""},
		{"March 4th, 2025", ""},
		{"4-Mar-25", ""},
		{"Tue 4 March 2025", ""},
		{"Tuesday, March 4, 2025", ""},
		{"2025 March 4", ""},
		{"4. März 2025", ""},
		{"Di, 4. Mrz. 2025", ""},
		{"mardi 4 mars 2025", ""},
		{"mar. 4 mars 2025", ""},
		{"4 de marzo de 2025", ""},
		{"4 marzo 2025", ""},
		{"4 maart 2025", ""},
		{"4 março 2025", ""},
		{"4 mars 2025", ""},
		{"45720", ""},
		{"45720.3125", ""},
	} {
		d := dates{order: c.order}
		if got, bad := d.resolve(c.in); bad != nil || got.String() != "2025-03-04" {
			t.Errorf("%q (%s) = %v, %v; want 2025-03-04", c.in, c.order, got, bad)
		}
	}
}

func TestDatesRefused(t *testing.T) {
	for _, s := range []string{
		"", "Total", "Week 3", "30/02/2025", "2025-02-29", "31/04/2025", "0/1/2025", "1/13/2025", "2025-13-01", "1850-01-01", "3025-01-01", "12345", "100000",
		"4/3/202", "4/3", "2025-W10-2", "2025-063", "March 2025", "4//", "4 Mar Apr 2025", "99999999999999999999", "4\x003\x002025", "-45720", "4 März Juni 2025",
	} {
		d := dates{order: DayMonthYear}
		if got, bad := d.resolve(s); bad == nil {
			t.Errorf("%q = %v, want a refusal", s, got)
		}
	}
	d := dates{}
	if got, bad := d.resolve("4/3/2025"); bad == nil {
		t.Errorf("a date of unknown order was read as %v", got)
	}
}

// In ECMA-376's 1904 system day 0 is 1 January 1904, in its 1900 system day 61 is
// 1 March 1900; days between are counted by the standard library here.
func TestSerialDates(t *testing.T) {
	days := func(from, to time.Time) int { return int(to.Sub(from).Hours() / 24) }
	on := time.Date(2025, 3, 4, 0, 0, 0, 0, time.UTC)
	n1900 := 61 + days(time.Date(1900, 3, 1, 0, 0, 0, 0, time.UTC), on)
	n1904 := days(time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC), on)
	for _, c := range []struct {
		serial int
		d      dates
		want   string
	}{
		{n1900, dates{}, "2025-03-04"}, {n1904, dates{date1904: true}, "2025-03-04"}, {n1900, dates{swapped: true}, "2025-04-03"},
	} {
		if got, bad := c.d.resolve(fmt.Sprint(c.serial)); bad != nil || got.String() != c.want {
			t.Errorf("serial %d = %v, %v; want %s", c.serial, got, bad, c.want)
		}
	}
}

func TestDatesWithoutYear(t *testing.T) {
	d := dates{order: DayMonthYear, year: 2024}
	for _, c := range []struct{ in, want string }{
		{"30/12", "2024-12-30"}, {"31 Dec", "2024-12-31"}, {"1/1", "2025-01-01"}, {"2/1", "2025-01-02"}, {"31/12", "2024-12-31"},
	} {
		if got, bad := d.resolve(c.in); bad != nil || got.String() != c.want {
			t.Errorf("%q = %v, %v; want %s", c.in, got, bad, c.want)
		}
	}
	if got, bad := (&dates{order: DayMonthYear}).resolve("1/1"); bad == nil {
		t.Errorf("a date without a year was read as %v", got)
	}
}

// Two-digit years are those of POSIX strptime %y: 69 to 99 are 1969 to 1999.
func TestTwoDigitYears(t *testing.T) {
	for short, want := range map[int]int{0: 2000, 68: 2068, 69: 1969, 99: 1999} {
		if got := fullYear(short, true); got != want {
			t.Errorf("year %d = %d, want %d", short, got, want)
		}
	}
}

// The standard library's layouts are the outside reference.
func TestDatesAgreeWithTime(t *testing.T) {
	layouts := []struct{ layout, order string }{
		{"2006-01-02", ""},
		{"2/1/2006", DayMonthYear},
		{"02.01.06", DayMonthYear},
		{"1/2/2006", MonthDayYear},
		{"Jan 2, 2006", ""},
		{"Monday, 2 January 2006", ""},
		{"20060102", ""},
		{time.RFC3339, ""},
		{"06-01-02", YearMonthDay},
		{"2-Jan-06", ""},
	}
	rapid.Check(t, func(t *rapid.T) {
		on := civil.Of(1970, 1, 1).AddDays(rapid.IntRange(0, 36000).Draw(t, "day"))
		l := rapid.SampledFrom(layouts).Draw(t, "layout")
		d := dates{order: l.order}
		if got, bad := d.resolve(on.Format(l.layout)); bad != nil || got != on {
			t.Fatalf("%q = %v, %v; want %v", on.Format(l.layout), got, bad, on)
		}
	})
}

func FuzzDate(f *testing.F) {
	for _, s := range []string{"2025-03-04", "4/3/25", "Mar 4th, 2025 7:30", "45720.5", "4. März", "mar. 4 mars", ":", "T:"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, order := range []string{"", DayMonthYear, MonthDayYear, YearMonthDay} {
			d := dates{order: order, year: 2025}
			on, bad := d.resolve(s)
			if y := on.Time().Year(); bad == nil && (y < 1950 || y > 2119) {
				t.Fatalf("%q (%s) = %v", s, order, on)
			}
		}
	})
}
