package athlete

import (
	"errors"
	"fmt"
	"strings"
	"time"
)

func (c *checks) err() error { return errors.Join(c.faults...) }

// String is the English name in lower case.
func (w Weekday) String() string { return strings.ToLower(time.Weekday(w).String()) }

// MarshalText implements encoding.TextMarshaler.
func (w Weekday) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// UnmarshalText reads an English name or its first three letters, any case.
func (w *Weekday) UnmarshalText(b []byte) error {
	s := strings.ToLower(string(b))
	for d := time.Sunday; d <= time.Saturday; d++ {
		name := strings.ToLower(d.String())
		if s == name || s == name[:3] {
			*w = Weekday(d)
			return nil
		}
	}
	return fmt.Errorf("%q is not a day of the week", b)
}
