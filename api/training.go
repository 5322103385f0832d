package api

import (
	"context"
	"fmt"
	"net/http"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// ProgrammeWritten is a programme as a coach writes it; its version and author are
// those of who keeps it.
type ProgrammeWritten struct {
	From  civil.Date              `json:"from"`
	Name  string                  `json:"name" maxLength:"80"`
	Phase athlete.PhaseKind       `json:"phase,omitempty" enum:"off-season,pre-prep,prep,peak week,show day,recovery" doc:"The phase that it is for; left out for any"`
	Weeks []athlete.ProgrammeWeek `json:"weeks" minItems:"1" maxItems:"26" nullable:"false" doc:"Weeks that follow each other from a Monday on and begin again after the last"`
	Notes string                  `json:"notes,omitempty"`
}

// ProgrammeCopied says what becomes of a copy.
type ProgrammeCopied struct {
	From  civil.Date        `json:"from"`
	Name  string            `json:"name,omitempty" maxLength:"80" doc:"Left out as it was"`
	Phase athlete.PhaseKind `json:"phase,omitempty" enum:"any,off-season,pre-prep,prep,peak week,show day,recovery" doc:"Left out as it was; any for every one"`
	GoOn  bool              `json:"go_on,omitempty" doc:"Begin with the week that is due on the date, not with the first"`
}

// InjuryNoted is a hurt that bounds training.
type InjuryNoted struct {
	From  civil.Date     `json:"from"`
	Where athlete.Region `json:"where"`
	What  string         `json:"what,omitempty"`
}

// InjuryOver is a clinician's word that an injury is over.
type InjuryOver struct {
	Where     athlete.Region `json:"where"`
	Until     civil.Date     `json:"until" doc:"The last day on which it bounds training"`
	Clinician string         `json:"clinician" minLength:"1" maxLength:"200"`
}

// training is what the gym needs: programmes, the day at the gym, injuries.
func (s *server) training() {
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/programmes", id: "list-programmes", summary: "List the programmes of some dates, by version",
		do: access.SeeOwn, words: "read the programmes",
	}, s.listProgrammes)
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/programmes", id: "add-programme",
		summary: "Keep a programme as the next version", status: http.StatusCreated,
		do: access.Decide, words: "wrote a programme",
	}, func(ctx context.Context, v *visit, in *struct {
		OfAthlete
		Body ProgrammeWritten
	},
	) (*made[athlete.Programme], error) {
		b := &in.Body
		return s.addProgramme(ctx, v, in.Athlete, athlete.Programme{From: b.From, Name: b.Name, Phase: b.Phase, Weeks: b.Weeks, Notes: b.Notes})
	})
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/programmes/reckon", id: "reckon-week",
		summary: "What a week of a programme comes to by muscle, beside what is done now and what keeps; nothing is kept",
		do:      access.Draft, words: "reckoned a week of a programme",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		OnDate
		Body athlete.ProgrammeWeek
	},
	) (*told[app.PlannedWeek], error) {
		on, err := s.date("as_of", in.AsOf, s.today())
		if err != nil {
			return nil, err
		}
		whole := athlete.Programme{From: on, Name: "a week", Weeks: []athlete.ProgrammeWeek{in.Body}}
		if err := whole.Validate(); err != nil {
			return nil, err
		}
		week, err := s.app.PlannedWeek(ctx, in.Athlete, on, in.Body)
		if err != nil {
			return nil, err
		}
		return &told[app.PlannedWeek]{*week}, nil
	})
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/programmes/{version}/copies", id: "copy-programme",
		summary: "Keep a copy of a programme as the next version, from a date on", status: http.StatusCreated,
		do: access.Decide, words: "copied a programme",
	}, s.copyProgramme)
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/gym/{date}", id: "get-gym-day",
		summary: "What is due at the gym on a date, what was done of it last, and what is logged",
		do:      access.SeeOwn, words: "read a day at the gym",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		Date string `path:"date" maxLength:"10"`
	},
	) (*told[app.GymDay], error) {
		on, err := s.date("date", in.Date, 0)
		if err != nil {
			return nil, err
		}
		g, err := s.app.GymDay(ctx, in.Athlete, on)
		if err != nil {
			return nil, err
		}
		return &told[app.GymDay]{*g}, nil
	})
	add(s, route{
		method: http.MethodDelete, path: "/athletes/{athlete}/sets/{date}/{order}", id: "drop-set",
		summary: "Take a set out of the log; what it was is kept as a correction", do: access.Log, words: "took a set out",
	}, s.dropSet)
	s.injuries()
}

func (s *server) listProgrammes(ctx context.Context, _ *visit, in *listing) (*listed[athlete.Programme], error) {
	from, to, err := s.dates(in.InSpan)
	if err != nil {
		return nil, err
	}
	all, err := s.app.Programmes(ctx, in.Athlete, to)
	if err != nil {
		return nil, err
	}
	var out []athlete.Programme
	for i := range all {
		if all[i].From >= from {
			out = append(out, all[i])
		}
	}
	return page(in.OnPage, "/api/v1/athletes/"+in.Athlete+"/programmes", query("from", in.From, "to", in.To), out,
		func(p *athlete.Programme) string { return fmt.Sprintf("%09d", p.Version) }), nil
}

