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

// AthleteLogin is the login of an athlete's own account, "" where there is none; v
// must be allowed to write to them.
func (d *Desk) AthleteLogin(ctx context.Context, v *Visitor, athleteID string) (login string, err error) {
	if err := v.Check(access.Draft, athleteID); err != nil {
		return "", err
	}
	err = d.Store.Read(ctx, func(tx Tx) error {
		all, err := tx.Accounts()
		for i := range all {
			if all[i].AthleteID == athleteID {
				login = all[i].Login
			}
		}
		return err
	})
	return login, err
}
