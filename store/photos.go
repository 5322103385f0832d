package store

import (
	"database/sql"
	"errors"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// Photos lists an athlete's photos up to a date, without the pictures.
func (t *tx) Photos(id string, to civil.Date) ([]athlete.Photo, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return list(t, `
		SELECT date, pose, width, height, added_at FROM photos
		WHERE athlete = ? AND date <= ?
		ORDER BY date, CASE pose WHEN 'front' THEN 1 WHEN 'side' THEN 2 ELSE 3 END`, []any{key, to},
		func(rows *sql.Rows, p *athlete.Photo) error {
			var at string
			if err := rows.Scan(&p.Date, &p.Pose, &p.Width, &p.Height, &at); err != nil {
				return err
			}
			return parseMoment(at, &p.AddedAt)
		})
}

// Picture gives the JPEG of a photo.
func (t *tx) Picture(id string, on civil.Date, pose athlete.Pose) (jpeg []byte, err error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	err = t.one(`SELECT jpeg FROM photos WHERE athlete = ? AND date = ? AND pose = ?`, []any{key, on, string(pose)}, []any{&jpeg})
	if errors.Is(err, sql.ErrNoRows) {
		return nil, noPhoto(on, pose)
	}
	return jpeg, err
}

func noPhoto(on civil.Date, pose athlete.Pose) error {
	return fault.New(fault.NotFound, "there is no %s photo of %s.", pose, on)
}

// PutPhoto stores a photo in the place of the one with the same date and pose.
func (t *tx) PutPhoto(id string, p *athlete.Photo, jpeg []byte) error {
	if err := p.Validate(); err != nil {
		return err
	}
	key, err := t.key(id)
	if err != nil {
		return err
	}
	return t.exec(`
		INSERT INTO photos (athlete, date, pose, width, height, added_at, jpeg) VALUES (?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (athlete, date, pose) DO UPDATE SET width = excluded.width, height = excluded.height,
			added_at = excluded.added_at, jpeg = excluded.jpeg`,
		key, p.Date, string(p.Pose), p.Width, p.Height, moment(p.AddedAt), jpeg)
}

// RemovePhoto removes a photo; its bytes are overwritten (PRAGMA secure_delete),
// and the log is emptied of them as after a removed athlete.
func (t *tx) RemovePhoto(id string, on civil.Date, pose athlete.Pose) error {
	key, err := t.key(id)
	if err != nil {
		return err
	}
	var n int
	if err := t.one(`SELECT count(*) FROM photos WHERE athlete = ? AND date = ? AND pose = ?`, []any{key, on, string(pose)}, []any{&n}); err != nil {
		return err
	}
	if n == 0 {
		return noPhoto(on, pose)
	}
	t.removed = true
	return t.exec(`DELETE FROM photos WHERE athlete = ? AND date = ? AND pose = ?`, key, on, string(pose))
}
