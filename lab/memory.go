package lab

import (
	"context"
	"slices"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// memory is a store for one virtual athlete whose log only ever grows. It keeps
// what the weekly review reads; for the rest of app.Tx there is no use here, and
// a call of it is a mistake in the laboratory. A database would be a third of
// the time of a season.
type memory struct {
	app.Tx

	profile       *athlete.Athlete
	days          []athlete.Day
	measurements  []athlete.Measurement
	sets          []athlete.Set
	sessions      []athlete.Session
	prescriptions []athlete.Prescription
	reviews       []app.Review
}

var _ app.Store = (*memory)(nil)

func (m *memory) Read(_ context.Context, fn func(app.Tx) error) error  { return fn(m) }
func (m *memory) Write(_ context.Context, fn func(app.Tx) error) error { return fn(m) }
func (m *memory) Close() error                                         { return nil }

func (m *memory) Athlete(id string) (*athlete.Athlete, error) {
	if m.profile == nil || m.profile.ID != id {
		return nil, fault.New(fault.NotFound, "there is no athlete with the id %q.", id)
	}
	a := *m.profile
	return &a, nil
}

func (m *memory) PutAthlete(a *athlete.Athlete) error {
	own := *a
	m.profile = &own
	return nil
}

// until is the part of a list by date that is dated to or before.
func until[T any](all []T, to civil.Date, date func(*T) civil.Date) []T {
	n := len(all)
	for n > 0 && date(&all[n-1]) > to {
		n--
	}
	return slices.Clip(all[:n])
}

func (m *memory) Days(_ string, _, to civil.Date) ([]athlete.Day, error) {
	return until(m.days, to, func(d *athlete.Day) civil.Date { return d.Date }), nil
}

func (m *memory) PutDays(_ string, days []athlete.Day, _ app.Source) (app.Merge, error) {
	for i := range days {
		if !days[i].Empty() {
			m.days = append(m.days, days[i])
		}
	}
	return app.Merge{Added: len(days)}, nil
}

// The desk has nothing of its own: no programmes, exercises, names or settings.

func (m *memory) Programmes(string, civil.Date) ([]athlete.Programme, error) { return nil, nil }
func (m *memory) Exercises() ([]athlete.Exercise, error)                     { return nil, nil }
func (m *memory) ExerciseNames() ([]athlete.ExerciseName, error)             { return nil, nil }
func (m *memory) Setting(string) (body []byte, ok bool, err error)           { return nil, false, nil }

func (m *memory) Measurements(_ string, to civil.Date) ([]athlete.Measurement, error) {
	return until(m.measurements, to, func(d *athlete.Measurement) civil.Date { return d.Date }), nil
}

func (m *memory) PutMeasurements(_ string, ms []athlete.Measurement, _ app.Source) (app.Merge, error) {
	m.measurements = append(m.measurements, ms...)
	return app.Merge{Added: len(ms)}, nil
}

func (m *memory) Sets(_ string, _, to civil.Date) ([]athlete.Set, error) {
	return until(m.sets, to, func(d *athlete.Set) civil.Date { return d.Date }), nil
}

func (m *memory) PutSets(_ string, sets []athlete.Set, _ app.Source) (app.Merge, error) {
	m.sets = append(m.sets, sets...)
	return app.Merge{Added: len(sets)}, nil
}

func (m *memory) Sessions(_ string, _, to civil.Date) ([]athlete.Session, error) {
	return until(m.sessions, to, func(d *athlete.Session) civil.Date { return d.Date }), nil
}

func (m *memory) PutSessions(_ string, sessions []athlete.Session, _ app.Source) (app.Merge, error) {
	m.sessions = append(m.sessions, sessions...)
	return app.Merge{Added: len(sessions)}, nil
}

func (m *memory) Prescriptions(_ string, to civil.Date) ([]athlete.Prescription, error) {
	return until(m.prescriptions, to, func(p *athlete.Prescription) civil.Date { return p.From }), nil
}

func (m *memory) AddPrescription(_ string, p *athlete.Prescription) error {
	p.Version = len(m.prescriptions) + 1
	m.prescriptions = append(m.prescriptions, *p)
	return nil
}

func (m *memory) Reviews(_ string, to civil.Date) ([]app.Review, error) {
	return until(m.reviews, to, func(r *app.Review) civil.Date { return r.Date }), nil
}

func (m *memory) PutReview(_ string, r *app.Review) error {
	if n := len(m.reviews); n > 0 && m.reviews[n-1].Date == r.Date {
		m.reviews = m.reviews[:n-1]
	}
	m.reviews = append(m.reviews, *r)
	return nil
}

// CheckIns are none: a virtual athlete writes no words.
func (m *memory) CheckIns(string, civil.Date) ([]athlete.CheckIn, error) { return nil, nil }
