package web

import (
	"fmt"
	"net/url"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// Names of the inputs on the season page. Shows and events come in lists of equal
// length: what each is, as it stands, and the dates typed for it.
const (
	nameShowID, nameShowDate          = "show_id", "show_date"
	nameEventWas, nameFrom, nameTo    = "event_was", "moved_from", "moved_to"
	nameNewFrom, nameNewTo, newEvent  = "event_from", "event_to", "new"
	nameTarget, nameTolerance, planOf = "target", "tolerance", "show"
)

// supposed reads the form; what equals today's plan is no supposition.
func supposed(typed url.Values, d *app.Dossier) (*app.Supposition, error) {
	s := &app.Supposition{}
	if err := supposedShows(s, typed, d); err != nil {
		return nil, err
	}
	if err := supposedEvents(s, typed); err != nil {
		return nil, err
	}
	if d.Show == nil {
		return s, nil
	}
	var err error
	if s.TargetBodyFatPct, err = numberIn(typed, nameTarget); err != nil {
		return nil, err
	}
	if s.TargetTolerancePct, err = numberIn(typed, nameTolerance); err != nil {
		return nil, err
	}
	if p := s.TargetBodyFatPct; p != nil && *p == d.Show.TargetBodyFatPct {
		s.TargetBodyFatPct = nil
	}
	if p := s.TargetTolerancePct; p != nil && *p == d.Show.Tolerance() {
		s.TargetTolerancePct = nil
	}
	return s, nil
}

func supposedShows(s *app.Supposition, typed url.Values, d *app.Dossier) error {
	dates := typed[nameShowDate]
	for i, id := range typed[nameShowID] {
		if i >= len(dates) || dates[i] == "" {
			continue
		}
		on, err := dateOf(dates[i])
		if err != nil {
			return fieldFault(err, showField(i))
		}
		moved := app.Supposition{Shows: []app.MovedShow{{ID: id, Date: on}}}
		if stands(d.Athlete.Shows, id, on) {
			continue
		}
		// One by one, so that what is wrong stands at its own input.
		if _, err := moved.Of(d.Athlete, id, d.AsOf); err != nil {
			return fieldFault(err, showField(i))
		}
		s.Shows = append(s.Shows, moved.Shows...)
	}
	return nil
}

func stands(shows []athlete.Show, id string, on civil.Date) bool {
	for i := range shows {
		if shows[i].ID == id {
			return shows[i].Date == on
		}
	}
	return false
}

func supposedEvents(s *app.Supposition, typed url.Values) error {
	for i, was := range typed[nameEventWas] {
		kind, stretch, ok := eventOf(was)
		if !ok {
			return fault.New(fault.Invalid, "the form could not be read.").WithHint("Open the page again.")
		}
		to := stretch
		for _, end := range []struct {
			name string
			on   *civil.Date
		}{{nameFrom, &to.From}, {nameTo, &to.To}} {
			if all := typed[end.name]; i < len(all) && all[i] != "" {
				on, err := dateOf(all[i])
				if err != nil {
					return fieldFault(err, eventField(i))
				}
				*end.on = on
			}
		}
		if to.To < to.From {
			return fault.New(fault.Invalid, "the event would end before it begins.").WithField(eventField(i))
		}
		if to != stretch {
			s.Moved = append(s.Moved, app.MovedEvent{Kind: kind, Was: stretch, To: to})
		}
	}
	if typed.Get(nameNewFrom) == "" && typed.Get(nameNewTo) == "" {
		return nil
	}
	e, err := eventIn(typed)
	if err != nil {
		return err
	}
	s.Events = append(s.Events, e)
	return nil
}

// eventKey tells an event as it stands; eventOf reads it.
func eventKey(e *athlete.Event) string { return e.From.String() + " " + e.To.String() + " " + e.Kind }

func eventOf(key string) (kind string, s app.Stretch, ok bool) {
	parts := strings.SplitN(key, " ", 3)
	if len(parts) != 3 {
		return "", s, false
	}
	var errFrom, errTo error
	s.From, errFrom = civil.Parse(parts[0])
	s.To, errTo = civil.Parse(parts[1])
	return parts[2], s, errFrom == nil && errTo == nil
}

// showField and eventField are where a fault about a show or an event is told.
func showField(i int) string  { return fmt.Sprint("show-", i) }
func eventField(i int) string { return fmt.Sprint("event-", i) }

// fieldFault is a fault told at an input; another error stays as it is.
func fieldFault(err error, field string) error {
	for _, f := range fault.All(err) {
		at := *f
		at.Field = field
		return &at
	}
	return err
}

// dateOf reads a date as an input sends it.
func dateOf(text string) (civil.Date, error) {
	d, err := civil.Parse(text)
	if err != nil {
		return 0, fault.New(fault.Invalid, "%q is not a date such as 2026-03-02.", text)
	}
	return d, nil
}

// dateIn reads a date that may be missing.
func dateIn(typed url.Values, name string) (civil.Date, error) {
	text := typed.Get(name)
	if text == "" {
		return 0, nil
	}
	d, err := dateOf(text)
	if err != nil {
		return 0, fieldFault(err, name)
	}
	return d, nil
}

func eventIn(typed url.Values) (athlete.Event, error) {
	e := athlete.Event{Kind: typed.Get("event_kind"), Note: typed.Get("event_note"), Maintenance: typed.Get("event_maintenance") != ""}
	if e.Kind == "" {
		e.Kind = "travel"
	}
	var err error
	if e.From, err = dateIn(typed, nameNewFrom); err != nil {
		return e, err
	}
	if e.To, err = dateIn(typed, nameNewTo); err != nil {
		return e, err
	}
	if e.To.IsZero() {
		e.To = e.From
	}
	return e, e.Validate()
}
