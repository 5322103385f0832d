package account

import (
	"bytes"
	"context"
	"slices"
)

// Self is what visitors see of their own account.
type Self struct {
	Account  Account
	Password bool // there is one
	Passkeys []Passkey
	Sessions []Session // where it is signed in, the latest first
	Here     int       // which of them is the present one
	Fresh    bool      // the present one was begun a moment ago
}

// Self is what the visitor, signed in on a page, sees of their own account.
func (d *Desk) Self(ctx context.Context, v *Visitor) (*Self, error) {
	if err := v.checkSession(); err != nil {
		return nil, err
	}
	var out Self
	err := d.Store.Read(ctx, func(tx Tx) error {
		a, err := tx.Account(v.AccountID)
		if err != nil {
			return err
		}
		out.Account, out.Password = *a, a.Password != ""
		if out.Passkeys, err = tx.Passkeys(a.ID); err != nil {
			return err
		}
		out.Sessions, err = tx.AccountSessions(a.ID)
		return err
	})
	if err != nil {
		return nil, err
	}
	now := d.Now()
	out.Sessions = slices.DeleteFunc(out.Sessions, func(s Session) bool { return !s.open(now) })
	out.Here = slices.IndexFunc(out.Sessions, func(s Session) bool { return bytes.Equal(s.Hash, v.session) })
	if out.Here < 0 {
		return nil, errNobody() // ended meanwhile
	}
	out.Fresh = d.fresh(&out.Sessions[out.Here])
	return &out, nil
}
