package account

import (
	"context"

	"glidepath/access"
	"glidepath/fault"
)

// HasAccount reports whether an athlete has an account of their own; v must be
// allowed to decide for them.
func (d *Desk) HasAccount(ctx context.Context, v *Visitor, athleteID string) (has bool, err error) {
	if err := v.Check(access.Decide, athleteID); err != nil {
		return false, err
	}
	err = d.Store.Read(ctx, func(tx Tx) error {
		err := vacant(tx, athleteID)
		if has = fault.KindOf(err) == fault.Conflict; has {
			return nil
		}
		return err
	})
	return has, err
}
