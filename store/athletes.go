package store

import (
	"database/sql"
	"encoding/json"
	"errors"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
)

// Athletes lists every athlete by ID.
func (t *tx) Athletes() ([]athlete.Athlete, error) {
	return list(t, `SELECT profile FROM athletes ORDER BY id`, nil, scanProfile)
}

// Athlete gives one athlete.
func (t *tx) Athlete(id string) (*athlete.Athlete, error) {
	var profile []byte
	err := t.one(`SELECT profile FROM athletes WHERE id = ?`, []any{id}, []any{&profile})
	if errors.Is(err, sql.ErrNoRows) {
		return nil, fault.New(fault.NotFound, "there is no athlete %q.", id)
	}
	if err != nil {
		return nil, err
	}
	a := new(athlete.Athlete)
	return a, json.Unmarshal(profile, a)
}

func scanProfile(rows *sql.Rows, a *athlete.Athlete) error {
	var profile []byte
	if err := rows.Scan(&profile); err != nil {
		return err
	}
	return json.Unmarshal(profile, a)
}

// PutAthlete stores a new or changed profile. What it replaces becomes an older
// version; a profile equal to the stored one changes nothing.
func (t *tx) PutAthlete(a *athlete.Athlete) error {
	if err := a.Validate(); err != nil {
		return err
	}
	profile, err := encode(a)
	if err != nil {
		return err
	}
	var key int64
	var old string
	err = t.one(`SELECT key, profile FROM athletes WHERE id = ?`, []any{a.ID}, []any{&key, &old})
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return t.exec(`INSERT INTO athletes (id, profile) VALUES (?, ?)`, a.ID, profile)
	case err != nil:
		return err
	case old == profile:
		return nil
	}
	err = t.exec(`
		INSERT INTO athlete_versions (athlete, version, profile, replaced_at)
		SELECT ?1, 1 + (SELECT coalesce(max(version), 0) FROM athlete_versions WHERE athlete = ?1), ?2, ?3`,
		key, old, moment(t.now))
	if err != nil {
		return err
	}
	return t.exec(`UPDATE athletes SET profile = ? WHERE key = ?`, profile, key)
}

// AthleteVersions lists the older versions of a profile, oldest first.
func (t *tx) AthleteVersions(id string) ([]app.AthleteVersion, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return list(t, `
		SELECT profile, replaced_at FROM athlete_versions
		WHERE athlete = ? ORDER BY version`, []any{key},
		func(rows *sql.Rows, v *app.AthleteVersion) error {
			var profile []byte
			var at string
			if err := rows.Scan(&profile, &at); err != nil {
				return err
			}
			if err := parseMoment(at, &v.ReplacedAt); err != nil {
				return err
			}
			return json.Unmarshal(profile, &v.Athlete)
		})
}

// RemoveAthlete removes an athlete with all that belongs to them: the rows of
// every other table go by the schema's cascades, and their bytes are
// overwritten (PRAGMA secure_delete). The record of who saw what stays, without
// the athlete in it.
func (t *tx) RemoveAthlete(id string) error {
	key, err := t.key(id)
	if err != nil {
		return err
	}
	// The record keeps what happened, but not who the athlete was.
	err = t.exec(`
		UPDATE record SET who = 'erased', address = ''
		WHERE account IN (SELECT key FROM accounts WHERE athlete = ?)`, key)
	if err != nil {
		return err
	}
	if err := t.exec(`DELETE FROM athletes WHERE key = ?`, key); err != nil {
		return err
	}
	delete(t.keys, id)
	t.removed = true
	return nil
}
