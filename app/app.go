package app

import (
	"context"
	"runtime"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// App is the program without its edges. Store and Now must be set.
type App struct {
	Store Store
	Now   func() time.Time // for records of who did what when; never for reckoning
	// Workers is how many cores a roster may use; 0 is all. Answers do not depend
	// on it.
	Workers int
	// Units, where set, are those of every sentence; else they are the athlete's.
	Units athlete.Units
	// Confidence is that of every review whose options name none; 0 is
	// DefaultConfidence.
	Confidence float64
}

func (a *App) workers() int {
	if a.Workers > 0 {
		return a.Workers
	}
	return runtime.NumCPU()
}

// firstDate and farFuture bound "all dates" in the store.
var (
	firstDate = civil.Of(1900, 1, 1)
	farFuture = civil.Of(9999, 12, 31)
)

// Athletes lists everybody by ID.
func (a *App) Athletes(ctx context.Context) (out []athlete.Athlete, err error) {
	err = a.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Athletes()
		return err
	})
	return out, err
}

// Athlete is one profile.
func (a *App) Athlete(ctx context.Context, id string) (out *athlete.Athlete, err error) {
	err = a.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Athlete(id)
		return err
	})
	return out, err
}

// AddAthlete takes in a new profile. An ID that is taken is a Conflict; a show
// in the past of asOf is Invalid unless history is true.
func (a *App) AddAthlete(ctx context.Context, profile athlete.Athlete, asOf civil.Date, history bool) error {
	if err := checkProfile(&profile, asOf, history); err != nil {
		return err
	}
	return a.Store.Write(ctx, func(tx Tx) error {
		switch _, err := tx.Athlete(profile.ID); {
		case err == nil:
			return fault.New(fault.Conflict, "there is already an athlete with the id %q.", profile.ID).
				WithField("id").WithHint("Choose another id, or edit the athlete there is.")
		case fault.KindOf(err) != fault.NotFound:
			return err
		}
		return tx.PutAthlete(&profile)
	})
}

// EditAthlete replaces a profile; the older version is kept.
func (a *App) EditAthlete(ctx context.Context, profile athlete.Athlete, asOf civil.Date) error {
	return a.Store.Write(ctx, func(tx Tx) error {
		old, err := tx.Athlete(profile.ID)
		if err != nil {
			return err
		}
		// Shows that were already there may lie in the past.
		fresh := profile
		fresh.Shows = nil
		for _, s := range profile.Shows {
			if !hadShow(old, s) {
				fresh.Shows = append(fresh.Shows, s)
			}
		}
		if err := checkProfile(&fresh, asOf, false); err != nil {
			return err
		}
		if err := profile.Validate(); err != nil {
			return err
		}
		return tx.PutAthlete(&profile)
	})
}

func hadShow(a *athlete.Athlete, s athlete.Show) bool {
	for _, o := range a.Shows {
		if o.ID == s.ID && o.Date == s.Date {
			return true
		}
	}
	return false
}

func checkProfile(p *athlete.Athlete, asOf civil.Date, history bool) error {
	if err := p.Validate(); err != nil {
		return err
	}
	if p.BirthDate >= asOf {
		return fault.New(fault.Invalid, "the birth date %s is not in the past.", p.BirthDate).WithField("birth_date")
	}
	for _, s := range p.Shows {
		if !history && s.Date < asOf {
			return fault.New(fault.Invalid, "the show %q on %s is in the past of %s.", s.Name, s.Date, asOf).
				WithField("shows.date").WithHint("Give a date to come, or import it as history.")
		}
	}
	return nil
}

// RemoveAthlete erases an athlete and all that belongs to them.
func (a *App) RemoveAthlete(ctx context.Context, id string) error {
	return a.Store.Write(ctx, func(tx Tx) error { return tx.RemoveAthlete(id) })
}

// edit changes a profile in one transaction.
func (a *App) edit(ctx context.Context, id string, change func(*athlete.Athlete) error) error {
	return a.Store.Write(ctx, func(tx Tx) error {
		p, err := tx.Athlete(id)
		if err != nil {
			return err
		}
		if err := change(p); err != nil {
			return err
		}
		if err := p.Validate(); err != nil {
			return err
		}
		return tx.PutAthlete(p)
	})
}

// AddShow adds a show, or replaces the one with the same ID.
func (a *App) AddShow(ctx context.Context, id string, s athlete.Show, asOf civil.Date) error {
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		if s.Date < asOf {
			return fault.New(fault.Invalid, "the show %q on %s is in the past of %s.", s.Name, s.Date, asOf).
				WithField("shows.date").WithHint("Give a date to come.")
		}
		if s.ID == "" {
			s.ID = s.Date.String()
		}
		for i := range p.Shows {
			if p.Shows[i].ID == s.ID {
				p.Shows[i] = s
				return nil
			}
		}
		p.Shows = append(p.Shows, s)
		return nil
	})
}

// AddEvent adds a stretch of days on which the plan must bend.
func (a *App) AddEvent(ctx context.Context, id string, e athlete.Event) error {
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		p.Events = append(p.Events, e)
		return nil
	})
}

// AddClearance records a clinician's clearance.
func (a *App) AddClearance(ctx context.Context, id string, c athlete.Clearance) error {
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		p.Screening.Clearances = append(p.Screening.Clearances, c)
		return nil
	})
}

// Screen replaces the answers of the screening.
func (a *App) Screen(ctx context.Context, id string, on civil.Date, cautions []athlete.Caution) error {
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		p.Screening.AnsweredOn, p.Screening.Cautions = on, cautions
		return nil
	})
}

// ChangeLimit sets one limit by its JSON name and records who, when and why.
func (a *App) ChangeLimit(ctx context.Context, id, field string, value float64, who, why string) error {
	if why == "" || who == "" {
		return fault.New(fault.Invalid, "a limit is changed with a name and a reason.").WithField("why")
	}
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		l := p.EffectiveLimits()
		at := l.Field(field)
		if at == nil {
			return fault.New(fault.Invalid, "there is no limit %q.", field).WithField("field").
				WithHint("The limits are %v.", athlete.LimitFields())
		}
		l.Changes = append(l.Changes, athlete.LimitChange{Field: field, Old: *at, New: value, Who: who, When: a.Now().UTC(), Why: why})
		*at = value
		p.Limits = &l
		return nil
	})
}

// AllowLowAvailability lets the plan go under the floor of energy availability
// for a few weeks, with a written reason.
func (a *App) AllowLowAvailability(ctx context.Context, id string, la athlete.LowAvailability) error {
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		l := p.EffectiveLimits()
		if old := l.LowAvailability; old != nil && la.From > old.From {
			// Weeks in a row count together, however often leave is given.
			end := old.From.AddDays(7 * old.Weeks)
			if la.From <= end && la.From.AddDays(7*la.Weeks) > old.From.AddDays(7*athlete.LowAvailabilityMaxWeeks) {
				return fault.New(fault.Refused, "with the leave from %s that makes more than %d weeks in a row below the floor of energy availability.",
					old.From, athlete.LowAvailabilityMaxWeeks).WithField("limits.low_availability").
					WithHint("Plan at the floor or above for a while after %s first.", end.AddDays(-1))
			}
		}
		l.LowAvailability = &la
		p.Limits = &l
		return nil
	})
}
