package web

import (
	"context"
	"log/slog"
	"slices"
	"sync"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
)

// desk is a Desk with the roster's rows, and the version of each athlete's data
// that tells whether a row is still true.
type desk struct {
	app      *app.App
	Today    func() civil.Date
	invented bool

	ctx context.Context
	now func() time.Time
	log *slog.Logger

	mu      sync.Mutex
	outside func(context.Context) (int64, error)
	epoch   int64             // what outside says: how often another program changed the data
	changed map[string]uint64 // by athlete, how often we did
	common  uint64            // how often we changed what everybody is reckoned with
	boards  map[civil.Date]*board
	working sync.WaitGroup
}

func newDesk(ctx context.Context, d Desk, now func() time.Time, log *slog.Logger) *desk {
	out := &desk{
		Today: d.Today, ctx: ctx, now: now, log: log, outside: d.Version,
		changed: map[string]uint64{}, boards: map[civil.Date]*board{},
	}
	copied := *d.App
	copied.Store = watched{d.App.Store, out}
	out.app = &copied
	return out
}

func (d *desk) wait() { d.working.Wait() }

// version of an athlete's data.
type version struct {
	epoch   int64
	changed uint64
}

// versionOf an athlete's data. d.mu must be held.
func (d *desk) versionOf(id string) version { return version{d.epoch, d.changed[id] + d.common} }

// lookOutside notices what another program changed.
func (d *desk) lookOutside(ctx context.Context) error {
	if d.outside == nil {
		return nil
	}
	now, err := d.outside(ctx)
	if err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.epoch = now
	return nil
}

// watched is a store that notes which athletes a write was about.
type watched struct {
	app.Store
	desk *desk
}

func (w watched) Write(ctx context.Context, fn func(app.Tx) error) error {
	noted := &noting{}
	err := w.Store.Write(ctx, func(tx app.Tx) error {
		*noted = noting{Tx: tx}
		return fn(noted)
	})
	w.desk.mu.Lock()
	defer w.desk.mu.Unlock()
	for _, id := range noted.ids {
		w.desk.changed[id]++
	}
	if noted.everybody {
		w.desk.common++
	}
	for _, id := range noted.removed { // nothing of who was erased stays in memory
		for _, b := range w.desk.boards {
			delete(b.rows, id)
		}
	}
	return err
}

// noting notes the athletes that it changes something of.
type noting struct {
	app.Tx
	ids, removed []string
	everybody    bool // is reckoned with something that it changes
}

func (n *noting) note(id string) {
	if !slices.Contains(n.ids, id) {
		n.ids = append(n.ids, id)
	}
}

func (n *noting) PutAthlete(a *athlete.Athlete) error {
	n.note(a.ID)
	return n.Tx.PutAthlete(a)
}

func (n *noting) RemoveAthlete(id string) error {
	n.note(id)
	n.removed = append(n.removed, id)
	return n.Tx.RemoveAthlete(id)
}

func (n *noting) PutDays(id string, days []athlete.Day, from app.Source) (app.Merge, error) {
	n.note(id)
	return n.Tx.PutDays(id, days, from)
}

func (n *noting) DropDay(id string, on civil.Date, fields []string, from app.Source) (app.Merge, error) {
	n.note(id)
	return n.Tx.DropDay(id, on, fields, from)
}

func (n *noting) PutCheckIns(id string, cs []athlete.CheckIn, from app.Source) (app.Merge, error) {
	n.note(id)
	return n.Tx.PutCheckIns(id, cs, from)
}

func (n *noting) PutMeasurements(id string, ms []athlete.Measurement, from app.Source) (app.Merge, error) {
	n.note(id)
	return n.Tx.PutMeasurements(id, ms, from)
}

func (n *noting) PutSets(id string, sets []athlete.Set, from app.Source) (app.Merge, error) {
	n.note(id)
	return n.Tx.PutSets(id, sets, from)
}

func (n *noting) PutSessions(id string, sessions []athlete.Session, from app.Source) (app.Merge, error) {
	n.note(id)
	return n.Tx.PutSessions(id, sessions, from)
}

func (n *noting) AddPrescription(id string, p *athlete.Prescription) error {
	n.note(id)
	return n.Tx.AddPrescription(id, p)
}

func (n *noting) PutReview(id string, r *app.Review) error {
	n.note(id)
	return n.Tx.PutReview(id, r)
}

func (n *noting) AddProgramme(id string, p *athlete.Programme) error {
	n.note(id)
	return n.Tx.AddProgramme(id, p)
}

func (n *noting) DropSet(id string, on civil.Date, exercise string, order int, from app.Source) (app.Merge, error) {
	n.note(id)
	return n.Tx.DropSet(id, on, exercise, order, from)
}

func (n *noting) PutExercise(e *athlete.Exercise) error {
	n.everybody = true
	return n.Tx.PutExercise(e)
}

func (n *noting) RemoveExercise(name string) error {
	n.everybody = true
	return n.Tx.RemoveExercise(name)
}

func (n *noting) PutExerciseName(name athlete.ExerciseName) error {
	n.everybody = true
	return n.Tx.PutExerciseName(name)
}

func (n *noting) PutSetting(name string, body []byte) error {
	n.everybody = true
	return n.Tx.PutSetting(name, body)
}
