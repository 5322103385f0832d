package app

import (
	"context"
	"errors"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// Batch is what one import or form brings for an athlete. Everything in it is
// kept, or nothing.
type Batch struct {
	Days         []athlete.Day
	Measurements []athlete.Measurement
	Sets         []athlete.Set
	Sessions     []athlete.Session
}

// Recorded counts what a batch did.
type Recorded struct {
	Days         Merge `json:"days"`
	Measurements Merge `json:"measurements"`
	Sets         Merge `json:"sets"`
	Sessions     Merge `json:"sessions"`
}

// Record checks a batch and keeps it in one transaction. Recording the same
// again changes nothing; a different value is kept as a correction.
func (a *App) Record(ctx context.Context, id string, b Batch, from Source) (Recorded, error) {
	var out Recorded
	if err := b.validate(); err != nil {
		return out, err
	}
	if from.At.IsZero() {
		from.At = a.Now().UTC()
	}
	err := a.Store.Write(ctx, func(tx Tx) error {
		if _, err := tx.Athlete(id); err != nil {
			return err
		}
		var err error
		if out.Days, err = tx.PutDays(id, b.Days, from); err != nil {
			return err
		}
		if out.Measurements, err = tx.PutMeasurements(id, b.Measurements, from); err != nil {
			return err
		}
		if out.Sets, err = tx.PutSets(id, b.Sets, from); err != nil {
			return err
		}
		out.Sessions, err = tx.PutSessions(id, b.Sessions, from)
		return err
	})
	return out, err
}

func (b *Batch) validate() error {
	var errs []error
	for i := range b.Days {
		errs = append(errs, b.Days[i].Validate())
	}
	for i := range b.Measurements {
		errs = append(errs, b.Measurements[i].Validate())
	}
	for i := range b.Sets {
		errs = append(errs, b.Sets[i].Validate())
	}
	for i := range b.Sessions {
		errs = append(errs, b.Sessions[i].Validate())
	}
	return errors.Join(errs...)
}

// AnswerWeight records a person's word on a weight that was asked about: use
// it, leave it out, or take another instead.
func (a *App) AnswerWeight(ctx context.Context, id string, on civil.Date, use bool, instead *float64, who string) error {
	d := athlete.Day{Date: on, WeightKg: instead, WeightStands: &athlete.WeightStands{Use: use || instead != nil, Who: who}}
	if err := d.Validate(); err != nil {
		return err
	}
	return a.Store.Write(ctx, func(tx Tx) error {
		days, err := tx.Days(id, on, on)
		if err != nil {
			return err
		}
		if len(days) == 0 || days[0].WeightKg == nil {
			return fault.New(fault.NotFound, "no weight is logged on %s.", on).WithField("date")
		}
		_, err = tx.PutDays(id, []athlete.Day{d}, Source{Name: "answer", At: a.Now().UTC(), Who: who})
		return err
	})
}

// Days lists the log of some dates, inclusive.
func (a *App) Days(ctx context.Context, id string, from, to civil.Date) (out []athlete.Day, err error) {
	err = a.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Days(id, from, to)
		return err
	})
	return out, err
}

// Corrections lists the values that later entries changed.
func (a *App) Corrections(ctx context.Context, id string) (out []Correction, err error) {
	err = a.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Corrections(id)
		return err
	})
	return out, err
}

// Mapping recalls the column mapping of a file with these headings.
func (a *App) Mapping(ctx context.Context, signature string) (out []byte, ok bool, err error) {
	err = a.Store.Read(ctx, func(tx Tx) error {
		out, ok, err = tx.Mapping(signature)
		return err
	})
	return out, ok, err
}

// KeepMapping remembers a column mapping.
func (a *App) KeepMapping(ctx context.Context, signature string, mapping []byte) error {
	return a.Store.Write(ctx, func(tx Tx) error { return tx.PutMapping(signature, mapping) })
}

