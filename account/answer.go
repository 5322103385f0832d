package account

import (
	"bytes"
	"context"
	"time"

	"glidepath/fault"
)

// How long an answer is kept for a request that comes again, and after how long
// one that was never finished is taken for dead (judgement).
const (
	AnswerLife = 24 * time.Hour
	answerDead = 2 * time.Minute
)

// Begin begins a request that its client can repeat under a key. It gives the kept
// answer where the same was asked before. Another request under the same key is
// Unclear, one that is still being done a Conflict. After a nil answer the caller
// does what is asked and calls Finish, or Abandon where it came to nothing.
func (d *Desk) Begin(ctx context.Context, v *Visitor, key string, request []byte, athleteID string) (kept *Answer, err error) {
	now := d.Now().UTC()
	err = d.Store.Write(ctx, func(tx Tx) error {
		if err := tx.DropAnswers(now.Add(-AnswerLife)); err != nil {
			return err
		}
		old, err := tx.Answer(v.AccountID, key)
		switch {
		case fault.KindOf(err) == fault.NotFound:
		case err != nil:
			return err
		case !bytes.Equal(old.Request, request):
			return fault.New(fault.Unclear, "this Idempotency-Key was sent with another request.").WithField("Idempotency-Key").
				WithHint("Use a new key for a new request.")
		case old.Status != 0:
			kept = old
			return nil
		case now.Sub(old.At) < answerDead:
			return fault.New(fault.Conflict, "the first request with this Idempotency-Key is still being done.").
				WithHint("Wait for its answer.")
		}
		return tx.PutAnswer(&Answer{AccountID: v.AccountID, Key: key, Request: request, AthleteID: athleteID, At: now})
	})
	return kept, err
}

// Finish keeps the answer of a request that Begin began.
func (d *Desk) Finish(ctx context.Context, a *Answer) error {
	a.At = d.Now().UTC()
	return d.Store.Write(ctx, func(tx Tx) error { return tx.PutAnswer(a) })
}

// Abandon forgets a request that came to nothing, so that it can be tried again.
func (d *Desk) Abandon(ctx context.Context, v *Visitor, key string) error {
	return d.Store.Write(ctx, func(tx Tx) error { return tx.DropAnswer(v.AccountID, key) })
}
