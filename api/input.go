package api

import (
	"cmp"
	"errors"
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"glidepath/civil"
	"glidepath/fault"
)

// OfAthlete is the athlete in a path.
type OfAthlete struct {
	Athlete string `path:"athlete" maxLength:"40" doc:"The athlete's id"`
}

// OnDate is the date that an answer is reckoned for.
type OnDate struct {
	AsOf string `query:"as_of" maxLength:"10" doc:"The date to reckon for, from what was known by then, YYYY-MM-DD; default today" example:"2026-03-02"`
}

// InSpan is a stretch of dates.
type InSpan struct {
	From string `query:"from" maxLength:"10" doc:"The first date, YYYY-MM-DD; default the first there is"`
	To   string `query:"to" maxLength:"10" doc:"The last date, YYYY-MM-DD; default the last there is"`
}

// Dates that can be meant: nobody alive logged before the first, and nobody plans
// so far ahead as the last.
const aheadDays = 3 * 366

var earliest = civil.Of(1990, 1, 1)

func (s *server) today() civil.Date { return s.o.Today() }

// date reads a date that can be meant; an empty one is otherwise.
func (s *server) date(field, text string, otherwise civil.Date) (civil.Date, error) {
	if text == "" {
		return otherwise, nil
	}
	d, err := civil.Parse(text)
	if err != nil {
		return 0, fault.New(fault.Invalid, "this is not a date of the form YYYY-MM-DD.").WithField(field)
	}
	return d, s.plausible(field, d)
}

// plausible is nil for a date that can be meant. No date at all is left to the
// domain's own rules.
func (s *server) plausible(field string, d civil.Date) error {
	if last := s.today().AddDays(aheadDays); !d.IsZero() && (d < earliest || d > last) {
		return fault.New(fault.Invalid, "the date is outside %s to %s.", earliest, last).WithField(field)
	}
	return nil
}

// logged is nil for the date of something that was lived: not beyond tomorrow,
// which it is already in some time zone.
func (s *server) logged(field string, d civil.Date) error {
	if last := s.today().AddDays(1); d > last {
		return fault.New(fault.Invalid, "the date is in the future.").WithField(field)
	}
	return s.plausible(field, d)
}

func (s *server) dates(in InSpan) (from, to civil.Date, err error) {
	from, errFrom := s.date("from", in.From, earliest)
	to, errTo := s.date("to", in.To, s.today().AddDays(aheadDays))
	return from, to, errors.Join(errFrom, errTo)
}

// each checks the records of an upload, and says which one a fault is in.
func each[T any](name string, records []T, check func(*T) error) error {
	var all []error
	for i := range records {
		for _, f := range fault.All(check(&records[i])) {
			named := *f
			named.Field = fmt.Sprintf("%s[%d].%s", name, i, f.Field)
			all = append(all, &named)
		}
		if len(all) > maxDetails {
			break
		}
	}
	return errors.Join(all...)
}

// OnPage chooses a page of a list.
type OnPage struct {
	After string `query:"after" maxLength:"80" pattern:"^[^~]+~[0-9]{1,5}$" doc:"Where the page begins: from the Link header of the one before"`
	Limit int    `query:"limit" minimum:"1" maximum:"2000" default:"500" doc:"The most that a page holds"`
}

// listed is a page of a list.
type listed[T any] struct {
	Link string `header:"Link" doc:"The address of the next page (RFC 8288, rel next), on all but the last"`
	Body []T
}

// page cuts a page out of a list whose keys rise. A key that several share is told
// apart by their place among them.
func page[T any](in OnPage, path string, query url.Values, all []T, key func(*T) string) *listed[T] {
	type place struct {
		key string
		n   int
	}
	after := place{}
	if in.After != "" {
		name, n, _ := strings.Cut(in.After, "~")
		after.key = name
		after.n, _ = strconv.Atoi(n) // the parameter's pattern has seen to it
	}
	out := &listed[T]{Body: []T{}}
	var at place
	for i := range all {
		if k := key(&all[i]); k == at.key {
			at.n++
		} else {
			at = place{key: k}
		}
		if in.After != "" && cmp.Or(strings.Compare(at.key, after.key), at.n-after.n) <= 0 {
			continue
		}
		out.Body = append(out.Body, all[i])
		if len(out.Body) == in.Limit && i < len(all)-1 {
			query.Set("after", at.key+"~"+strconv.Itoa(at.n))
			query.Set("limit", strconv.Itoa(in.Limit))
			out.Link = "<" + path + "?" + query.Encode() + `>; rel="next"`
			break
		}
	}
	return out
}

// query keeps the parameters that are set, for the address of the next page.
func query(pairs ...string) url.Values {
	q := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			q.Set(pairs[i], pairs[i+1])
		}
	}
	return q
}

// told is an answer with a body.
type told[T any] struct{ Body T }

func tell[T any](v T, err error) (*told[T], error) {
	if err != nil {
		return nil, err
	}
	return &told[T]{v}, nil
}

// made is an answer about something that is there now.
type made[T any] struct {
	Location string `header:"Location"`
	Body     T
}

// nothing is an answer without a body.
type nothing struct{}
