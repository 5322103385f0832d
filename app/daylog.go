package app

import (
	"context"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/reading"
	"glidepath/season"
	"glidepath/training"
)

// Amend changes one day of the log in one transaction. change is told the day as
// it is stored, and gives the values to put and the names in JSON of those to
// drop; its error undoes everything. The day is as it stands afterwards.
func (a *App) Amend(ctx context.Context, id string, on civil.Date, from Source, change func(now athlete.Day) (put athlete.Day, drop []string, err error)) (out athlete.Day, err error) {
	if from.At.IsZero() {
		from.At = a.Now().UTC()
	}
	err = a.Store.Write(ctx, func(tx Tx) error {
		if out, err = oneDay(tx, id, on); err != nil {
			return err
		}
		put, drop, err := change(out)
		if err != nil {
			return err
		}
		if err := amendDay(tx, id, on, put, drop, from); err != nil {
			return err
		}
		out, err = oneDay(tx, id, on)
		return err
	})
	return out, err
}

func amendDay(tx Tx, id string, on civil.Date, put athlete.Day, drop []string, from Source) error {
	put.Date = on
	if err := put.Validate(); err != nil {
		return err
	}
	if len(drop) > 0 {
		if _, err := tx.DropDay(id, on, drop, from); err != nil {
			return err
		}
	}
	if put.Empty() {
		return nil
	}
	_, err := tx.PutDays(id, []athlete.Day{put}, from)
	return err
}

func oneDay(tx Tx, id string, on civil.Date) (athlete.Day, error) {
	days, err := tx.Days(id, on, on)
	if err != nil || len(days) == 0 {
		return athlete.Day{Date: on}, err
	}
	return days[0], nil
}

// ChooseUnits sets the units that an athlete reads and writes in.
func (a *App) ChooseUnits(ctx context.Context, id string, u athlete.Units) error {
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		p.Units = u
		return nil
	})
}

// ChooseEffort sets the scale on which an athlete says how hard a set was.
func (a *App) ChooseEffort(ctx context.Context, id string, s athlete.EffortScale) error {
	return a.edit(ctx, id, func(p *athlete.Athlete) error {
		p.Effort = s
		return nil
	})
}

// Standing is the prescription that stands on a date, nil where none does.
func (a *App) Standing(ctx context.Context, id string, on civil.Date) (*athlete.Prescription, error) {
	var f facts
	err := a.Store.Read(ctx, func(tx Tx) (err error) {
		f.prescriptions, err = tx.Prescriptions(id, on)
		return err
	})
	return f.current(on), err
}

// Progress is what an athlete is told of themselves: the trend, and what they did
// beside what was asked. It plans and foretells nothing.
type Progress struct {
	Reading *reading.Reading
	Current *athlete.Prescription // nil where none stands
	Days    []athlete.Day
	// Strength is what is kept of it since the baseline; its Overall is nil where
	// no lift tells.
	Strength training.StrengthReport
}

// Progress reads the log as of a date.
func (a *App) Progress(ctx context.Context, id string, asOf civil.Date) (*Progress, error) {
	var f *facts
	err := a.Store.Read(ctx, func(tx Tx) (err error) {
		f, err = load(tx, id, asOf)
		return err
	})
	if err != nil {
		return nil, err
	}
	rates, err := f.rates(asOf)
	if err != nil {
		return nil, err
	}
	in, _, err := f.input(asOf, f.levers(rates, asOf, f.current(asOf)))
	if err != nil {
		return nil, err
	}
	r, err := reading.Read(in, reading.Settings{})
	if err != nil {
		return nil, err
	}
	out := &Progress{Reading: r, Current: f.current(asOf), Days: f.days}
	if len(f.sets) > 0 {
		out.Strength = f.strength(r, asOf)
	}
	return out, nil
}

// input is what there is to read as of a date, with what cannot be used in
// sentences.
func (f *facts) input(asOf civil.Date, levers season.Levers) (in reading.Input, cannot []string, err error) {
	a := &f.athlete
	habit := season.Instruction{StepsPerDay: a.StepsPerDay, CardioMinutes: a.CardioMinutesPerWeek}
	in = reading.Input{
		Athlete: a, AsOf: asOf, Days: f.days, Prescriptions: f.prescriptions,
		HabitKcalPerKg: levers.ActivityKcalPerKg(habit),
	}
	if in.Activity, cannot, err = f.activity(a.StepsPerDay, asOf); err != nil {
		return in, nil, err
	}
	composition, unread := f.compositions(asOf)
	in.Composition = composition
	return in, append(cannot, unread...), nil
}
