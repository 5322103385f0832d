package app

import (
	"context"
	"fmt"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// Programmes lists the programmes made to start on or before a date, by version.
func (a *App) Programmes(ctx context.Context, id string, to civil.Date) ([]athlete.Programme, error) {
	return read(ctx, a, func(tx Tx) ([]athlete.Programme, error) { return tx.Programmes(id, to) })
}

// AddProgramme keeps a programme as the next version and gives its number.
func (a *App) AddProgramme(ctx context.Context, id string, p athlete.Programme, who string) (version int, err error) {
	p.Author = who
	err = a.Store.Write(ctx, func(tx Tx) error { return tx.AddProgramme(id, &p) })
	return p.Version, err
}

// DropSet takes a set out of the log; what it was is kept as a correction.
func (a *App) DropSet(ctx context.Context, id string, on civil.Date, exercise string, order int, from Source) (out Merge, err error) {
	if from.At.IsZero() {
		from.At = a.Now().UTC()
	}
	err = a.Store.Write(ctx, func(tx Tx) error {
		out, err = tx.DropSet(id, on, exercise, order, from)
		return err
	})
	return out, err
}

// AddInjury records a hurt that bounds training until a clinician says that it is
// over.
func (a *App) AddInjury(ctx context.Context, id string, in athlete.Injury) error {
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		for i := range p.Injuries {
			if old := &p.Injuries[i]; old.Where == in.Where && old.From == in.From {
				*old = in
				return nil
			}
		}
		p.Injuries = append(p.Injuries, in)
		return nil
	})
}

// EndInjury records that a clinician said that the open injury of a region is
// over, from the day after until on.
func (a *App) EndInjury(ctx context.Context, id string, where athlete.Region, until civil.Date, clinician string) error {
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		for i := range p.Injuries {
			if in := &p.Injuries[i]; in.Where == where && in.Until.IsZero() {
				in.Until, in.Clinician = until, clinician
				return nil
			}
		}
		return fault.New(fault.NotFound, "no injury of the %s is open.", where).WithField("injuries.where")
	})
}

// GymDay is a day's training as the athlete meets it.
type GymDay struct {
	Date  civil.Date        `json:"date"`
	Phase athlete.PhaseKind `json:"phase"`
	// Programme is the version in force; 0 is none.
	Programme int              `json:"programme,omitempty"`
	Name      string           `json:"name,omitempty"`
	Week      int              `json:"week,omitempty"` // of the programme, from 1
	Deload    bool             `json:"deload,omitempty"`
	Sessions  []DueSession     `json:"sessions"`
	Logged    []athlete.Set    `json:"logged"`            // on the date, in order
	Session   *athlete.Session `json:"session,omitempty"` // how it felt as a whole
	Cautions  []string         `json:"cautions,omitempty"`
}

// DueSession is a session of the programme that falls on the day.
type DueSession struct {
	Name      string        `json:"name"`
	Notes     string        `json:"notes,omitempty"`
	Exercises []DueExercise `json:"exercises"`
}

// DueExercise is a planned exercise with what was done of it last.
type DueExercise struct {
	athlete.PlannedExercise
	LastOn civil.Date    `json:"last_on,omitzero"`
	Last   []athlete.Set `json:"last"` // the sets of that day
	// Stop says why it is not to be done before a clinician agrees; "" where it is.
	Stop string `json:"stop,omitempty"`
}

// GymDay is what is due and logged on a date.
func (a *App) GymDay(ctx context.Context, id string, on civil.Date) (*GymDay, error) {
	var out *GymDay
	err := a.Store.Read(ctx, func(tx Tx) error {
		f := &facts{}
		p, err := tx.Athlete(id)
		if err != nil {
			return err
		}
		f.athlete = *p
		if err := f.loadTraining(tx, id, on); err != nil {
			return err
		}
		if f.prescriptions, err = tx.Prescriptions(id, on); err != nil {
			return err
		}
		out = f.gymDay(on)
		return nil
	})
	return out, err
}

// loadTraining loads what a day at the gym needs of the log and the programmes.
func (f *facts) loadTraining(tx Tx, id string, to civil.Date) (err error) {
	if f.sets, err = tx.Sets(id, firstDate, to); err != nil {
		return err
	}
	if f.sessions, err = tx.Sessions(id, firstDate, to); err != nil {
		return err
	}
	if f.programmes, err = tx.Programmes(id, to); err != nil {
		return err
	}
	f.catalogue, err = catalogue(tx)
	return err
}

// phase is that of the prescription in force; without one it is the off-season.
func (f *facts) phase(on civil.Date) athlete.PhaseKind {
	if c := f.current(on); c != nil && c.Phase != "" {
		return c.Phase
	}
	return athlete.OffSeason
}

func (f *facts) gymDay(on civil.Date) *GymDay {
	out := &GymDay{Date: on, Phase: f.phase(on), Sessions: []DueSession{}, Logged: []athlete.Set{}}
	for i := range f.sets {
		if f.sets[i].Date == on {
			out.Logged = append(out.Logged, f.sets[i])
		}
	}
	for i := range f.sessions {
		if f.sessions[i].Date == on {
			out.Session = &f.sessions[i]
		}
	}
	hurt := f.athlete.Hurt(on)
	for _, r := range hurt {
		out.Cautions = append(out.Cautions, fmt.Sprintf("The %s is noted as hurt. What loads it waits for a clinician’s word.", r))
	}
	p := athlete.ProgrammeOn(f.programmes, on, out.Phase)
	if p == nil {
		return out
	}
	week, number := p.WeekOn(on)
	out.Programme, out.Name, out.Week, out.Deload = p.Version, p.Name, number+1, week.Deload
	for _, s := range p.SessionsOn(on, f.athlete.TrainingDays) {
		due := DueSession{Name: s.Name, Notes: s.Notes}
		for _, e := range s.Exercises {
			due.Exercises = append(due.Exercises, f.due(e, on, hurt))
		}
		out.Sessions = append(out.Sessions, due)
	}
	return out
}

// due adds to a planned exercise what was done of it last, under whatever name.
func (f *facts) due(e athlete.PlannedExercise, on civil.Date, hurt []athlete.Region) DueExercise {
	out := DueExercise{PlannedExercise: e, Last: []athlete.Set{}}
	planned, known := f.catalogue.Lookup(e.Exercise)
	same := map[string]bool{}
	for i := len(f.sets) - 1; i >= 0; i-- {
		s := &f.sets[i]
		if s.Date >= on || !out.LastOn.IsZero() && s.Date != out.LastOn {
			if !out.LastOn.IsZero() {
				break
			}
			continue
		}
		is, seen := same[s.Exercise]
		if !seen {
			is = f.catalogue.SameLift(s.Exercise, e.Exercise)
			same[s.Exercise] = is
		}
		if is {
			out.LastOn = s.Date
			out.Last = append(out.Last, *s)
		}
	}
	slices.Reverse(out.Last)
	for _, r := range hurt {
		if known && slices.Contains(planned.Exercise.Loads, r) {
			out.Stop = fmt.Sprintf("It loads the %s, which is noted as hurt: ask a clinician first.", r)
		}
	}
	return out
}
