package athlete

import (
	"slices"
	"strings"

	"glidepath/civil"
)

// Programme is the lifting that a coach writes: weeks of sessions that follow
// each other from a Monday on and begin again after the last. Programmes are
// versions: a new one follows, nothing is overwritten.
type Programme struct {
	Version int        `json:"version"` // from 1, by athlete
	From    civil.Date `json:"from"`
	Name    string     `json:"name"`
	// Phase is the phase that it is for; empty is any.
	Phase  PhaseKind       `json:"phase,omitempty"`
	Weeks  []ProgrammeWeek `json:"weeks"`
	Notes  string          `json:"notes,omitempty"`
	Author string          `json:"author,omitempty"`
}

// ProgrammeWeek is a week of sessions.
type ProgrammeWeek struct {
	Deload   bool             `json:"deload,omitempty"`
	Sessions []PlannedSession `json:"sessions"`
}

// PlannedSession is a session as it is written. Without a day it falls on the
// athlete's training days in order.
type PlannedSession struct {
	Name      string            `json:"name"`
	Day       *Weekday          `json:"day,omitempty"`
	Exercises []PlannedExercise `json:"exercises"`
	Notes     string            `json:"notes,omitempty"`
}

// PlannedExercise is what to do of an exercise.
type PlannedExercise struct {
	Exercise    string   `json:"exercise"`
	Sets        int      `json:"sets"`
	RepsLow     int      `json:"reps_low"`
	RepsHigh    int      `json:"reps_high"`
	RIR         *float64 `json:"rir,omitempty"` // repetitions to leave in reserve
	RestSeconds int      `json:"rest_seconds,omitempty"`
	Notes       string   `json:"notes,omitempty"`
}

// Bounds of a programme: beyond them it is a slip.
const (
	MostProgrammeWeeks   = 26
	MostWeekSessions     = 14
	MostSessionExercises = 20
	MostPlannedSets      = 15
	mostProgrammeText    = 2000
	mostPlannedReps      = 50
	mostRestSeconds      = 900
	MostPlannedName      = 80
)

// Validate checks a programme's shape.
func (p *Programme) Validate() error {
	var c checks
	if p.From.IsZero() {
		c.add("from", "the programme has no date to start from.")
	}
	if strings.TrimSpace(p.Name) == "" || len(p.Name) > MostPlannedName {
		c.add("name", "a programme has a name of 1 to %d characters.", MostPlannedName)
	}
	if p.Phase != "" && !p.Phase.Valid() {
		c.add("phase", "the phase %q is not one of %q.", p.Phase, PhaseKinds())
	}
	if len(p.Notes) > mostProgrammeText {
		c.add("notes", "the text is longer than %d characters.", mostProgrammeText)
	}
	if len(p.Weeks) == 0 || len(p.Weeks) > MostProgrammeWeeks {
		c.add("weeks", "a programme has 1 to %d weeks, not %d.", MostProgrammeWeeks, len(p.Weeks))
	}
	for w := range p.Weeks {
		p.Weeks[w].check(&c, w+1)
	}
	return c.err()
}

func (w *ProgrammeWeek) check(c *checks, number int) {
	if len(w.Sessions) > MostWeekSessions {
		c.add("weeks.sessions", "week %d has %d sessions; %d is the most.", number, len(w.Sessions), MostWeekSessions)
	}
	for i := range w.Sessions {
		s := &w.Sessions[i]
		if strings.TrimSpace(s.Name) == "" || len(s.Name) > MostPlannedName {
			c.add("weeks.sessions.name", "session %d of week %d has no name of 1 to %d characters.", i+1, number, MostPlannedName)
		}
		if len(s.Exercises) == 0 || len(s.Exercises) > MostSessionExercises {
			c.add("weeks.sessions.exercises", "%q in week %d has %d exercises, not 1 to %d.", s.Name, number, len(s.Exercises), MostSessionExercises)
		}
		if len(s.Notes) > mostProgrammeText {
			c.add("weeks.sessions.notes", "the notes of %q in week %d are longer than %d characters.", s.Name, number, mostProgrammeText)
		}
		for j := range s.Exercises {
			s.Exercises[j].check(c)
		}
	}
}

// Validate checks an exercise by itself.
func (e *PlannedExercise) Validate() error {
	var c checks
	e.check(&c)
	return c.err()
}

