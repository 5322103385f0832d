package store

import (
	"database/sql"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// Notes lists the coach's notes on an athlete that are about a date or one before.
func (t *tx) Notes(id string, to civil.Date) ([]athlete.Note, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return list(t, `
		SELECT number, date, text, who, at FROM notes
		WHERE athlete = ? AND date <= ? ORDER BY date, number`, []any{key, to},
		func(rows *sql.Rows, n *athlete.Note) error {
			var at string
			if err := rows.Scan(&n.Number, &n.Date, &n.Text, &n.Who, &at); err != nil {
				return err
			}
			return parseMoment(at, &n.At)
		})
}

// AddNote stores a note and gives it its number.
func (t *tx) AddNote(id string, n *athlete.Note) error {
	if err := n.Validate(); err != nil {
		return err
	}
	key, err := t.key(id)
	if err != nil {
		return err
	}
	err = t.exec(`INSERT INTO notes (athlete, date, text, who, at) VALUES (?, ?, ?, ?, ?)`, key, n.Date, n.Text, n.Who, moment(n.At))
	if err != nil {
		return err
	}
	return t.one(`SELECT max(number) FROM notes`, nil, []any{&n.Number})
}

// RemoveNote removes a note; its bytes are overwritten, and the log is emptied of
// them as after a removed athlete.
func (t *tx) RemoveNote(id string, number int) error {
	key, err := t.key(id)
	if err != nil {
		return err
	}
	var n int
	if err := t.one(`SELECT count(*) FROM notes WHERE athlete = ? AND number = ?`, []any{key, number}, []any{&n}); err != nil {
		return err
	}
	if n == 0 {
		return fault.New(fault.NotFound, "there is no such note.")
	}
	t.removed = true
	return t.exec(`DELETE FROM notes WHERE athlete = ? AND number = ?`, key, number)
}
