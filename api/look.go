package api

import (
	"context"
	"net/http"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/fault"
	"glidepath/forecast"
	"glidepath/reading"
	"glidepath/season"
	"glidepath/training"
)

// Looking chooses what is reckoned.
type Looking struct {
	OfAthlete
	OnDate
	ForShow
}

// ForShow chooses the show that is planned for.
type ForShow struct {
	Show string `query:"show" maxLength:"80" doc:"The id of a show; default the next"`
}

// Proposing is looking with a proposal.
type Proposing struct {
	Looking
	Surely
}

// Surely chooses how sure a plan is to be.
type Surely struct {
	Confidence float64 `query:"confidence" minimum:"0.5" maximum:"0.99" doc:"With which what is asked leaves time for the body as it may turn out; default 0.8"`
}

// Flying bounds a forecast.
type Flying struct {
	Futures int `query:"futures" minimum:"0" maximum:"20000" doc:"How many futures a forecast has; 0 is the usual 4,000"`
}

// About says whom and which date an answer is about. It is in every answer that is
// reckoned.
type About struct {
	AthleteID string            `json:"athlete_id"`
	AsOf      civil.Date        `json:"as_of"`
	Show      *athlete.Show     `json:"show,omitempty"`
	Phase     athlete.PhaseKind `json:"phase"`
	Cannot    []string          `json:"cannot,omitempty"` // what could not be reckoned, in sentences
}

func about(d *app.Dossier) About { return About{d.Athlete.ID, d.AsOf, d.Show, d.Phase, d.Cannot} }

// The answers, each a part of a dossier.
type (
	// Appraised is the verdict on the starting position.
	Appraised struct {
		About
		Appraisal season.Appraisal `json:"appraisal"`
		Frontier  []season.Start   `json:"frontier,omitempty"`
	}
	// Mapped is the season mapped backwards from the show.
	Mapped struct {
		About
		Map season.Map `json:"map"`
	}
	// Cornered is the corridor.
	Cornered struct {
		About
		Corridor season.Corridor `json:"corridor"`
	}
	// Told is the reading.
	Told struct {
		About
		Reading      reading.Reading       `json:"reading"`
		Compositions []reading.Composition `json:"compositions,omitempty"`
	}
	// Flown is the forecast.
	Flown struct {
		About
		Forecast  forecast.Forecast  `json:"forecast"`
		Unchanged *forecast.Forecast `json:"unchanged,omitempty"` // if the standing prescription went on as it is
	}
	// Trained is what the training log says.
	Trained struct {
		About
		Strength training.StrengthReport `json:"strength"`
		Volume   training.VolumeReport   `json:"volume"`
		Load     training.WeekLoad       `json:"load"`
		Loads    []training.WeekLoad     `json:"loads"`
		Markers  training.Markers        `json:"markers"`
		Recovery training.RecoveryState  `json:"recovery"` // one hidden state, with its uncertainty
		Capacity training.Capacity       `json:"capacity"` // judgement
		Sets     *training.Proposal      `json:"sets,omitempty"`
	}
	// Proposed is a review as it would be made.
	Proposed struct {
		About
		Proposal decision.Proposal     `json:"proposal"`
		Draft    *athlete.Prescription `json:"draft,omitempty"` // what accepting would prescribe
	}
)

// looks is the route of a part of what there is to say of an athlete.
func looks(path, summary, words string) route {
	return route{
		method: http.MethodGet, path: "/athletes/{athlete}/" + path, id: "get-" + path, summary: summary,
		do: access.See, words: words,
	}
}

// part puts up a part of a dossier. check, where given, is the fault of a dossier
// that does not have it.
func part[T any](s *server, r route, check func(*app.Dossier) error, show func(*app.Dossier) T) {
	add(s, r, func(ctx context.Context, _ *visit, in *Looking) (*told[T], error) {
		d, err := s.dossier(ctx, in, app.Options{Futures: -1, NoReview: true})
		if err == nil && check != nil {
			err = check(d)
		}
		if err != nil {
			return nil, err
		}
		return &told[T]{show(d)}, nil
	})
}

