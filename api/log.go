package api

import (
	"context"
	"errors"
	"net/http"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
)

// FromSource is where an upload says it comes from.
type FromSource struct {
	Source string `query:"source" maxLength:"100" doc:"Where the values come from, for the record of corrections; default api"`
}

type upload[T any] struct {
	OfAthlete
	FromSource
	Body []T `minItems:"1" maxItems:"20000" nullable:"false"`
}

type listing struct {
	OfAthlete
	InSpan
	OnPage
}

// Records is an upload of every kind, all of it kept or nothing.
type Records struct {
	Days         []athlete.Day         `json:"days,omitempty" maxItems:"20000"`
	Measurements []athlete.Measurement `json:"measurements,omitempty" maxItems:"20000"`
	Sets         []athlete.Set         `json:"sets,omitempty" maxItems:"20000"`
	Sessions     []athlete.Session     `json:"sessions,omitempty" maxItems:"20000"`
}

// WeightAnswered is a person's word on a weight that was asked about.
type WeightAnswered struct {
	Use       bool     `json:"use" doc:"Whether the weight is to be used as it stands"`
	InsteadKg *float64 `json:"instead_kg,omitempty" doc:"What it was meant to be"`
}

func (s *server) log() {
	days := kind[athlete.Day]{
		name: "days", noun: "the log", date: func(d *athlete.Day) civil.Date { return d.Date },
		list: s.app.Days, batch: func(all []athlete.Day) Records { return Records{Days: all} },
		merged: func(r *app.Recorded) app.Merge { return r.Days },
	}
	days.routes(s)
	measurements := kind[athlete.Measurement]{
		name: "measurements", noun: "measurements", date: func(m *athlete.Measurement) civil.Date { return m.Date },
		list: func(ctx context.Context, id string, from, to civil.Date) (out []athlete.Measurement, err error) {
			all, err := s.app.Measurements(ctx, id, to)
			for i := range all {
				if all[i].Date >= from {
					out = append(out, all[i])
				}
			}
			return out, err
		},
		batch:  func(all []athlete.Measurement) Records { return Records{Measurements: all} },
		merged: func(r *app.Recorded) app.Merge { return r.Measurements },
	}
	measurements.routes(s)
	sets := kind[athlete.Set]{
		name: "sets", noun: "sets", date: func(x *athlete.Set) civil.Date { return x.Date },
		list: s.app.Sets, batch: func(all []athlete.Set) Records { return Records{Sets: all} },
		merged: func(r *app.Recorded) app.Merge { return r.Sets },
	}
	sets.routes(s)
	sessions := kind[athlete.Session]{
		name: "sessions", noun: "sessions", date: func(x *athlete.Session) civil.Date { return x.Date },
		list: s.app.Sessions, batch: func(all []athlete.Session) Records { return Records{Sessions: all} },
		merged: func(r *app.Recorded) app.Merge { return r.Sessions },
	}
	sessions.routes(s)
	s.logMore()
}

// kind is a kind of record that is listed and uploaded.
type kind[T any] struct {
	name, noun string
	date       func(*T) civil.Date
	list       func(ctx context.Context, id string, from, to civil.Date) ([]T, error)
	batch      func([]T) Records
	merged     func(*app.Recorded) app.Merge
}

func (k *kind[T]) routes(s *server) {
	path := "/athletes/{athlete}/" + k.name
	add(s, route{
		method: http.MethodGet, path: path, id: "list-" + k.name, summary: "List " + k.noun + " of some dates",
		do: access.SeeOwn, words: "read " + k.noun,
	}, func(ctx context.Context, _ *visit, in *listing) (*listed[T], error) {
		from, to, err := s.dates(in.InSpan)
		if err != nil {
			return nil, err
		}
		all, err := k.list(ctx, in.Athlete, from, to)
		if err != nil {
			return nil, err
		}
		return page(in.OnPage, "/api/v1/athletes/"+in.Athlete+"/"+k.name, query("from", in.From, "to", in.To), all,
			func(v *T) string { return k.date(v).String() }), nil
	})
	add(s, route{
		method: http.MethodPost, path: path, id: "record-" + k.name, summary: "Record " + k.noun + "; the same again changes nothing",
		do: access.Log, words: "recorded " + k.noun, most: maxBulk,
	}, func(ctx context.Context, v *visit, in *upload[T]) (*told[app.Merge], error) {
		out, err := s.record(ctx, v, in.Athlete, in.Source, k.batch(in.Body))
		return tell(k.merged(&out), err)
	})
}

func (s *server) logMore() {
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/records", id: "record-all", summary: "Record days, measurements, sets and sessions at once",
		do: access.Log, words: "recorded an upload", most: maxBulk,
	}, func(ctx context.Context, v *visit, in *struct {
		OfAthlete
		FromSource
		Body Records
	},
	) (*told[app.Recorded], error) {
		return tell(s.record(ctx, v, in.Athlete, in.Source, in.Body))
	})
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/weights/{date}", id: "answer-weight",
		summary: "Answer for a weight that was asked about", status: http.StatusNoContent,
		do: access.Log, words: "answered for a weight",
	}, func(ctx context.Context, v *visit, in *struct {
		OfAthlete
		Date string `path:"date" maxLength:"10"`
		Body WeightAnswered
	},
	) (*nothing, error) {
		on, err := s.date("date", in.Date, 0)
		if err != nil {
			return nil, err
		}
		return &nothing{}, s.app.AnswerWeight(ctx, in.Athlete, on, in.Body.Use, in.Body.InsteadKg, v.by())
	})
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/corrections", id: "list-corrections", summary: "List the values that later entries changed",
		do: access.See, words: "read the corrections",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		OnPage
	},
	) (*listed[app.Correction], error) {
		all, err := s.app.Corrections(ctx, in.Athlete)
		if err != nil {
			return nil, err
		}
		return page(in.OnPage, "/api/v1/athletes/"+in.Athlete+"/corrections", query(), all,
			func(c *app.Correction) string { return c.Date.String() }), nil
	})
}

// record checks an upload and keeps it.
func (s *server) record(ctx context.Context, v *visit, id, source string, b Records) (app.Recorded, error) {
	err := errors.Join(
		each("days", b.Days, func(d *athlete.Day) error {
			if d.WeightStands != nil {
				d.WeightStands.Who = v.by()
			}
			return errors.Join(s.logged("date", d.Date), d.Validate())
		}),
		each("measurements", b.Measurements, func(m *athlete.Measurement) error {
			return errors.Join(s.logged("date", m.Date), m.Validate())
		}),
		each("sets", b.Sets, func(x *athlete.Set) error { return errors.Join(s.logged("date", x.Date), x.Validate()) }),
		each("sessions", b.Sessions, func(x *athlete.Session) error {
			return errors.Join(s.logged("date", x.Date), x.Validate())
		}))
	if err != nil {
		return app.Recorded{}, err
	}
	if source == "" {
		source = "api"
	}
	batch := app.Batch{Days: b.Days, Measurements: b.Measurements, Sets: b.Sets, Sessions: b.Sessions}
	return s.app.Record(ctx, id, batch, app.Source{Name: source, Who: v.by()})
}
