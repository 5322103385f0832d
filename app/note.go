package app

import (
	"context"

	"glidepath/athlete"
	"glidepath/civil"
)

// Notes lists the coach's notes on an athlete that are about a date or one before.
func (a *App) Notes(ctx context.Context, id string, to civil.Date) ([]athlete.Note, error) {
	return read(ctx, a, func(tx Tx) ([]athlete.Note, error) { return tx.Notes(id, to) })
}

// AddNote writes down a note. It is for the coach's side alone, and changes nothing
// that is reckoned.
func (a *App) AddNote(ctx context.Context, id string, n athlete.Note) (*athlete.Note, error) {
	n.At = a.Now().UTC()
	err := a.Store.Write(ctx, func(tx Tx) error { return tx.AddNote(id, &n) })
	return &n, err
}

// RemoveNote removes a note for good.
func (a *App) RemoveNote(ctx context.Context, id string, number int) error {
	return a.Store.Write(ctx, func(tx Tx) error { return tx.RemoveNote(id, number) })
}
