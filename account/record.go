package account

import (
	"context"
	"time"

	"glidepath/access"
)

// FoldFor is how long a line of RecordOnce stands for others that would say the
// same (judgement: a day is logged field by field within some minutes).
const FoldFor = 30 * time.Minute

// RecordOnce is Record for what is done in many small steps: where the visitor left
// the same words about the same athlete by the same way in less than FoldFor ago,
// that line stands for this one too. Lines are never changed.
func (d *Desk) RecordOnce(ctx context.Context, v *Visitor, do access.Action, athleteID, words string) error {
	if v == nil {
		v = &Visitor{}
	}
	since := d.Now().UTC().Add(-FoldFor)
	return d.Store.Write(ctx, func(tx Tx) error {
		lately, err := tx.Entries(Query{From: since, AthleteID: athleteID, AccountID: v.AccountID})
		if err != nil {
			return err
		}
		for i := range lately {
			e := &lately[i]
			if e.At.After(since) && e.What == words && e.AthleteID == athleteID && e.AccountID == v.AccountID && e.Who == v.Name && e.Via == v.Via && e.Action == do {
				return nil
			}
		}
		return d.note(tx, v, do, athleteID, words)
	})
}
