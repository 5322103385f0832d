package store

import (
	"database/sql"
	"encoding/json"

	"glidepath/civil"
)

// versions lists the bodies of a table of versions that start on or before a date.
func versions[T any](t *tx, table, id string, to civil.Date) ([]T, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return list(t, `SELECT body FROM `+table+` WHERE athlete = ? AND starts <= ? ORDER BY version`,
		[]any{key, to}, scanBody[T])
}

// scanBody reads a row that is one JSON document.
func scanBody[T any](rows *sql.Rows, v *T) error {
	var body []byte
	if err := rows.Scan(&body); err != nil {
		return err
	}
	return json.Unmarshal(body, v)
}

// addVersion stores a body as the version after the last; version is its own field
// for that number.
func (t *tx) addVersion(table, id string, starts civil.Date, body any, version *int) error {
	key, err := t.key(id)
	if err != nil {
		return err
	}
	err = t.one(`SELECT 1 + coalesce(max(version), 0) FROM `+table+` WHERE athlete = ?`,
		[]any{key}, []any{version})
	if err != nil {
		return err
	}
	text, err := encode(body)
	if err != nil {
		return err
	}
	return t.exec(`INSERT INTO `+table+` (athlete, version, starts, body) VALUES (?, ?, ?, ?)`,
		key, *version, starts, text)
}
