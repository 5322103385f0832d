package store

import (
	"database/sql"
	"encoding/json"
	"math"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
)

// CheckIns lists an athlete's check-ins up to a date.
func (t *tx) CheckIns(id string, to civil.Date) ([]athlete.CheckIn, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return t.checkIns(key, math.MinInt32, to)
}

func (t *tx) checkIns(key int64, from, to civil.Date) ([]athlete.CheckIn, error) {
	return list(t, `
		SELECT date, words, signs, sent_at, who FROM check_ins
		WHERE athlete = ? AND date BETWEEN ? AND ? ORDER BY date`, []any{key, from, to},
		func(rows *sql.Rows, c *athlete.CheckIn) error {
			var at string
			var signs []byte
			if err := rows.Scan(&c.Date, &c.Words, &signs, &at, &c.Who); err != nil {
				return err
			}
			if signs != nil {
				if err := json.Unmarshal(signs, &c.Signs); err != nil {
					return err
				}
			}
			return parseMoment(at, &c.SentAt)
		})
}

// PutCheckIns stores one check-in a date; app.Tx has the rules.
func (t *tx) PutCheckIns(id string, cs []athlete.CheckIn, from app.Source) (app.Merge, error) {
	key, err := t.key(id)
	if err != nil {
		return app.Merge{}, err
	}
	return putRecords(t, key, cs, from, &records[civil.Date, athlete.CheckIn]{
		date:  func(c *athlete.CheckIn) civil.Date { return c.Date },
		key:   func(c *athlete.CheckIn) civil.Date { return c.Date },
		name:  func(*athlete.CheckIn) string { return "check-in" },
		check: (*athlete.CheckIn).Validate,
		load:  func(from, to civil.Date) ([]athlete.CheckIn, error) { return t.checkIns(key, from, to) },
		write: func(c *athlete.CheckIn) error { return t.writeCheckIn(key, c) },
	})
}

func (t *tx) writeCheckIn(key int64, c *athlete.CheckIn) error {
	var signs any
	if len(c.Signs) > 0 {
		text, err := encode(c.Signs)
		if err != nil {
			return err
		}
		signs = text
	}
	return t.exec(`
		REPLACE INTO check_ins (athlete, date, words, signs, sent_at, who) VALUES (?, ?, ?, ?, ?, ?)`,
		key, c.Date, c.Words, signs, moment(c.SentAt), c.Who)
}
