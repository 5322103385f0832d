// Package civil has the calendar date without a clock or a time zone.
package civil

import (
	"fmt"
	"time"
)

// Date is a day of the proleptic Gregorian calendar, counted from 0001-01-01
// plus one, so that the zero value is no date at all. Dates compare with < and
// subtract to whole days.
type Date int32

var origin = time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC).Unix()

const secondsPerDay = 86400

// Of gives the date of a year, month and day; out-of-range days roll over as
// in time.Date.
func Of(year int, month time.Month, day int) Date {
	return FromTime(time.Date(year, month, day, 0, 0, 0, 0, time.UTC))
}

// FromTime gives the date that t shows in its own location.
func FromTime(t time.Time) Date {
	y, m, d := t.Date()
	s := time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() - origin
	return Date(s/secondsPerDay) + 1
}

// Parse reads an ISO 8601 calendar date, YYYY-MM-DD.
func Parse(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date of the form YYYY-MM-DD", s)
	}
	return FromTime(t), nil
}

// MustParse is Parse for constants; it panics on a malformed date.
func MustParse(s string) Date {
	d, err := Parse(s)
	if err != nil {
		panic(err)
	}
	return d
}

// Time is midnight UTC at the start of the day.
func (d Date) Time() time.Time {
	return time.Unix(int64(d-1)*secondsPerDay+origin, 0).UTC()
}

// IsZero reports whether d is unset.
func (d Date) IsZero() bool { return d == 0 }

// String is the ISO 8601 form, or the empty string for the zero Date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format(time.DateOnly)
}

// Format formats as time.Time.Format does.
func (d Date) Format(layout string) string { return d.Time().Format(layout) }

// AddDays moves by n days, either way.
func (d Date) AddDays(n int) Date { return d + Date(n) }

// DaysSince is the number of days from e to d.
func (d Date) DaysSince(e Date) int { return int(d - e) }

// Weekday is the day of the week.
func (d Date) Weekday() time.Weekday {
	// 0001-01-01, day 1, was a Monday.
	return time.Weekday(((int(d) % 7) + 7) % 7)
}

// Monday is the Monday of the date's week, as ISO 8601 counts weeks.
func (d Date) Monday() Date { return d.AddDays(-((int(d.Weekday()) + 6) % 7)) }

// YearsUntil is the age in whole years on day e of somebody born on d.
func (d Date) YearsUntil(e Date) int {
	b, t := d.Time(), e.Time()
	years := t.Year() - b.Year()
	if t.Month() < b.Month() || t.Month() == b.Month() && t.Day() < b.Day() {
		years--
	}
	return years
}

// MarshalText implements encoding.TextMarshaler.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler; empty text is the zero Date.
func (d *Date) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = 0
		return nil
	}
	v, err := Parse(string(b))
	if err != nil {
		return err
	}
	*d = v
	return nil
}
