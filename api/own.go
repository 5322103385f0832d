package api

import (
	"bytes"
	"context"
	"encoding/json"
	"maps"
	"net/http"
	"slices"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/numeric"
)

// DayAmended is a change to a day of the log.
type DayAmended struct {
	Put  *athlete.Day `json:"put,omitempty" doc:"The values to set; its date is that of the address"`
	Drop []string     `json:"drop,omitempty" maxItems:"30" enum:"weight_kg,energy_kcal,protein_g,carbohydrate_g,fat_g,fibre_g,sodium_mg,steps,cardio,sleep_h,hunger,fatigue,soreness,motivation,mood,pain,pain_where,resting_pulse,cycle_day,day_type,notes" doc:"The values to take out"`
	Seen *athlete.Day `json:"seen,omitempty" doc:"The day as you saw it: where a value that you change is another by now, nothing is changed"`
}

// CheckInSent is what an athlete tells of a week, with what was measured for it.
type CheckInSent struct {
	Date         civil.Date            `json:"date"`
	Words        string                `json:"words,omitempty"`
	Signs        []athlete.Sign        `json:"signs,omitempty" maxItems:"20"`
	Measurements []athlete.Measurement `json:"measurements,omitempty" maxItems:"20"`
}

// UnitsChosen are the units that an athlete reads and writes in; the interface itself
// is in kg.
type UnitsChosen struct {
	Units athlete.Units `json:"units" enum:"metric,imperial"`
}

// EffortChosen is the scale on which an athlete says how hard a set was; the interface
// itself is in repetitions in reserve.
type EffortChosen struct {
	Effort athlete.EffortScale `json:"effort" enum:"rir,rpe"`
}

// Progressed is what an athlete is told of themselves: the trend of their weight, and
// what they did beside what was asked. It plans and foretells nothing.
type Progressed struct {
	AthleteID    string                `json:"athlete_id"`
	AsOf         civil.Date            `json:"as_of"`
	Trend        []TrendOn             `json:"trend"`                  // none while no weight is logged
	Prescription *athlete.Prescription `json:"prescription,omitempty"` // what stands
	Days         []athlete.Day         `json:"days"`                   // of the last seven, those that are logged
}

// TrendOn is the trend of weight on a day, beside what the scale said.
type TrendOn struct {
	Date    civil.Date       `json:"date"`
	ScaleKg *float64         `json:"scale_kg,omitempty"`
	TrendKg numeric.Interval `json:"trend_kg"`
}

// own are the routes to what athletes do for themselves, or staff in their stead.
func (s *server) own() {
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/days/{date}", id: "amend-day", summary: "Set values of a day, or take them out",
		do: access.Log, words: "amended a day", dated: true,
	}, s.amend)
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/check-ins", id: "list-check-ins", summary: "List the check-ins of some dates",
		do: access.SeeOwn, words: "read the check-ins",
	}, s.checkIns)
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/check-ins", id: "check-in",
		summary: "Send a check-in; another of the same date replaces it", do: access.Log, words: "sent a check-in",
	}, s.checkIn)
	add(s, route{
		method: http.MethodPut, path: "/athletes/{athlete}/units", id: "choose-units", summary: "Choose the units that the athlete reads and writes in",
		do: access.Log, words: "chose the units",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		Body UnitsChosen
	},
	) (*told[UnitsChosen], error) {
		return tell(in.Body, s.app.ChooseUnits(ctx, in.Athlete, in.Body.Units))
	})
	add(s, route{
		method: http.MethodPut, path: "/athletes/{athlete}/effort", id: "choose-effort", summary: "Choose the scale on which the athlete says how hard a set was",
		do: access.Log, words: "chose the scale of effort",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		Body EffortChosen
	},
	) (*told[EffortChosen], error) {
		return tell(in.Body, s.app.ChooseEffort(ctx, in.Athlete, in.Body.Effort))
	})
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/progress", id: "get-progress", summary: "What an athlete is told of themselves",
		do: access.SeeOwn, words: "read the progress",
	}, s.progress)
}

