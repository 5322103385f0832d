package store

import (
	"database/sql"
	"errors"

	"glidepath/app"
	"glidepath/civil"
	"glidepath/fault"
)

// Reviews lists the weekly reviews up to a date.
func (t *tx) Reviews(id string, to civil.Date) ([]app.Review, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return list(t, `
		SELECT date, proposal, decision, reason, who, decided_at, version FROM reviews
		WHERE athlete = ? AND date <= ? ORDER BY date`, []any{key, to}, scanReview)
}

func scanReview(rows *sql.Rows, r *app.Review) error {
	var at sql.Null[string]
	var version sql.Null[int64]
	err := rows.Scan(&r.Date, (*[]byte)(&r.Proposal), &r.Decision, &r.Reason, &r.Who, &at, &version)
	if err != nil {
		return err
	}
	r.Version = int(version.V)
	if at.Valid {
		return parseMoment(at.V, &r.DecidedAt)
	}
	return nil
}

// PutReview stores a review in the place of an undecided one of the same date.
func (t *tx) PutReview(id string, r *app.Review) error {
	key, err := t.key(id)
	if err != nil {
		return err
	}
	if err := t.checkReview(key, r); err != nil {
		return err
	}
	var at any
	if !r.DecidedAt.IsZero() {
		at = moment(r.DecidedAt)
	}
	return t.exec(`
		REPLACE INTO reviews (athlete, date, proposal, decision, reason, who, decided_at, version)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
		key, r.Date, r.Proposal, string(r.Decision), r.Reason, r.Who, at, orNull(r.Version))
}

func (t *tx) checkReview(key int64, r *app.Review) error {
	if r.Date.IsZero() {
		return fault.New(fault.Invalid, "the review has no date.").WithField("date")
	}
	switch r.Decision {
	case app.Undecided, app.Accepted, app.Edited, app.Declined:
	default:
		return fault.New(fault.Invalid, "the decision %q is not accepted, edited or declined.", r.Decision).
			WithField("decision")
	}
	var decision app.Decision
	err := t.one(`SELECT decision FROM reviews WHERE athlete = ? AND date = ?`,
		[]any{key, r.Date}, []any{&decision})
	switch {
	case err == nil && decision != app.Undecided:
		return fault.New(fault.Conflict, "the review of %s was already %s.", r.Date, decision).
			WithHint("Make a new review to change course; a decision stays as it was made.")
	case err != nil && !errors.Is(err, sql.ErrNoRows):
		return err
	}
	if r.Version == 0 {
		return nil
	}
	var n int
	err = t.one(`SELECT count(*) FROM prescriptions WHERE athlete = ? AND version = ?`,
		[]any{key, r.Version}, []any{&n})
	if err == nil && n == 0 {
		return fault.New(fault.NotFound, "there is no version %d of the prescription.", r.Version).WithField("version")
	}
	return err
}
