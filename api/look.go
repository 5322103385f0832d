package api

import (
	"context"
	"net/http"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/cardio"
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
	Show string `query:"show" maxLength:"80" doc:"The id of a show; default the next"`
}

// Proposing is looking with a proposal.
type Proposing struct {
	Looking
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
		Markers  training.Markers        `json:"markers"`
		Sets     *training.Proposal      `json:"sets,omitempty"`
	}
	// Proposed is a review as it would be made.
	Proposed struct {
		About
		Proposal decision.Proposal     `json:"proposal"`
		Draft    *athlete.Prescription `json:"draft,omitempty"` // what accepting would prescribe
	}
)

func (s *server) look() {
	look := func(path, summary, words string) route {
		return route{
			method: http.MethodGet, path: "/athletes/{athlete}/" + path, id: "get-" + path, summary: summary,
			do: access.See, words: words,
		}
	}
	add(s, look("appraisal", "Is there enough time?", "read the appraisal"),
		func(ctx context.Context, _ *visit, in *Looking) (*told[Appraised], error) {
			d, err := s.planned(ctx, in)
			if err == nil && d.Show == nil {
				err = noShow(d)
			}
			if err != nil {
				return nil, err
			}
			return &told[Appraised]{Appraised{about(d), d.Season.Appraisal, d.Season.Frontier}}, nil
		})
	add(s, look("map", "The season, mapped backwards from the stage", "read the season map"),
		func(ctx context.Context, _ *visit, in *Looking) (*told[Mapped], error) {
			d, err := s.planned(ctx, in)
			if err != nil {
				return nil, err
			}
			return &told[Mapped]{Mapped{about(d), d.Season.Map}}, nil
		})
	add(s, look("corridor", "The room between too fat to arrive and too lean to be here", "read the corridor"),
		func(ctx context.Context, _ *visit, in *Looking) (*told[Cornered], error) {
			d, err := s.planned(ctx, in)
			if err == nil && d.Show == nil {
				err = noShow(d)
			}
			if err != nil {
				return nil, err
			}
			return &told[Cornered]{Cornered{about(d), d.Season.Corridor}}, nil
		})
	add(s, look("reading", "What is really happening", "read the reading"),
		func(ctx context.Context, _ *visit, in *Looking) (*told[Told], error) {
			d, err := s.dossier(ctx, in, app.Options{Futures: -1, NoReview: true})
			if err != nil {
				return nil, err
			}
			return &told[Told]{Told{about(d), *d.Reading, d.Compositions}}, nil
		})
	add(s, look("forecast", "Where the athlete will stand on show day", "read the forecast"),
		func(ctx context.Context, _ *visit, in *struct {
			Looking
			Flying
		},
		) (*told[Flown], error) {
			d, err := s.dossier(ctx, &in.Looking, app.Options{Futures: in.Futures, NoReview: true})
			if err != nil {
				return nil, err
			}
			if d.Forecast == nil {
				return nil, blocked(d)
			}
			return &told[Flown]{Flown{about(d), *d.Forecast, d.Unchanged}}, nil
		})
	add(s, look("training", "Strength, volume, load and recovery", "read the training"),
		func(ctx context.Context, _ *visit, in *Looking) (*told[Trained], error) {
			d, err := s.dossier(ctx, in, app.Options{Futures: -1, NoReview: true})
			if err != nil {
				return nil, err
			}
			return &told[Trained]{Trained{about(d), d.Strength, d.Volume, d.Load, d.Markers, d.Sets}}, nil
		})
	add(s, look("proposal", "The review as it would be made, without keeping it", "read the proposal"),
		func(ctx context.Context, _ *visit, in *Proposing) (*told[Proposed], error) {
			d, err := s.dossier(ctx, &in.Looking, app.Options{Futures: -1, Confidence: in.Confidence})
			if err != nil {
				return nil, err
			}
			return propose(d)
		})
	add(s, look("dossier", "All there is to say of an athlete", "read the dossier"),
		func(ctx context.Context, _ *visit, in *struct {
			Proposing
			Flying
		},
		) (*told[app.Dossier], error) {
			d, err := s.dossier(ctx, &in.Looking, app.Options{Futures: in.Futures, Confidence: in.Confidence})
			if err != nil {
				return nil, err
			}
			return &told[app.Dossier]{*d}, nil
		})
	s.lookMore()
}

func (s *server) lookMore() {
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/cardio", id: "get-cardio", summary: "An amount of energy as steps and as each kind of cardio",
		do: access.See, words: "read the equivalents of cardio",
	}, func(ctx context.Context, _ *visit, in *struct {
		Looking
		Kcal float64 `query:"kcal" minimum:"0" maximum:"5000" default:"100" doc:"Net energy a day"`
	},
	) (*told[[]cardio.Equivalent], error) {
		d, err := s.dossier(ctx, &in.Looking, app.Options{Futures: -1, NoReview: true})
		if err != nil {
			return nil, err
		}
		return tell(d.Equivalents(in.Kcal))
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

// planned is a dossier with a season.
func (s *server) planned(ctx context.Context, in *Looking) (*app.Dossier, error) {
	d, err := s.dossier(ctx, in, app.Options{Futures: -1, NoReview: true})
	if err != nil {
		return nil, err
	}
	if d.Season == nil {
		return nil, blocked(d)
	}
	return d, nil
}

// blocked says why nothing is planned.
func blocked(d *app.Dossier) error {
	if d.Blocked != nil {
		return d.Blocked
	}
	return fault.New(fault.NotFound, "nothing is planned for this athlete on %s.", d.AsOf)
}

func noShow(d *app.Dossier) error {
	return fault.New(fault.NotFound, "there is no show on or after %s.", d.AsOf).WithHint("Add one first.")
}

func propose(d *app.Dossier) (*told[Proposed], error) {
	if d.Proposal == nil {
		return nil, blocked(d)
	}
	return &told[Proposed]{Proposed{about(d), *d.Proposal, d.Draft}}, nil
}
