package app

import (
	"context"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// Supposition is a season as it might be: other dates of shows and events, another
// target, events more. The zero value changes nothing.
type Supposition struct {
	Shows []MovedShow `json:"shows,omitempty"`
	// Target and tolerance of the show that is planned for; nil leaves them.
	TargetBodyFatPct   *float64        `json:"target_body_fat_pct,omitempty"`
	TargetTolerancePct *float64        `json:"target_tolerance_pct,omitempty"`
	Moved              []MovedEvent    `json:"moved,omitempty"`
	Events             []athlete.Event `json:"events,omitempty"` // besides those there are
}

// MovedShow is a show on another date.
type MovedShow struct {
	ID   string     `json:"id"`
	Date civil.Date `json:"date"`
}

// MovedEvent is an event, told by its kind and dates as they are, on other dates.
type MovedEvent struct {
	Kind string  `json:"kind"`
	Was  Stretch `json:"was"`
	To   Stretch `json:"to"`
}

// Stretch is from a day to another, both included.
type Stretch struct {
	From civil.Date `json:"from"`
	To   civil.Date `json:"to"`
}

// mostAheadDays is how far ahead a season may be supposed (judgement).
const mostAheadDays = 3 * 366

// Of gives the profile as it is supposed, and leaves the given one as it is. showID is
// the show that is planned for. A show or an event that is not there is NotFound; a
// show that has been, or that would not lie within three years after asOf, is Invalid.
func (s *Supposition) Of(a athlete.Athlete, showID string, asOf civil.Date) (athlete.Athlete, error) {
	events := a.Events
	a.Shows, a.Events = slices.Clone(a.Shows), slices.Clone(a.Events)
	for _, m := range s.Shows {
		show := showByID(&a, m.ID)
		switch {
		case show == nil:
			return a, fault.New(fault.NotFound, "there is no show with the id %q any more.", m.ID).WithField("shows.date")
		case show.Date <= asOf:
			return a, fault.New(fault.Invalid, "the show %q on %s has been.", show.Name, show.Date).WithField("shows.date")
		case m.Date <= asOf || m.Date > asOf.AddDays(mostAheadDays):
			return a, fault.New(fault.Invalid, "the show must lie after %s, and within three years.", asOf).WithField("shows.date")
		}
		show.Date = m.Date
	}
	if s.TargetBodyFatPct != nil || s.TargetTolerancePct != nil {
		show := showByID(&a, showID)
		if show == nil {
			return a, fault.New(fault.NotFound, "there is no show to have another target.").WithField("shows.target_body_fat_pct")
		}
		if s.TargetBodyFatPct != nil {
			show.TargetBodyFatPct = *s.TargetBodyFatPct
		}
		if s.TargetTolerancePct != nil {
			show.TargetTolerance = *s.TargetTolerancePct
		}
	}
	for _, m := range s.Moved {
		i := slices.IndexFunc(events, func(e athlete.Event) bool {
			return e.Kind == m.Kind && e.From == m.Was.From && e.To == m.Was.To
		})
		if i < 0 {
			return a, fault.New(fault.NotFound, "there is no such event any more.").WithField("events")
		}
		a.Events[i].From, a.Events[i].To = m.To.From, m.To.To
	}
	a.Events = append(a.Events, s.Events...)
	return a, a.Validate()
}

// WhatIf is today's plan beside a supposed one; neither has a review.
type WhatIf struct{ Now, Then *Dossier }

// WhatIf reckons the season as it is and as it is supposed. Nothing is stored.
func (a *App) WhatIf(ctx context.Context, id string, asOf civil.Date, s *Supposition, o Options) (*WhatIf, error) {
	o.NoReview, o.Suppose = true, nil
	now, err := a.Dossier(ctx, id, asOf, o)
	if err != nil {
		return nil, err
	}
	then, err := a.Suppose(ctx, now, s, o)
	return &WhatIf{now, then}, err
}

// Suppose is WhatIf where today's plan is reckoned already.
func (a *App) Suppose(ctx context.Context, now *Dossier, s *Supposition, o Options) (*Dossier, error) {
	if now.Show != nil {
		o.ShowID = now.Show.ID // it stays the one that is planned for, whichever is then the next
	}
	changed, err := s.Of(now.Athlete, o.ShowID, now.AsOf)
	if err != nil {
		return nil, err
	}
	o.NoReview = true
	o.Suppose = func(p *athlete.Athlete) { p.Shows, p.Events = changed.Shows, changed.Events }
	return a.Dossier(ctx, now.Athlete.ID, now.AsOf, o)
}

// ChangeSeason keeps a supposition, as one change of the profile; showID "" is the
// next show.
func (a *App) ChangeSeason(ctx context.Context, id, showID string, s *Supposition, asOf civil.Date) error {
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		if next := p.NextShow(asOf); showID == "" && next != nil {
			showID = next.ID
		}
		changed, err := s.Of(*p, showID, asOf)
		if err != nil {
			return err
		}
		p.Shows, p.Events = changed.Shows, changed.Events
		return nil
	})
}
