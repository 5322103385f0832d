package store

import (
	"database/sql"
	"errors"

	"glidepath/athlete"
	"glidepath/fault"
)

// Exercises lists the desk's own, by name.
func (t *tx) Exercises() ([]athlete.Exercise, error) {
	return list(t, `SELECT body FROM exercises ORDER BY name`, nil, scanBody[athlete.Exercise])
}

// PutExercise stores one, in the place of the one with the same name.
func (t *tx) PutExercise(e *athlete.Exercise) error {
	if err := e.Validate(); err != nil {
		return err
	}
	body, err := encode(e)
	if err != nil {
		return err
	}
	return t.exec(`REPLACE INTO exercises (name, body) VALUES (?, ?)`, e.Name, body)
}

// RemoveExercise removes one of the desk's own.
func (t *tx) RemoveExercise(name string) error {
	var n int
	if err := t.one(`SELECT count(*) FROM exercises WHERE name = ?`, []any{name}, []any{&n}); err != nil {
		return err
	}
	if n == 0 {
		return fault.New(fault.NotFound, "the desk has no exercise %q of its own.", name).WithField("name")
	}
	return t.exec(`DELETE FROM exercises WHERE name = ?`, name)
}

// ExerciseNames lists what was settled of names, by what was typed.
func (t *tx) ExerciseNames() ([]athlete.ExerciseName, error) {
	return list(t, `SELECT typed, exercise FROM exercise_names ORDER BY typed`, nil,
		func(rows *sql.Rows, n *athlete.ExerciseName) error { return rows.Scan(&n.Typed, &n.Exercise) })
}

// PutExerciseName settles a name, in the place of what was settled before.
func (t *tx) PutExerciseName(n athlete.ExerciseName) error {
	if n.Typed == "" {
		return fault.New(fault.Invalid, "there is no name to settle.").WithField("typed")
	}
	return t.exec(`REPLACE INTO exercise_names (typed, exercise) VALUES (?, ?)`, n.Typed, n.Exercise)
}

// Setting is the JSON document of a setting of the desk.
func (t *tx) Setting(name string) (body []byte, ok bool, err error) {
	err = t.one(`SELECT body FROM settings WHERE name = ?`, []any{name}, []any{&body})
	if errors.Is(err, sql.ErrNoRows) {
		return nil, false, nil
	}
	return body, err == nil, err
}

// PutSetting stores a setting in the place of the older one.
func (t *tx) PutSetting(name string, body []byte) error {
	if name == "" {
		return fault.New(fault.Invalid, "a setting needs a name.").WithField("name")
	}
	return t.exec(`REPLACE INTO settings (name, body) VALUES (?, ?)`, name, string(body))
}
