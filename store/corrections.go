package store

import (
	"database/sql"

	"glidepath/app"
)

// Corrections lists the stored values of an athlete that were changed later.
func (t *tx) Corrections(id string) ([]app.Correction, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return list(t, `
		SELECT date, field, old, new, source, at, who FROM corrections
		WHERE athlete = ? ORDER BY date, entry`, []any{key},
		func(rows *sql.Rows, c *app.Correction) error {
			var at string
			if err := rows.Scan(&c.Date, &c.Field, &c.Old, &c.New, &c.From, &at, &c.Who); err != nil {
				return err
			}
			return parseMoment(at, &c.At)
		})
}

func (t *tx) addCorrections(key int64, all []correction, from app.Source) error {
	at := moment(from.At)
	for _, c := range all {
		err := t.exec(`
			INSERT INTO corrections (athlete, date, field, old, new, source, at, who)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
			key, c.date, c.field, c.old, c.new, from.Name, at, from.Who)
		if err != nil {
			return err
		}
	}
	return nil
}
