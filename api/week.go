package api

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"time"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/fault"
)

// ReviewKept is a stored review with the decision on it.
type ReviewKept struct {
	Date      civil.Date            `json:"date"`
	Proposal  *decision.Proposal    `json:"proposal,omitempty"` // none in a review of an old archive
	Draft     *athlete.Prescription `json:"draft,omitempty"`
	Decision  app.Decision          `json:"decision" enum:",accepted,edited,declined"`
	Reason    string                `json:"reason,omitempty"`
	Who       string                `json:"who,omitempty"`
	DecidedAt time.Time             `json:"decided_at,omitzero"`
	Version   int                   `json:"version,omitempty"` // of the prescription that it led to
}

// Decided is what the coach does with a review.
type Decided struct {
	Decision app.Decision `json:"decision" enum:"accepted,edited,declined"`
	app.Edit
	Reason string `json:"reason,omitempty" doc:"Needed to decline"`
}

// Outcome is what a decision led to.
type Outcome struct {
	Decision     app.Decision          `json:"decision"`
	Prescription *athlete.Prescription `json:"prescription,omitempty"`
}

// Tried is what an edit would come to, beside what stands and what is proposed.
type Tried struct {
	About
	Now      app.Effect            `json:"now"`
	Proposed app.Effect            `json:"proposed"`
	Edited   app.Effect            `json:"edited"`
	Refused  []Detail              `json:"refused,omitempty"` // why deciding so would be refused
	Draft    *athlete.Prescription `json:"draft,omitempty"`   // what deciding so would prescribe; none where refused
}

// Ordered is a coach's own prescription; its version and author are not the
// coach's to say.
type Ordered struct {
	From    civil.Date              `json:"from"`
	Days    []athlete.DayPrescribed `json:"days"`
	Steps   float64                 `json:"steps_per_day"`
	Cardio  []athlete.CardioPlan    `json:"cardio,omitempty"`
	Sets    []athlete.MuscleSets    `json:"hard_sets,omitempty"`
	Phase   athlete.PhaseKind       `json:"phase" enum:"off-season,pre-prep,prep,peak week,show day,recovery"`
	Reasons []string                `json:"reasons"`
	Rule    string                  `json:"rule,omitempty"`
	Refeeds []athlete.Weekday       `json:"refeeds,omitempty"`
}

func (s *server) week() {
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/reviews", id: "make-review",
		summary: "Make the review of a date and keep it, undecided; a decision that was made stands",
		do:      access.Draft, words: "made a review",
	}, func(ctx context.Context, _ *visit, in *Proposing) (*told[Proposed], error) {
		on, err := s.date("as_of", in.AsOf, s.today())
		if err != nil {
			return nil, err
		}
		d, err := s.app.Review(ctx, in.Athlete, on, app.Options{
			ShowID: in.Show, Futures: -1, Workers: s.o.Workers, Confidence: in.Confidence,
		})
		if err != nil {
			return nil, err
		}
		return propose(d)
	})
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/reviews", id: "list-reviews", summary: "List the reviews and what was decided",
		do: access.See, words: "read the reviews",
	}, s.listReviews)
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/reviews/{date}/decision", id: "decide",
		summary: "Accept, edit or decline the review of a date",
		do:      access.Decide, words: "decided on a review",
	}, s.decide)
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/reviews/{date}/try", id: "try-out",
		summary: "What an edit of the proposal of a date would come to; nothing is kept",
		do:      access.See, words: "tried out an edit",
	}, s.tryOut)
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/prescription", id: "get-prescription", summary: "The prescription that stands on a date",
		do: access.SeeOwn, words: "read the prescription",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		OnDate
	},
	) (*told[athlete.Prescription], error) {
		on, err := s.date("as_of", in.AsOf, s.today())
		if err != nil {
			return nil, err
		}
		p, err := s.app.Prescription(ctx, in.Athlete, on)
		if err != nil {
			return nil, err
		}
		if p == nil {
			return nil, fault.New(fault.NotFound, "nothing is prescribed on %s.", on)
		}
		return &told[athlete.Prescription]{*p}, nil
	})
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/prescriptions", id: "list-prescriptions", summary: "Every prescription, by version",
		do: access.See, words: "read the prescriptions",
	}, s.listPrescriptions)
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/prescriptions", id: "prescribe",
		summary: "Prescribe of your own, within the limits", status: http.StatusCreated,
		do: access.Decide, words: "prescribed",
	}, s.prescribe)
}