func (s *server) amend(ctx context.Context, v *visit, in *struct {
	OfAthlete
	Date string `path:"date" maxLength:"10" doc:"The date of the day"`
	Body DayAmended
},
) (*told[athlete.Day], error) {
	on, err := s.date("date", in.Date, 0)
	if err != nil {
		return nil, err
	}
	if err := s.logged("date", on); err != nil {
		return nil, err
	}
	b := &in.Body
	put := athlete.Day{Date: on}
	if b.Put != nil && b.Put.Date != on || b.Seen != nil && b.Seen.Date != on {
		return nil, fault.New(fault.Invalid, "the date is not that of the address.").WithField("date")
	}
	if b.Put != nil {
		put = *b.Put
	}
	if put.WeightStands != nil {
		put.WeightStands.Who = v.by()
	}
	changed := valuesOf(&put)
	for _, name := range b.Drop {
		if _, both := changed[name]; both {
			return nil, fault.New(fault.Invalid, "a value cannot be set and taken out at once.").WithField("drop")
		}
	}
	names := slices.Sorted(maps.Keys(changed))
	if names = append(names, b.Drop...); len(names) == 0 {
		return nil, fault.New(fault.Invalid, "nothing is changed.").WithField("put").WithHint("Give values to put, or names to drop.")
	}
	return tell(s.app.Amend(ctx, in.Athlete, on, app.Source{Name: "api", Who: v.by()}, func(now athlete.Day) (athlete.Day, []string, error) {
		if b.Seen != nil {
			if err := sameStill(names, &now, b.Seen); err != nil {
				return put, nil, err
			}
		}
		return put, b.Drop, nil
	}))
}

// sameStill is a conflict where a value is not what was seen.
func sameStill(names []string, now, seen *athlete.Day) error {
	is, was := valuesOf(now), valuesOf(seen)
	for _, name := range names {
		if !bytes.Equal(is[name], was[name]) {
			return fault.New(fault.Conflict, "the value was changed since you saw it.").WithField(name).
				WithHint("Read the day again, and send what you still want.")
		}
	}
	return nil
}

// valuesOf are the values that a day has, by their names, without its date.
func valuesOf(d *athlete.Day) map[string]json.RawMessage {
	out := map[string]json.RawMessage{}
	text, err := json.Marshal(d)
	if err == nil {
		err = json.Unmarshal(text, &out)
	}
	if err != nil {
		panic(err) // plain data
	}
	delete(out, "date")
	return out
}

func (s *server) checkIns(ctx context.Context, _ *visit, in *listing) (*listed[athlete.CheckIn], error) {
	from, to, err := s.dates(in.InSpan)
	if err != nil {
		return nil, err
	}
	all, err := s.app.CheckIns(ctx, in.Athlete, to)
	if err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(c athlete.CheckIn) bool { return c.Date < from })
	return page(in.OnPage, "/api/v1/athletes/"+in.Athlete+"/check-ins", query("from", in.From, "to", in.To), all,
		func(c *athlete.CheckIn) string { return c.Date.String() }), nil
}

func (s *server) checkIn(ctx context.Context, v *visit, in *struct {
	OfAthlete
	Body CheckInSent
},
) (*told[athlete.CheckIn], error) {
	b := &in.Body
	if err := s.logged("date", b.Date); err != nil {
		return nil, err
	}
	err := each("measurements", b.Measurements, func(m *athlete.Measurement) error { return s.logged("date", m.Date) })
	if err != nil {
		return nil, err
	}
	c := athlete.CheckIn{Date: b.Date, Words: b.Words, Signs: b.Signs}
	if err := s.app.CheckIn(ctx, in.Athlete, c, b.Measurements, app.Source{Name: "api", Who: v.by()}); err != nil {
		return nil, err
	}
	kept, err := s.app.CheckIns(ctx, in.Athlete, b.Date)
	if err != nil {
		return nil, err
	}
	return &told[athlete.CheckIn]{kept[len(kept)-1]}, nil
}

func (s *server) progress(ctx context.Context, _ *visit, in *struct {
	OfAthlete
	OnDate
	Weeks int `query:"weeks" minimum:"1" maximum:"520" default:"8" doc:"How far back the trend goes"`
},
) (*told[Progressed], error) {
	on, err := s.date("as_of", in.AsOf, s.today())
	if err != nil {
		return nil, err
	}
	p, err := s.app.Progress(ctx, in.Athlete, on)
	if err != nil {
		return nil, err
	}
	out := Progressed{AthleteID: in.Athlete, AsOf: on, Trend: []TrendOn{}, Prescription: p.Current, Days: []athlete.Day{}}
	const week = 7
	if p.Reading.Evidence.WeightsTotal > 0 {
		for i := range p.Reading.Daily {
			if e := &p.Reading.Daily[i]; e.Date >= on.AddDays(-week*in.Weeks) {
				out.Trend = append(out.Trend, TrendOn{e.Date, e.WeightKg, e.TrendKg})
			}
		}
	}
	for _, d := range p.Days {
		if d.Date > on.AddDays(-week) && !d.Empty() {
			out.Days = append(out.Days, d)
		}
	}
	return &told[Progressed]{out}, nil
}
