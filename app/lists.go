package app

import (
	"context"

	"glidepath/athlete"
	"glidepath/civil"
)

// Measurements lists the measurements up to a date.
func (a *App) Measurements(ctx context.Context, id string, to civil.Date) ([]athlete.Measurement, error) {
	return read(ctx, a, func(tx Tx) ([]athlete.Measurement, error) { return tx.Measurements(id, to) })
}

// Sets lists the logged sets of some dates, inclusive.
func (a *App) Sets(ctx context.Context, id string, from, to civil.Date) ([]athlete.Set, error) {
	return read(ctx, a, func(tx Tx) ([]athlete.Set, error) { return tx.Sets(id, from, to) })
}

// Sessions lists the logged sessions of some dates, inclusive.
func (a *App) Sessions(ctx context.Context, id string, from, to civil.Date) ([]athlete.Session, error) {
	return read(ctx, a, func(tx Tx) ([]athlete.Session, error) { return tx.Sessions(id, from, to) })
}

// Prescriptions lists the prescriptions made to start on or before a date, by
// version.
func (a *App) Prescriptions(ctx context.Context, id string, to civil.Date) ([]athlete.Prescription, error) {
	return read(ctx, a, func(tx Tx) ([]athlete.Prescription, error) { return tx.Prescriptions(id, to) })
}

// Reviews lists the reviews up to a date.
func (a *App) Reviews(ctx context.Context, id string, to civil.Date) ([]Review, error) {
	return read(ctx, a, func(tx Tx) ([]Review, error) { return tx.Reviews(id, to) })
}

func read[T any](ctx context.Context, a *App, get func(Tx) (T, error)) (out T, err error) {
	err = a.Store.Read(ctx, func(tx Tx) error {
		out, err = get(tx)
		return err
	})
	return out, err
}