// Archive is everything that is known of an athlete.
type Archive struct {
	Athlete       athlete.Athlete        `json:"athlete"`
	Days          []athlete.Day          `json:"days"`
	Measurements  []athlete.Measurement  `json:"measurements"`
	Sets          []athlete.Set          `json:"sets"`
	Sessions      []athlete.Session      `json:"sessions"`
	Prescriptions []athlete.Prescription `json:"prescriptions"`
	Reviews       []Review               `json:"reviews"`
	Corrections   []Correction           `json:"corrections"`
	Programmes    []athlete.Programme    `json:"programmes,omitempty"`
	CheckIns      []athlete.CheckIn      `json:"check_ins,omitempty"`
	Photos        []ArchivedPhoto        `json:"photos,omitempty"`
	Notes         []athlete.Note         `json:"notes,omitempty"` // the coach's
}

// Export gathers everything that is known of an athlete.
func (a *App) Export(ctx context.Context, id string) (*Archive, error) {
	var out Archive
	err := a.Store.Read(ctx, func(tx Tx) error {
		f, err := load(tx, id, farFuture)
		if err != nil {
			return err
		}
		out = Archive{
			Athlete: f.athlete, Days: f.days, Measurements: f.measurements, Sets: f.sets,
			Sessions: f.sessions, Prescriptions: f.prescriptions, Reviews: f.reviews, Programmes: f.programmes,
		}
		if out.Corrections, err = tx.Corrections(id); err != nil {
			return err
		}
		if out.Notes, err = tx.Notes(id, farFuture); err != nil {
			return err
		}
		return out.addCheckIns(tx, id)
	})
	return &out, err
}

// Restore takes in an archive as a new athlete, all or nothing. Its photos are made
// fit to be kept as though they were sent anew: whoever wrote the archive may have
// put in others than were exported.
func (a *App) Restore(ctx context.Context, r *Archive, from Source) error {
	if err := r.Athlete.Validate(); err != nil {
		return err
	}
	b := Batch{Days: r.Days, Measurements: r.Measurements, Sets: r.Sets, Sessions: r.Sessions}
	if err := b.validate(); err != nil {
		return err
	}
	photos, err := r.developed(ctx)
	if err != nil {
		return err
	}
	if from.At.IsZero() {
		from.At = a.Now().UTC()
	}
	return a.Store.Write(ctx, func(tx Tx) error {
		if _, err := tx.Athlete(r.Athlete.ID); err == nil {
			return fault.New(fault.Conflict, "there is already an athlete with the id %q.", r.Athlete.ID).WithField("id")
		}
		if err := tx.PutAthlete(&r.Athlete); err != nil {
			return err
		}
		if _, err := tx.PutDays(r.Athlete.ID, r.Days, from); err != nil {
			return err
		}
		if _, err := tx.PutMeasurements(r.Athlete.ID, r.Measurements, from); err != nil {
			return err
		}
		if _, err := tx.PutSets(r.Athlete.ID, r.Sets, from); err != nil {
			return err
		}
		if _, err := tx.PutSessions(r.Athlete.ID, r.Sessions, from); err != nil {
			return err
		}
		for i := range r.Prescriptions {
			if err := tx.AddPrescription(r.Athlete.ID, &r.Prescriptions[i]); err != nil {
				return err
			}
		}
		for i := range r.Reviews {
			if err := tx.PutReview(r.Athlete.ID, &r.Reviews[i]); err != nil {
				return err
			}
		}
		for i := range r.Programmes {
			if err := tx.AddProgramme(r.Athlete.ID, &r.Programmes[i]); err != nil {
				return err
			}
		}
		for i := range r.Notes {
			note := r.Notes[i] // it gets a number of its own here
			if err := tx.AddNote(r.Athlete.ID, &note); err != nil {
				return err
			}
		}
		if _, err := tx.PutCheckIns(r.Athlete.ID, r.CheckIns, from); err != nil {
			return err
		}
		for i := range photos {
			if err := tx.PutPhoto(r.Athlete.ID, &photos[i].Photo, photos[i].JPEG); err != nil {
				return err
			}
		}
		return nil
	})
}