func (e *PlannedExercise) check(c *checks) {
	const at = "weeks.sessions.exercises."
	if strings.TrimSpace(e.Exercise) == "" || len(e.Exercise) > MostPlannedName {
		c.add(at+"exercise", "an exercise has a name of 1 to %d characters.", MostPlannedName)
	}
	if e.Sets < 1 || e.Sets > MostPlannedSets {
		c.add(at+"sets", "%s: %d sets are outside 1 to %d.", e.Exercise, e.Sets, MostPlannedSets)
	}
	if e.RepsLow < 1 || e.RepsHigh < e.RepsLow || e.RepsHigh > mostPlannedReps {
		c.add(at+"reps", "%s: repetitions of %d to %d are not in order within 1 to %d.", e.Exercise, e.RepsLow, e.RepsHigh, mostPlannedReps)
	}
	c.optional(at+"rir", e.RIR, 0, 10, "repetitions in reserve")
	if e.RestSeconds < 0 || e.RestSeconds > mostRestSeconds {
		c.add(at+"rest", "%s: a rest of %d seconds is outside 0 to %d.", e.Exercise, e.RestSeconds, mostRestSeconds)
	}
	if len(e.Notes) > mostProgrammeText {
		c.add(at+"notes", "%s: the text is longer than %d characters.", e.Exercise, mostProgrammeText)
	}
}

// ProgrammeOn is the programme in force on a date: the newest that has begun and
// is for the phase or for any; nil where there is none. Programmes are in order of
// version.
func ProgrammeOn(all []Programme, on civil.Date, phase PhaseKind) *Programme {
	for i := len(all) - 1; i >= 0; i-- {
		if p := &all[i]; p.From <= on && (p.Phase == "" || p.Phase == phase) {
			return p
		}
	}
	return nil
}

// Of a deload: the part of the sets that stays, and the repetitions more that are
// left in reserve, up to where nobody can tell them apart any longer. Common
// practice, no source.
const (
	deloadShare   = 2 // a half
	deloadReserve = 2
	mostReserve   = 5
)

// AsDeload is the week with half the sets, rounded up, and two repetitions more in
// reserve, up to 5; loads and repetitions stay. A week that is a deload already
// stays as it is. Nothing is shared with w.
func (w ProgrammeWeek) AsDeload() ProgrammeWeek {
	out := w.Copy()
	if w.Deload {
		return out
	}
	out.Deload = true
	for i := range out.Sessions {
		for j := range out.Sessions[i].Exercises {
			e := &out.Sessions[i].Exercises[j]
			e.Sets = (e.Sets + deloadShare - 1) / deloadShare
			if e.RIR != nil {
				*e.RIR = max(*e.RIR, min(*e.RIR+deloadReserve, mostReserve))
			}
		}
	}
	return out
}

// Copy is a week that shares nothing with w.
func (w ProgrammeWeek) Copy() ProgrammeWeek {
	w.Sessions = slices.Clone(w.Sessions)
	for i := range w.Sessions {
		s := &w.Sessions[i]
		if s.Day != nil {
			s.Day = new(*s.Day)
		}
		s.Exercises = slices.Clone(s.Exercises)
		for j := range s.Exercises {
			if e := &s.Exercises[j]; e.RIR != nil {
				e.RIR = new(*e.RIR)
			}
		}
	}
	return w
}

// WeekOn is the week that is due on a date on or after From, and its place from 0.
// Weeks turn on Mondays; the first may be cut short.
func (p *Programme) WeekOn(on civil.Date) (*ProgrammeWeek, int) {
	if on < p.From || len(p.Weeks) == 0 {
		return nil, 0
	}
	i := on.Monday().DaysSince(p.From.Monday()) / 7 % len(p.Weeks)
	return &p.Weeks[i], i
}

// SessionsOn lists the sessions that are due on a date. Those with a day fall on
// it; the others on the training days that none with a day has taken, in order. Where
// there are more of them than days, the rest have none.
func (p *Programme) SessionsOn(on civil.Date, training []Weekday) []PlannedSession {
	week, _ := p.WeekOn(on)
	if week == nil {
		return nil
	}
	var taken, free []Weekday
	for i := range week.Sessions {
		if d := week.Sessions[i].Day; d != nil {
			taken = append(taken, *d)
		}
	}
	for _, d := range training {
		if !slices.Contains(taken, d) && !slices.Contains(free, d) {
			free = append(free, d)
		}
	}
	slices.SortFunc(free, func(x, y Weekday) int { return x.fromMonday() - y.fromMonday() })
	var out []PlannedSession
	today := Weekday(on.Weekday())
	for i := range week.Sessions {
		s := week.Sessions[i]
		switch {
		case s.Day != nil:
			if *s.Day == today {
				out = append(out, s)
			}
		case len(free) > 0:
			if free[0] == today {
				out = append(out, s)
			}
			free = free[1:]
		}
	}
	return out
}

func (w Weekday) fromMonday() int { return (int(w) + 6) % 7 }
