package app

import (
	"context"

	"glidepath/athlete"
	"glidepath/civil"
)

// GymLog is what is logged of a day that a session touches.
type GymLog struct {
	Day     athlete.Day
	Sets    []athlete.Set    // in order of entry
	Session *athlete.Session // nil where none is logged
}

// GymChange is what to change of it. Dates are set by AmendGym.
type GymChange struct {
	Day     athlete.Day
	DropDay []string      // values of the day, by their names in JSON
	Sets    []athlete.Set // to put
	Drop    []athlete.Set // to take out, by exercise and order
	Session *athlete.Session
}

// AmendGym changes a day at the gym in one transaction. change is told the log as it
// is stored; its error undoes everything. The log is as it stands afterwards.
func (a *App) AmendGym(ctx context.Context, id string, on civil.Date, from Source, change func(now GymLog) (GymChange, error)) (out GymLog, err error) {
	if from.At.IsZero() {
		from.At = a.Now().UTC()
	}
	err = a.Store.Write(ctx, func(tx Tx) error {
		if out, err = gymLog(tx, id, on); err != nil {
			return err
		}
		c, err := change(out)
		if err != nil {
			return err
		}
		if err := c.put(tx, id, on, from); err != nil {
			return err
		}
		out, err = gymLog(tx, id, on)
		return err
	})
	return out, err
}

func gymLog(tx Tx, id string, on civil.Date) (out GymLog, err error) {
	if out.Day, err = oneDay(tx, id, on); err != nil {
		return out, err
	}
	if out.Sets, err = tx.Sets(id, on, on); err != nil {
		return out, err
	}
	sessions, err := tx.Sessions(id, on, on)
	if len(sessions) > 0 {
		out.Session = &sessions[0]
	}
	return out, err
}

func (c *GymChange) put(tx Tx, id string, on civil.Date, from Source) error {
	b := Batch{Sets: c.Sets}
	for i := range b.Sets {
		b.Sets[i].Date = on
	}
	if c.Session != nil {
		c.Session.Date = on
		b.Sessions = []athlete.Session{*c.Session}
	}
	if err := b.validate(); err != nil {
		return err
	}
	if err := amendDay(tx, id, on, c.Day, c.DropDay, from); err != nil {
		return err
	}
	for _, s := range c.Drop {
		if _, err := tx.DropSet(id, on, s.Exercise, s.Order, from); err != nil {
			return err
		}
	}
	if _, err := tx.PutSets(id, b.Sets, from); err != nil {
		return err
	}
	_, err := tx.PutSessions(id, b.Sessions, from)
	return err
}