func (s *server) listReviews(ctx context.Context, _ *visit, in *listing) (*listed[ReviewKept], error) {
	from, to, err := s.dates(in.InSpan)
	if err != nil {
		return nil, err
	}
	all, err := s.app.Reviews(ctx, in.Athlete, to)
	if err != nil {
		return nil, err
	}
	var out []ReviewKept
	for i := range all {
		r := &all[i]
		if r.Date < from {
			continue
		}
		k := ReviewKept{Date: r.Date, Decision: r.Decision, Reason: r.Reason, Who: r.Who, DecidedAt: r.DecidedAt, Version: r.Version}
		if len(r.Proposal) > 0 {
			var kept app.Reviewed
			if err := json.Unmarshal(r.Proposal, &kept); err != nil {
				return nil, err
			}
			k.Proposal, k.Draft = &kept.Proposal, kept.Draft
		}
		out = append(out, k)
	}
	return page(in.OnPage, "/api/v1/athletes/"+in.Athlete+"/reviews", query("from", in.From, "to", in.To), out,
		func(r *ReviewKept) string { return r.Date.String() }), nil
}

func (s *server) decide(ctx context.Context, v *visit, in *struct {
	OfAthlete
	Date string `path:"date" maxLength:"10" doc:"The date of the review"`
	Body Decided
},
) (*told[Outcome], error) {
	on, err := s.date("date", in.Date, 0)
	if err != nil {
		return nil, err
	}
	b := &in.Body
	switch edits := b.Edit != (app.Edit{}); {
	case edits && b.Decision != app.Edited:
		return nil, fault.New(fault.Invalid, "a change of the proposal goes with the decision %q.", app.Edited).WithField("decision")
	case !edits && b.Decision == app.Edited:
		return nil, fault.New(fault.Invalid, "nothing of the proposal is changed.").WithField("decision").
			WithHint("Give energy_kcal, steps_per_day or cardio_minutes_per_week, or accept it.")
	}
	if err := possible(b.Edit); err != nil {
		return nil, err
	}
	p, err := s.app.Decide(ctx, in.Athlete, on, b.Decision, b.Edit, b.Reason, v.by())
	return tell(Outcome{b.Decision, p}, err)
}

// possible refuses an edit that nobody can mean, so that the engine reckons with
// what a body can do only.
func possible(e app.Edit) error {
	const most = 60_000 // steps a day; the others are far below
	var all []error
	for _, f := range []struct {
		field string
		value *float64
	}{{"energy_kcal", e.EnergyKcal}, {"steps_per_day", e.StepsPerDay}, {"cardio_minutes_per_week", e.CardioMinutes}} {
		if f.value != nil && (*f.value < 0 || *f.value > most) {
			all = append(all, fault.New(fault.Invalid, "the value is outside 0 to %d.", most).WithField(f.field))
		}
	}
	return errors.Join(all...)
}

func (s *server) tryOut(ctx context.Context, _ *visit, in *struct {
	OfAthlete
	Date string `path:"date" maxLength:"10" doc:"The date to reckon for"`
	ForShow
	Surely
	Body app.Edit
},
) (*told[Tried], error) {
	if err := possible(in.Body); err != nil {
		return nil, err
	}
	on, err := s.date("date", in.Date, 0)
	if err != nil {
		return nil, err
	}
	d, err := s.app.Dossier(ctx, in.Athlete, on, app.Options{
		ShowID: in.Show, Futures: -1, Workers: s.o.Workers, Confidence: in.Confidence,
	})
	if err != nil {
		return nil, err
	}
	if err := hasSeason(d); err != nil {
		return nil, err
	}
	t, err := s.app.TryOut(ctx, d, in.Body)
	if err != nil {
		return nil, err
	}
	return &told[Tried]{Tried{about(d), t.Now, t.Proposed, t.Edited, details(t.Refused), t.Draft}}, nil
}

func (s *server) listPrescriptions(ctx context.Context, _ *visit, in *listing) (*listed[athlete.Prescription], error) {
	from, to, err := s.dates(in.InSpan)
	if err != nil {
		return nil, err
	}
	all, err := s.app.Prescriptions(ctx, in.Athlete, to)
	if err != nil {
		return nil, err
	}
	var out []athlete.Prescription
	for i := range all {
		if all[i].From >= from {
			out = append(out, all[i])
		}
	}
	return page(in.OnPage, "/api/v1/athletes/"+in.Athlete+"/prescriptions", query("from", in.From, "to", in.To), out, versionKey), nil
}

func (s *server) prescribe(ctx context.Context, v *visit, in *struct {
	OfAthlete
	Body Ordered
},
) (*made[athlete.Prescription], error) {
	b := &in.Body
	if err := s.plausible("from", b.From); err != nil {
		return nil, err
	}
	p, err := s.app.Prescribe(ctx, in.Athlete, athlete.Prescription{
		From: b.From, Days: b.Days, Steps: b.Steps, Cardio: b.Cardio, Sets: b.Sets, Phase: b.Phase,
		Reasons: b.Reasons, Author: v.by(), Rule: b.Rule, Refeeds: b.Refeeds, Origin: athlete.FromCoach,
	})
	if err != nil {
		return nil, err
	}
	return &made[athlete.Prescription]{"/api/v1/athletes/" + in.Athlete + "/prescription?as_of=" + p.From.String(), *p}, nil
}
