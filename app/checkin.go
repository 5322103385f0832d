package app

import (
	"context"
	"fmt"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/photo"
)

// ArchivedPhoto is a photo with its picture.
type ArchivedPhoto struct {
	athlete.Photo
	JPEG []byte `json:"jpeg"`
}

// addCheckIns adds what the athlete told and showed.
func (r *Archive) addCheckIns(tx Tx, id string) (err error) {
	if r.CheckIns, err = tx.CheckIns(id, farFuture); err != nil {
		return err
	}
	photos, err := tx.Photos(id, farFuture)
	if err != nil {
		return err
	}
	for _, p := range photos {
		jpeg, err := tx.Picture(id, p.Date, p.Pose)
		if err != nil {
			return err
		}
		r.Photos = append(r.Photos, ArchivedPhoto{p, jpeg})
	}
	return nil
}

// developed are the photos of an archive, each encoded anew. What is no picture is
// Invalid, and says which it is.
func (r *Archive) developed(ctx context.Context) ([]ArchivedPhoto, error) {
	out := make([]ArchivedPhoto, 0, len(r.Photos))
	for _, p := range r.Photos {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		kept, err := photo.Keep(p.JPEG, athlete.MaxPhotoSide)
		if err != nil {
			for _, f := range fault.All(err) {
				return nil, fault.New(f.Kind, "the %s photo of %s cannot be taken in: %s", p.Pose, p.Date, f.Message).WithField("photos").
					WithHint("Nothing was restored. Export the athlete again, or take this photo out of the archive.")
			}
			return nil, err
		}
		p.Width, p.Height = kept.Width, kept.Height
		out = append(out, ArchivedPhoto{p.Photo, kept.JPEG})
	}
	return out, nil
}

// CheckIns lists an athlete's check-ins up to a date.
func (a *App) CheckIns(ctx context.Context, id string, to civil.Date) (out []athlete.CheckIn, err error) {
	err = a.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.CheckIns(id, to)
		return err
	})
	return out, err
}

// CheckIn keeps a check-in with what was measured for it, all or nothing. The
// same sent again changes nothing; a different one of the same date replaces it,
// and what it said before is kept as a correction.
func (a *App) CheckIn(ctx context.Context, id string, c athlete.CheckIn, measured []athlete.Measurement, from Source) error {
	b := Batch{Measurements: measured}
	if err := b.validate(); err != nil {
		return err
	}
	if from.At.IsZero() {
		from.At = a.Now().UTC()
	}
	c.SentAt, c.Who = from.At, from.Who
	if err := c.Validate(); err != nil {
		return err
	}
	return a.Store.Write(ctx, func(tx Tx) error {
		if _, err := tx.PutMeasurements(id, measured, from); err != nil {
			return err
		}
		if c.Words == "" && len(c.Signs) == 0 && len(measured) == 0 {
			photos, err := tx.Photos(id, c.Date)
			if err != nil {
				return err
			}
			if len(photos) == 0 || photos[len(photos)-1].Date != c.Date {
				return fault.New(fault.Invalid, "the check-in is empty.").WithField("words").
					WithHint("Say how the week went, in a few words.")
			}
		}
		said, err := tx.CheckIns(id, c.Date)
		if err != nil {
			return err
		}
		if n := len(said); n > 0 && said[n-1].Date == c.Date && said[n-1].Says(&c) {
			return nil
		}
		_, err = tx.PutCheckIns(id, []athlete.CheckIn{c}, from)
		return err
	})
}

// signDays is how long a sign in a check-in stays the first thing on the roster
// (judgement: one check-in later it is asked about again).
const signDays = 10

// reported are the signs that the athlete told of lately, as a sentence; "" where
// there are none.
func (d *Dossier) reported() string {
	if len(d.CheckIns) == 0 {
		return ""
	}
	last := &d.CheckIns[len(d.CheckIns)-1]
	if len(last.Signs) == 0 || d.AsOf.DaysSince(last.Date) >= signDays {
		return ""
	}
	words := make([]string, len(last.Signs))
	for i, s := range last.Signs {
		words[i] = string(s)
	}
	return fmt.Sprintf("The check-in of %s tells of %s: call today, and see that a physician hears of it before the deficit goes on.",
		last.Date, strings.Join(words, ", "))
}

// Photos lists an athlete's photos up to a date, without the pictures.
func (a *App) Photos(ctx context.Context, id string, to civil.Date) (out []athlete.Photo, err error) {
	err = a.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Photos(id, to)
		return err
	})
	return out, err
}

// Picture is the JPEG of a photo.
func (a *App) Picture(ctx context.Context, id string, on civil.Date, pose athlete.Pose) (out []byte, err error) {
	err = a.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Picture(id, on, pose)
		return err
	})
	return out, err
}

// AddPhoto keeps a photo, in the place of one with the same date and pose. The
// JPEG must have no metadata.
func (a *App) AddPhoto(ctx context.Context, id string, p athlete.Photo, jpeg []byte) error {
	p.AddedAt = a.Now().UTC()
	return a.Store.Write(ctx, func(tx Tx) error { return tx.PutPhoto(id, &p, jpeg) })
}

// RemovePhoto removes a photo for good.
func (a *App) RemovePhoto(ctx context.Context, id string, on civil.Date, pose athlete.Pose) error {
	return a.Store.Write(ctx, func(tx Tx) error { return tx.RemovePhoto(id, on, pose) })
}
