package api

import (
	"context"
	"errors"
	"net/http"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/forecast"
	"glidepath/season"
)

// Compared is today's plan beside a supposed one. Nothing of it is kept.
type Compared struct {
	Now      Outlook `json:"now"`
	Supposed Outlook `json:"supposed"`
}

// Outlook is what a season comes to.
type Outlook struct {
	About
	Events     []athlete.Event   `json:"events,omitempty"`
	Appraisal  *season.Appraisal `json:"appraisal,omitempty"` // where there is a show to come
	SlackWeeks *season.Span      `json:"slack_weeks,omitempty"`
	Map        *season.Map       `json:"map,omitempty"`
	Chances    *forecast.Chances `json:"chances,omitempty"` // of show day
}

// Calendar are the shows and events of an athlete.
type Calendar struct {
	Shows  []athlete.Show  `json:"shows"`
	Events []athlete.Event `json:"events"`
}

// seasons are the routes to a season as it might be.
func (s *server) seasons() {
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/season/try", id: "try-season",
		summary: "What other dates of shows and events, or another target, would come to", do: access.See, words: "tried another season",
	}, func(ctx context.Context, _ *visit, in *struct {
		Looking
		Body app.Supposition
	},
	) (*told[Compared], error) {
		if err := s.meant(&in.Body); err != nil {
			return nil, err
		}
		on, err := s.date("as_of", in.AsOf, s.today())
		if err != nil {
			return nil, err
		}
		w, err := s.app.WhatIf(ctx, in.Athlete, on, &in.Body, app.Options{ShowID: in.Show, Workers: s.o.Workers})
		if err != nil {
			return nil, err
		}
		return &told[Compared]{Compared{outlook(w.Now), outlook(w.Then)}}, nil
	})
	add(s, route{
		method: http.MethodPut, path: "/athletes/{athlete}/season", id: "change-season",
		summary: "Keep other dates of shows and events, or another target, as one change of the profile", do: access.Decide, words: "changed the season",
	}, func(ctx context.Context, _ *visit, in *struct {
		Looking
		Body app.Supposition
	},
	) (*told[Calendar], error) {
		if err := s.meant(&in.Body); err != nil {
			return nil, err
		}
		on, err := s.date("as_of", in.AsOf, s.today())
		if err != nil {
			return nil, err
		}
		if err := s.app.ChangeSeason(ctx, in.Athlete, in.Show, &in.Body, on); err != nil {
			return nil, err
		}
		a, err := s.app.Athlete(ctx, in.Athlete)
		if err != nil {
			return nil, err
		}
		return &told[Calendar]{Calendar{a.Shows, a.Events}}, nil
	})
}

// meant is nil where every date of a supposition can be meant.
func (s *server) meant(p *app.Supposition) error {
	return errors.Join(
		each("shows", p.Shows, func(m *app.MovedShow) error { return s.plausible("date", m.Date) }),
		each("moved", p.Moved, func(m *app.MovedEvent) error {
			return errors.Join(s.plausible("to.from", m.To.From), s.plausible("to.to", m.To.To))
		}),
		each("events", p.Events, func(e *athlete.Event) error {
			return errors.Join(s.plausible("from", e.From), s.plausible("to", e.To))
		}))
}

func outlook(d *app.Dossier) Outlook {
	out := Outlook{About: about(d), Events: d.Athlete.Events}
	if d.Season == nil {
		return out
	}
	out.Map = &d.Season.Map
	if d.Show != nil {
		out.Appraisal, out.SlackWeeks = &d.Season.Appraisal, &d.Season.Corridor.SlackWeeks
		if d.Forecast != nil {
			out.Chances = &d.Forecast.Chances
		}
	}
	return out
}
