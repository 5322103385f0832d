package store

import (
	"database/sql"
	"encoding/json"

	"glidepath/athlete"
	"glidepath/civil"
)

// Prescriptions lists those made to start on or before a date, by version.
func (t *tx) Prescriptions(id string, to civil.Date) ([]athlete.Prescription, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return list(t, `
		SELECT body FROM prescriptions
		WHERE athlete = ? AND starts <= ? ORDER BY version`, []any{key, to},
		func(rows *sql.Rows, p *athlete.Prescription) error {
			var body []byte
			if err := rows.Scan(&body); err != nil {
				return err
			}
			return json.Unmarshal(body, p)
		})
}

// AddPrescription stores p as the version after the last and sets p.Version.
func (t *tx) AddPrescription(id string, p *athlete.Prescription) error {
	if err := p.Validate(); err != nil {
		return err
	}
	key, err := t.key(id)
	if err != nil {
		return err
	}
	next := *p
	err = t.one(`SELECT 1 + coalesce(max(version), 0) FROM prescriptions WHERE athlete = ?`,
		[]any{key}, []any{&next.Version})
	if err != nil {
		return err
	}
	body, err := encode(&next)
	if err != nil {
		return err
	}
	err = t.exec(`INSERT INTO prescriptions (athlete, version, starts, body) VALUES (?, ?, ?, ?)`,
		key, next.Version, next.From, body)
	if err != nil {
		return err
	}
	p.Version = next.Version
	return nil
}