func (s *server) look() {
	part(s, looks("appraisal", "Is there enough time?", "read the appraisal"), hasShow,
		func(d *app.Dossier) Appraised { return Appraised{about(d), d.Season.Appraisal, d.Season.Frontier} })
	part(s, looks("map", "The season, mapped backwards from the stage", "read the season map"), hasSeason,
		func(d *app.Dossier) Mapped { return Mapped{about(d), d.Season.Map} })
	part(s, looks("corridor", "The room between too fat to arrive and too lean to be here", "read the corridor"), hasShow,
		func(d *app.Dossier) Cornered { return Cornered{about(d), d.Season.Corridor} })
	part(s, looks("reading", "What is really happening", "read the reading"), nil,
		func(d *app.Dossier) Told { return Told{about(d), *d.Reading, d.Compositions} })
	part(s, looks("training", "Strength, volume, load and recovery", "read the training"), nil,
		func(d *app.Dossier) Trained {
			return Trained{about(d), d.Strength, d.Volume, d.Load, d.Loads, d.Markers, d.Recovery, d.Capacity, d.Sets}
		})
	add(s, looks("forecast", "Where the athlete will stand on show day", "read the forecast"), s.forecast)
	add(s, looks("proposal", "The review as it would be made, without keeping it", "read the proposal"),
		func(ctx context.Context, _ *visit, in *Proposing) (*told[Proposed], error) {
			d, err := s.dossier(ctx, &in.Looking, app.Options{Futures: -1, Confidence: in.Confidence})
			if err != nil {
				return nil, err
			}
			return propose(d)
		})
	add(s, looks("dossier", "All there is to say of an athlete", "read the dossier"), s.whole)
	s.lookMore()
}

func (s *server) forecast(ctx context.Context, _ *visit, in *struct {
	Looking
	Flying
},
) (*told[Flown], error) {
	d, err := s.dossier(ctx, &in.Looking, app.Options{Futures: in.Futures, NoReview: true})
	if err != nil {
		return nil, err
	}
	if err := hasSeason(d); err != nil {
		return nil, err
	}
	return &told[Flown]{Flown{about(d), *d.Forecast, d.Unchanged}}, nil
}

func (s *server) whole(ctx context.Context, _ *visit, in *struct {
	Proposing
	Flying
},
) (*told[app.Dossier], error) {
	d, err := s.dossier(ctx, &in.Looking, app.Options{Futures: in.Futures, Confidence: in.Confidence})
	if err != nil {
		return nil, err
	}
	return &told[app.Dossier]{*d}, nil
}

func (s *server) lookMore() {
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/cardio", id: "get-cardio", summary: "The trade: an amount of energy as steps and as each kind of cardio, in minutes and fatigue, and what it should add",
		do: access.See, words: "read the trade of cardio",
	}, func(ctx context.Context, _ *visit, in *struct {
		Looking
		Kcal float64 `query:"kcal" minimum:"0" maximum:"5000" default:"100" doc:"Net energy a day"`
	},
	) (*told[app.Trade], error) {
		d, err := s.dossier(ctx, &in.Looking, app.Options{Futures: -1, NoReview: true})
		if err != nil {
			return nil, err
		}
		return tell(d.Trade(in.Kcal))
	})
	add(s, route{
		method: http.MethodGet, path: "/roster", id: "get-roster", summary: "Who needs you today: your athletes in order of need",
		rule: onRoster, do: access.See, words: "saw on the roster",
	}, func(ctx context.Context, v *visit, in *OnDate) (*told[[]app.RosterRow], error) {
		on, err := s.date("as_of", in.AsOf, s.today())
		if err != nil {
			return nil, err
		}
		rows, err := s.app.RosterOf(ctx, on, func(id string) bool { return v.May(access.See, id) }, nil)
		for i := range rows {
			v.athletes = append(v.athletes, rows[i].ID)
		}
		return tell(rows, err)
	})
}

// dossier reckons as of the date asked for.
func (s *server) dossier(ctx context.Context, in *Looking, o app.Options) (*app.Dossier, error) {
	on, err := s.date("as_of", in.AsOf, s.today())
	if err != nil {
		return nil, err
	}
	o.ShowID, o.Workers = in.Show, s.o.Workers
	return s.app.Dossier(ctx, in.Athlete, on, o)
}

// hasSeason says why nothing is planned, nil where something is.
func hasSeason(d *app.Dossier) error {
	switch {
	case d.Season != nil:
		return nil
	case d.Blocked != nil:
		return d.Blocked
	}
	return fault.New(fault.NotFound, "nothing is planned for this athlete on %s.", d.AsOf)
}

// hasShow is the same of a show to plan for.
func hasShow(d *app.Dossier) error {
	if err := hasSeason(d); err != nil || d.Show != nil {
		return err
	}
	return fault.New(fault.NotFound, "there is no show on or after %s.", d.AsOf).WithHint("Add one first.")
}

func propose(d *app.Dossier) (*told[Proposed], error) {
	if err := hasSeason(d); err != nil {
		return nil, err
	}
	return &told[Proposed]{Proposed{about(d), *d.Proposal, d.Draft}}, nil
}
