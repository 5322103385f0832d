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
	Programme int          `json:"programme,omitempty"`
	Name      string       `json:"name,omitempty"`
	Week      int          `json:"week,omitempty"` // of the programme, from 1
	Deload    bool         `json:"deload,omitempty"`
	Sessions  []DueSession `json:"sessions"`
	// Unplanned are exercises that are logged on the date and in no session of it,
	// and those asked for besides.
	Unplanned []DueExercise    `json:"unplanned,omitempty"`
	Logged    []athlete.Set    `json:"logged"`            // on the date, in order
	Session   *athlete.Session `json:"session,omitempty"` // how it felt as a whole
	// Before is the session before; nil where none is logged.
	Before *athlete.Session `json:"before,omitempty"`
	// Recent are the exercises done before the date, the latest first.
	Recent   []LastDone `json:"recent,omitempty"`
	Cautions []string   `json:"cautions,omitempty"`
}

// LastDone is an exercise as it was done last, by the name it was logged under.
type LastDone struct {
	Exercise string        `json:"exercise"`
	On       civil.Date    `json:"on"`
	Sets     []athlete.Set `json:"sets"` // of that day, in order

	key string // of the lift
}

// DueSession is a session of the programme that falls on the day.
type DueSession struct {
	Name      string        `json:"name"`
	Notes     string        `json:"notes,omitempty"`
	Exercises []DueExercise `json:"exercises"`
}

// DueExercise is a planned exercise with what was done of it last, and today. For
// one that is not planned, the plan has the name alone.
type DueExercise struct {
	athlete.PlannedExercise
	LastOn civil.Date    `json:"last_on,omitzero"`
	Last   []athlete.Set `json:"last"`           // the sets of that day
	Done   []athlete.Set `json:"done,omitempty"` // on the date, under whatever name
	// Loads are the regions that the catalogue says it loads, and BodyLoad that its
	// load is mostly the body itself.
	Loads    []athlete.Region `json:"loads,omitempty"`
	BodyLoad bool             `json:"body_load,omitempty"`
	// Stop says why it is not to be done before a clinician agrees; "" where it is.
	Stop string `json:"stop,omitempty"`
}

// GymDay is what is due and logged on a date. besides are exercises to show among
// the unplanned.
func (a *App) GymDay(ctx context.Context, id string, on civil.Date, besides ...string) (*GymDay, error) {
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
		out = f.gymDay(on, besides)
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

func (f *facts) gymDay(on civil.Date, besides []string) *GymDay {
	out := &GymDay{Date: on, Phase: f.phase(on), Sessions: []DueSession{}, Logged: []athlete.Set{}}
	for i := range f.sets {
		if f.sets[i].Date == on {
			out.Logged = append(out.Logged, f.sets[i])
		}
	}
	for i := range f.sessions {
		switch s := &f.sessions[i]; {
		case s.Date == on:
			out.Session = s
		case s.Date < on:
			out.Before = s
		}
	}
	g := gymReader{f: f, hurt: f.athlete.Hurt(on), logged: out.Logged, keys: map[string]string{}, shown: map[string]bool{}}
	g.readBefore(on)
	out.Recent = g.before[:min(len(g.before), mostRecent)]
	for _, r := range g.hurt {
		out.Cautions = append(out.Cautions, fmt.Sprintf("The %s is noted as hurt. What loads it waits for a clinician’s word.", r))
	}
	if p := athlete.ProgrammeOn(f.programmes, on, out.Phase); p != nil {
		week, number := p.WeekOn(on)
		out.Programme, out.Name, out.Week, out.Deload = p.Version, p.Name, number+1, week.Deload
		for _, s := range p.SessionsOn(on, f.athlete.TrainingDays) {
			due := DueSession{Name: s.Name, Notes: s.Notes}
			for _, e := range s.Exercises {
				due.Exercises = append(due.Exercises, g.due(e))
			}
			out.Sessions = append(out.Sessions, due)
		}
	}
	names := make([]string, 0, len(out.Logged)+len(besides))
	for i := range out.Logged {
		names = append(names, out.Logged[i].Exercise)
	}
	for _, name := range append(names, besides...) {
		if !g.shown[g.key(name)] {
			out.Unplanned = append(out.Unplanned, g.due(athlete.PlannedExercise{Exercise: name}))
		}
	}
	return out
}

// mostRecent is how many exercises done before a day shows.
const mostRecent = 40

// gymReader puts the log beside what is planned for a day.
type gymReader struct {
	f      *facts
	hurt   []athlete.Region
	logged []athlete.Set // on the day
	before []LastDone
	keys   map[string]string // of lifts, by name: they take a search of the catalogue
	shown  map[string]bool   // by key
}

func (g *gymReader) key(name string) string {
	key, ok := g.keys[name]
	if !ok {
		key = g.f.catalogue.LiftKey(name)
		g.keys[name] = key
	}
	return key
}

// readBefore gathers every lift of the log before a date with the sets of its last
// day, the latest first. Spellings of one lift are one.
func (g *gymReader) readBefore(on civil.Date) {
	at := map[string]int{}
	for i := len(g.f.sets) - 1; i >= 0; i-- {
		s := &g.f.sets[i]
		if s.Date >= on {
			continue
		}
		key := g.key(s.Exercise)
		k, seen := at[key]
		if !seen {
			k = len(g.before)
			at[key] = k
			g.before = append(g.before, LastDone{Exercise: s.Exercise, On: s.Date, key: key})
		}
		if g.before[k].On == s.Date {
			g.before[k].Sets = append(g.before[k].Sets, *s)
		}
	}
	for i := range g.before {
		slices.Reverse(g.before[i].Sets)
	}
}

// due adds to an exercise what was done of its lift last and today, under whatever
// name. Where a lift is due twice, what was done of it today stands with the first.
func (g *gymReader) due(e athlete.PlannedExercise) DueExercise {
	key := g.key(e.Exercise)
	out := DueExercise{PlannedExercise: e, Last: []athlete.Set{}}
	if i := slices.IndexFunc(g.before, func(o LastDone) bool { return o.key == key }); i >= 0 {
		out.LastOn, out.Last = g.before[i].On, g.before[i].Sets
	}
	for i := range g.logged {
		if s := &g.logged[i]; !g.shown[key] && g.key(s.Exercise) == key {
			out.Done = append(out.Done, *s)
		}
	}
	g.shown[key] = true
	known, ok := g.f.catalogue.Lookup(e.Exercise)
	if !ok {
		return out
	}
	out.Loads, out.BodyLoad = known.Exercise.Loads, known.Exercise.BodyLoad
	for _, r := range g.hurt {
		if slices.Contains(out.Loads, r) {
			out.Stop = fmt.Sprintf("It loads the %s, which is noted as hurt: ask a clinician first.", r)
		}
	}
	return out
}
