package api

import (
	"context"
	"errors"
	"net/http"
	"reflect"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
)

// Person is an athlete in a list.
type Person struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

type addAthlete struct {
	OnDate
	History bool `query:"history" doc:"The athlete comes with shows of the past"`
	Body    athlete.Athlete
}

type putAthlete struct {
	OfAthlete
	OnDate
	Body athlete.Athlete
}

func (s *server) athletes() {
	add(s, route{
		method: http.MethodGet, path: "/athletes", id: "list-athletes", summary: "List the athletes you may see",
		rule: onList, do: access.SeeOwn, words: "listed the athletes",
	}, s.listAthletes)
	add(s, route{
		method: http.MethodPost, path: "/athletes", id: "add-athlete", summary: "Take in an athlete", status: http.StatusCreated,
		rule: onAdding, do: access.Decide, words: "took in the athlete",
	}, s.addAthlete)
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}", id: "get-athlete", summary: "An athlete's profile",
		do: access.See, words: "read the profile",
	}, func(ctx context.Context, _ *visit, in *OfAthlete) (*told[athlete.Athlete], error) {
		a, err := s.app.Athlete(ctx, in.Athlete)
		if err != nil {
			return nil, err
		}
		return &told[athlete.Athlete]{*a}, nil
	})
	add(s, route{
		method: http.MethodPut, path: "/athletes/{athlete}", id: "change-athlete",
		summary: "Replace an athlete's profile; limits and screening have their own addresses",
		do:      access.Decide, words: "changed the profile",
	}, s.putAthlete)
	add(s, route{
		method: http.MethodDelete, path: "/athletes/{athlete}", id: "erase-athlete",
		summary: "Erase an athlete and all that belongs to them, for good", status: http.StatusNoContent,
		do: access.Remove, words: "erased an athlete",
	}, func(ctx context.Context, _ *visit, in *OfAthlete) (*nothing, error) {
		return &nothing{}, s.app.RemoveAthlete(ctx, in.Athlete)
	})
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/export", id: "export-athlete", summary: "Everything that is known of an athlete",
		do: access.See, words: "exported everything",
	}, func(ctx context.Context, _ *visit, in *OfAthlete) (*told[app.Archive], error) {
		a, err := s.app.Export(ctx, in.Athlete)
		if err != nil {
			return nil, err
		}
		return &told[app.Archive]{*a}, nil
	})
	add(s, route{
		method: http.MethodPost, path: "/archives", id: "restore-athlete", summary: "Take in an exported athlete as a new one",
		status: http.StatusCreated, rule: onDesk, do: access.Manage, words: "restored an athlete", most: maxArchive,
	}, s.restore)
}

func (s *server) listAthletes(ctx context.Context, v *visit, in *OnPage) (*listed[Person], error) {
	all, err := s.app.Athletes(ctx)
	if err != nil {
		return nil, err
	}
	var mine []Person
	for i := range all {
		if v.May(access.SeeOwn, all[i].ID) {
			mine = append(mine, Person{all[i].ID, all[i].Name})
		}
	}
	return page(*in, "/api/v1/athletes", query(), mine, func(p *Person) string { return p.ID }), nil
}

func (s *server) addAthlete(ctx context.Context, v *visit, in *addAthlete) (*made[Person], error) {
	on, err := s.date("as_of", in.AsOf, s.today())
	if err != nil {
		return nil, err
	}
	a := &in.Body
	if err := s.profile(a); err != nil {
		return nil, err
	}
	if a.Limits != nil {
		return nil, errLimits()
	}
	if err := s.app.AddAthlete(ctx, *a, on, in.History); err != nil {
		return nil, err
	}
	v.athletes = []string{a.ID}
	if err := s.desk.Adopt(ctx, v.Visitor, a.ID); err != nil {
		// Nobody's athlete would be there and could not be added again.
		return nil, errors.Join(err, s.app.RemoveAthlete(context.WithoutCancel(ctx), a.ID))
	}
	return &made[Person]{"/api/v1/athletes/" + a.ID, Person{a.ID, a.Name}}, nil
}

func (s *server) putAthlete(ctx context.Context, _ *visit, in *putAthlete) (*told[athlete.Athlete], error) {
	on, err := s.date("as_of", in.AsOf, s.today())
	if err != nil {
		return nil, err
	}
	a := &in.Body
	if a.ID != in.Athlete {
		return nil, fault.New(fault.Invalid, "the id of an athlete cannot be changed.").WithField("id")
	}
	if err := s.profile(a); err != nil {
		return nil, err
	}
	old, err := s.app.Athlete(ctx, a.ID)
	if err != nil {
		return nil, err
	}
	// A client may send back what it got. What is kept with a name and a reason
	// cannot be changed past them.
	if a.Limits != nil && !reflect.DeepEqual(a.Limits, old.Limits) {
		return nil, errLimits()
	}
	if !sameScreening(&a.Screening, &old.Screening) {
		return nil, fault.New(fault.Invalid, "the screening is not changed with the profile.").WithField("screening").
			WithHint("Use the addresses of screening and clearances.")
	}
	a.Limits, a.Screening = old.Limits, old.Screening
	return tell(*a, s.app.EditAthlete(ctx, *a, on))
}

func sameScreening(a, b *athlete.Screening) bool {
	return a.AnsweredOn == b.AnsweredOn && len(a.Cautions) == len(b.Cautions) && len(a.Clearances) == len(b.Clearances) &&
		(len(a.Cautions) == 0 || reflect.DeepEqual(a.Cautions, b.Cautions)) &&
		(len(a.Clearances) == 0 || reflect.DeepEqual(a.Clearances, b.Clearances))
}

func errLimits() error {
	return fault.New(fault.Invalid, "limits are not changed with the profile, but one by one, with a reason.").WithField("limits").
		WithHint("Use the address of the limit.")
}

// profile checks the dates of a profile, which the domain leaves to the use cases.
func (s *server) profile(a *athlete.Athlete) error {
	var all []error
	check := func(field string, err error) {
		for _, f := range fault.All(err) {
			all = append(all, f.WithField(field))
		}
	}
	check("weighed_on", s.logged("weighed_on", a.WeighedOn))
	for i := range a.Shows {
		check("shows.date", s.plausible("shows.date", a.Shows[i].Date))
	}
	for i := range a.Events {
		check("events.from", s.plausible("events.from", a.Events[i].From))
		check("events.to", s.plausible("events.to", a.Events[i].To))
	}
	for i := range a.BodyFat {
		check("body_fat.date", s.logged("body_fat.date", a.BodyFat[i].Date))
	}
	return errors.Join(all...)
}

func (s *server) restore(ctx context.Context, v *visit, in *struct{ Body app.Archive }) (*made[Person], error) {
	a := &in.Body.Athlete
	leave, err := s.enterDarkroom(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	if err := s.app.Restore(ctx, &in.Body, app.Source{Name: "api", Who: v.by()}); err != nil {
		return nil, err
	}
	v.athletes = []string{a.ID}
	return &made[Person]{"/api/v1/athletes/" + a.ID, Person{a.ID, a.Name}}, nil
}