func (s *server) addProgramme(ctx context.Context, v *visit, id string, p athlete.Programme) (*made[athlete.Programme], error) {
	if err := s.plausible("from", p.From); err != nil {
		return nil, err
	}
	version, err := s.app.AddProgramme(ctx, id, p, v.by())
	if err != nil {
		return nil, err
	}
	p.Version, p.Author = version, v.by()
	return &made[athlete.Programme]{"/api/v1/athletes/" + id + "/programmes?from=" + p.From.String(), p}, nil
}

func (s *server) copyProgramme(ctx context.Context, v *visit, in *struct {
	OfAthlete
	Version int `path:"version" minimum:"1" maximum:"1000000"`
	Body    ProgrammeCopied
},
) (*made[athlete.Programme], error) {
	b := &in.Body
	if b.From.IsZero() {
		return nil, fault.New(fault.Invalid, "the copy has no date to start from.").WithField("from")
	}
	all, err := s.app.Programmes(ctx, in.Athlete, s.today().AddDays(aheadDays))
	if err != nil {
		return nil, err
	}
	for i := range all {
		p := all[i]
		if p.Version != in.Version {
			continue
		}
		switch {
		case b.GoOn && b.From < p.From:
			return nil, fault.New(fault.Invalid, "the programme has not begun on that date, so it cannot go on.").WithField("from")
		case b.GoOn:
			p = p.BegunOn(b.From)
		}
		p.From = b.From
		if b.Name != "" {
			p.Name = b.Name
		}
		switch b.Phase {
		case "":
		case "any":
			p.Phase = ""
		default:
			p.Phase = b.Phase
		}
		return s.addProgramme(ctx, v, in.Athlete, p)
	}
	return nil, fault.New(fault.NotFound, "there is no version %d of a programme.", in.Version).WithField("version")
}

func (s *server) dropSet(ctx context.Context, v *visit, in *struct {
	OfAthlete
	Date     string `path:"date" maxLength:"10"`
	Order    int    `path:"order" minimum:"1" maximum:"1000" doc:"Its place within the day"`
	Exercise string `query:"exercise" required:"true" minLength:"1" maxLength:"120" doc:"As it was logged"`
},
) (*told[app.Merge], error) {
	on, err := s.date("date", in.Date, 0)
	if err != nil {
		return nil, err
	}
	out, err := s.app.DropSet(ctx, in.Athlete, on, in.Exercise, in.Order, app.Source{Name: "api", Who: v.by()})
	if err == nil && out.Corrected == 0 {
		err = fault.New(fault.NotFound, "no such set is logged on %s.", on).WithField("order")
	}
	return tell(out, err)
}

func (s *server) injuries() {
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/injuries", id: "list-injuries", summary: "List the injuries, open and over",
		do: access.SeeOwn, words: "read the injuries",
	}, func(ctx context.Context, _ *visit, in *OfAthlete) (*told[[]athlete.Injury], error) {
		return s.injuriesOf(ctx, in.Athlete, nil)
	})
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/injuries", id: "add-injury",
		summary: "Note an injury: what loads the region waits for a clinician's word", do: access.Log, words: "noted an injury",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		Body InjuryNoted
	},
	) (*told[[]athlete.Injury], error) {
		b := &in.Body
		if err := s.logged("from", b.From); err != nil {
			return nil, err
		}
		return s.injuriesOf(ctx, in.Athlete, s.app.AddInjury(ctx, in.Athlete, athlete.Injury{From: b.From, Where: b.Where, What: b.What}))
	})
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/injuries/end", id: "end-injury",
		summary: "Record a clinician's word that the open injury of a region is over", do: access.Decide, words: "recorded the end of an injury",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		Body InjuryOver
	},
	) (*told[[]athlete.Injury], error) {
		b := &in.Body
		if b.Until.IsZero() {
			return nil, fault.New(fault.Invalid, "the injury has no last day.").WithField("until")
		}
		if err := s.plausible("until", b.Until); err != nil {
			return nil, err
		}
		return s.injuriesOf(ctx, in.Athlete, s.app.EndInjury(ctx, in.Athlete, b.Where, b.Until, b.Clinician))
	})
}

// injuriesOf are those of an athlete after a change that gave an error or none.
func (s *server) injuriesOf(ctx context.Context, id string, changed error) (*told[[]athlete.Injury], error) {
	if changed != nil {
		return nil, changed
	}
	a, err := s.app.Athlete(ctx, id)
	if err != nil {
		return nil, err
	}
	return &told[[]athlete.Injury]{append([]athlete.Injury{}, a.Injuries...)}, nil
}
