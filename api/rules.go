package api

import (
	"context"
	"net/http"

	"glidepath/access"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// LimitChanged is a limit's new value with the reason.
type LimitChanged struct {
	Value float64 `json:"value"`
	Why   string  `json:"why"`
}

// LeaveGiven is leave to plan below the floor of energy availability.
type LeaveGiven struct {
	From  civil.Date `json:"from"`
	Weeks int        `json:"weeks"`
	Why   string     `json:"why"`
}

// ScreeningAnswered is what the athlete answered, and when.
type ScreeningAnswered struct {
	AnsweredOn civil.Date        `json:"answered_on"`
	Cautions   []athlete.Caution `json:"cautions"`
}

// rules are what bounds and bends every plan: limits, screening, shows, events.
func (s *server) rules() {
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/limits", id: "get-limits", summary: "The limits of every plan, and who changed which",
		do: access.See, words: "read the limits",
	}, func(ctx context.Context, _ *visit, in *OfAthlete) (*told[athlete.Limits], error) {
		return s.limits(ctx, in.Athlete, nil)
	})
	add(s, route{
		method: http.MethodPut, path: "/athletes/{athlete}/limits/{limit}", id: "change-limit", summary: "Change a limit, with a reason",
		do: access.Decide, words: "changed a limit",
	}, func(ctx context.Context, v *visit, in *struct {
		OfAthlete
		Limit string `path:"limit" maxLength:"40" doc:"The limit's name"`
		Body  LimitChanged
	},
	) (*told[athlete.Limits], error) {
		return s.limits(ctx, in.Athlete, s.app.ChangeLimit(ctx, in.Athlete, in.Limit, in.Body.Value, v.by(), in.Body.Why))
	})
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/limits/leave", id: "allow-low-availability",
		summary: "Leave to plan below the floor of energy availability, for at most 4 weeks, with a reason",
		do:      access.Decide, words: "gave leave to plan below the floor of energy availability",
	}, func(ctx context.Context, v *visit, in *struct {
		OfAthlete
		Body LeaveGiven
	},
	) (*told[athlete.Limits], error) {
		if err := s.plausible("from", in.Body.From); err != nil {
			return nil, err
		}
		la := athlete.LowAvailability{From: in.Body.From, Weeks: in.Body.Weeks, Why: in.Body.Why, Who: v.by()}
		return s.limits(ctx, in.Athlete, s.app.AllowLowAvailability(ctx, in.Athlete, la))
	})
	add(s, route{
		method: http.MethodPut, path: "/athletes/{athlete}/screening", id: "screen", summary: "Record the answers of the screening",
		do: access.Decide, words: "recorded the screening",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		Body ScreeningAnswered
	},
	) (*told[athlete.Screening], error) {
		on := in.Body.AnsweredOn
		if on.IsZero() {
			return nil, fault.New(fault.Invalid, "the screening needs the date of its answers.").WithField("answered_on")
		}
		if err := s.logged("answered_on", on); err != nil {
			return nil, err
		}
		return s.screening(ctx, in.Athlete, s.app.Screen(ctx, in.Athlete, on, in.Body.Cautions))
	})
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/clearances", id: "add-clearance", summary: "Record a clinician's clearance",
		do: access.Decide, words: "recorded a clearance",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		Body athlete.Clearance
	},
	) (*told[athlete.Screening], error) {
		c := in.Body
		if err := s.logged("date", c.Date); err != nil {
			return nil, err
		}
		if err := s.plausible("until", c.Until); err != nil {
			return nil, err
		}
		return s.screening(ctx, in.Athlete, s.app.AddClearance(ctx, in.Athlete, c))
	})
	s.calendar()
}

func (s *server) calendar() {
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/shows", id: "add-show", summary: "Add a show, or replace the one with the same id",
		do: access.Decide, words: "set a show",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		OnDate
		Body athlete.Show
	},
	) (*told[[]athlete.Show], error) {
		on, err := s.date("as_of", in.AsOf, s.today())
		if err != nil {
			return nil, err
		}
		if err := s.plausible("date", in.Body.Date); err != nil {
			return nil, err
		}
		if err := s.app.AddShow(ctx, in.Athlete, in.Body, on); err != nil {
			return nil, err
		}
		a, err := s.app.Athlete(ctx, in.Athlete)
		if err != nil {
			return nil, err
		}
		return &told[[]athlete.Show]{a.Shows}, nil
	})
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/events", id: "add-event", summary: "Add a stretch of days on which the plan must bend",
		do: access.Decide, words: "added an event",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		Body athlete.Event
	},
	) (*told[[]athlete.Event], error) {
		for _, d := range []civil.Date{in.Body.From, in.Body.To} {
			if err := s.plausible("events", d); err != nil {
				return nil, err
			}
		}
		if err := s.app.AddEvent(ctx, in.Athlete, in.Body); err != nil {
			return nil, err
		}
		a, err := s.app.Athlete(ctx, in.Athlete)
		if err != nil {
			return nil, err
		}
		return &told[[]athlete.Event]{a.Events}, nil
	})
}

// limits are those of an athlete after a change that gave an error or none.
func (s *server) limits(ctx context.Context, id string, changed error) (*told[athlete.Limits], error) {
	if changed != nil {
		return nil, changed
	}
	a, err := s.app.Athlete(ctx, id)
	if err != nil {
		return nil, err
	}
	return &told[athlete.Limits]{a.EffectiveLimits()}, nil
}

// screening is likewise.
func (s *server) screening(ctx context.Context, id string, changed error) (*told[athlete.Screening], error) {
	if changed != nil {
		return nil, changed
	}
	a, err := s.app.Athlete(ctx, id)
	if err != nil {
		return nil, err
	}
	return &told[athlete.Screening]{a.Screening}, nil
}
