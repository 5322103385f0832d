package store

import (
	"database/sql"
	"fmt"
	"math"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// Sets lists the logged sets from one date to another, both included.
func (t *tx) Sets(id string, from, to civil.Date) ([]athlete.Set, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return t.sets(key, from, to)
}

func (t *tx) sets(key int64, from, to civil.Date) ([]athlete.Set, error) {
	return list(t, `
		SELECT date, exercise, place, weight_kg, reps, rir, side, notes
		FROM sets WHERE athlete = ? AND date BETWEEN ? AND ? ORDER BY date, entry`,
		[]any{key, from, to},
		func(rows *sql.Rows, s *athlete.Set) error {
			var rir number
			err := rows.Scan(&s.Date, &s.Exercise, &s.Order, &s.WeightKg, &s.Reps, &rir, &s.Side, &s.Notes)
			if rir.valid {
				s.RIR = new(rir.value)
			}
			return err
		})
}

// PutSets stores one set a date, exercise and order; a different one for the
// same replaces it.
func (t *tx) PutSets(id string, sets []athlete.Set, from app.Source) (app.Merge, error) {
	type place struct {
		date     civil.Date
		exercise string
		order    int
	}
	key, err := t.key(id)
	if err != nil {
		return app.Merge{}, err
	}
	return putRecords(t, key, sets, from, &records[place, athlete.Set]{
		date:  func(s *athlete.Set) civil.Date { return s.Date },
		key:   func(s *athlete.Set) place { return place{s.Date, s.Exercise, s.Order} },
		name:  setName,
		check: (*athlete.Set).Validate,
		load:  func(from, to civil.Date) ([]athlete.Set, error) { return t.sets(key, from, to) },
		write: func(s *athlete.Set) error {
			return t.exec(`
				INSERT INTO sets (athlete, date, exercise, place, weight_kg, reps, rir, side, notes)
				VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
				ON CONFLICT (athlete, date, exercise, place) DO UPDATE SET
					weight_kg = excluded.weight_kg, reps = excluded.reps, rir = excluded.rir,
					side = excluded.side, notes = excluded.notes`,
				key, s.Date, s.Exercise, s.Order, s.WeightKg, s.Reps, pointed(s.RIR), s.Side, s.Notes)
		},
	})
}

// DropSet removes one set; what it was is kept as a correction to nothing.
func (t *tx) DropSet(id string, on civil.Date, exercise string, order int, from app.Source) (app.Merge, error) {
	var m merger
	key, err := t.key(id)
	if err != nil {
		return m.Merge, err
	}
	sets, err := t.sets(key, on, on)
	if err != nil {
		return m.Merge, err
	}
	for i := range sets {
		s := &sets[i]
		if s.Exercise != exercise || s.Order != order {
			continue
		}
		text, err := encode(s)
		if err != nil {
			return m.Merge, err
		}
		m.correct(on, setName(s), text, "")
		if err := t.exec(`DELETE FROM sets WHERE athlete = ? AND date = ? AND exercise = ? AND place = ?`, key, on, exercise, order); err != nil {
			return app.Merge{}, err
		}
		return m.Merge, t.addCorrections(key, m.corrections, from)
	}
	m.Same++
	return m.Merge, nil
}

func setName(s *athlete.Set) string { return fmt.Sprintf("%s, set %d", s.Exercise, s.Order) }

// Sessions lists the training sessions from one date to another, both included.
func (t *tx) Sessions(id string, from, to civil.Date) ([]athlete.Session, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return t.sessions(key, from, to)
}

func (t *tx) sessions(key int64, from, to civil.Date) ([]athlete.Session, error) {
	return list(t, `
		SELECT date, minutes, rpe FROM sessions
		WHERE athlete = ? AND date BETWEEN ? AND ? ORDER BY date`,
		[]any{key, from, to},
		func(rows *sql.Rows, s *athlete.Session) error {
			return rows.Scan(&s.Date, &s.Minutes, &s.RPE)
		})
}

// PutSessions stores one session a date; a different one replaces it.
func (t *tx) PutSessions(id string, sessions []athlete.Session, from app.Source) (app.Merge, error) {
	key, err := t.key(id)
	if err != nil {
		return app.Merge{}, err
	}
	date := func(s *athlete.Session) civil.Date { return s.Date }
	return putRecords(t, key, sessions, from, &records[civil.Date, athlete.Session]{
		date:  date,
		key:   date,
		name:  func(*athlete.Session) string { return "session" },
		check: checkSession,
		load:  func(from, to civil.Date) ([]athlete.Session, error) { return t.sessions(key, from, to) },
		write: func(s *athlete.Session) error {
			return t.exec(`REPLACE INTO sessions (athlete, date, minutes, rpe) VALUES (?, ?, ?, ?)`,
				key, s.Date, s.Minutes, s.RPE)
		},
	})
}

// checkSession refuses what the table cannot hold: SQLite keeps no NaN.
func checkSession(s *athlete.Session) error {
	if math.IsNaN(s.Minutes + s.RPE) {
		return fault.New(fault.Invalid, "the session of %s has a number that is none.", s.Date).WithField("minutes")
	}
	return nil
}
