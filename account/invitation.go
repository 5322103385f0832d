package account

import (
	"context"
	"slices"
	"time"

	"glidepath/access"
	"glidepath/fault"
)

// InvitationLife is how long an invitation may be used (judgement).
const InvitationLife = 7 * 24 * time.Hour

// Invite makes an invitation for an athlete and gives its secret, to be sent in a
// link and shown this once. v must be allowed to decide for the athlete, who must
// not have an account. An earlier invitation that was not used is revoked.
func (d *Desk) Invite(ctx context.Context, v *Visitor, athleteID string) (secret string, i *Invitation, err error) {
	if err := v.Check(access.Decide, athleteID); err != nil {
		return "", nil, err
	}
	secret = newSecret()
	now := d.Now().UTC()
	i = &Invitation{ID: newID(), AthleteID: athleteID, Hash: hashOf(secret), By: v.Name, MadeAt: now, ExpiresAt: now.Add(InvitationLife)}
	err = d.Store.Write(ctx, func(tx Tx) error {
		if err := vacant(tx, athleteID); err != nil {
			return err
		}
		if err := d.revokeOpen(tx, athleteID, ""); err != nil {
			return err
		}
		if err := tx.PutInvitation(i); err != nil {
			return err
		}
		return d.note(tx, v, access.Decide, athleteID, "invited the athlete")
	})
	return secret, i, err
}

// vacant is nil where an athlete has no account.
func vacant(tx Tx, athleteID string) error {
	all, err := tx.Accounts()
	if err != nil {
		return err
	}
	if slices.ContainsFunc(all, func(a Account) bool { return a.AthleteID == athleteID }) {
		return fault.New(fault.Conflict, "this athlete has an account already.").
			WithHint("They can sign in; whoever manages the desk can set a new password.")
	}
	return nil
}

// revokeOpen revokes an athlete's unused invitations, or the one with an ID.
func (d *Desk) revokeOpen(tx Tx, athleteID, id string) error {
	all, err := tx.Invitations(athleteID)
	if err != nil {
		return err
	}
	for k := range all {
		i := &all[k]
		if !i.UsedAt.IsZero() || !i.RevokedAt.IsZero() || id != "" && i.ID != id {
			continue
		}
		i.RevokedAt = d.Now().UTC()
		if err := tx.PutInvitation(i); err != nil {
			return err
		}
	}
	return nil
}

// Invitations lists the invitations for an athlete.
func (d *Desk) Invitations(ctx context.Context, v *Visitor, athleteID string) (out []Invitation, err error) {
	if err := v.Check(access.Decide, athleteID); err != nil {
		return nil, err
	}
	err = d.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Invitations(athleteID)
		return err
	})
	return out, err
}

// RevokeInvitation ends an invitation that was not used.
func (d *Desk) RevokeInvitation(ctx context.Context, v *Visitor, athleteID, id string) error {
	if err := v.Check(access.Decide, athleteID); err != nil {
		return err
	}
	return d.Store.Write(ctx, func(tx Tx) error {
		all, err := tx.Invitations(athleteID)
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(all, func(i Invitation) bool { return i.ID == id }) {
			return fault.New(fault.NotFound, "there is no invitation %q.", id)
		}
		if err := d.revokeOpen(tx, athleteID, id); err != nil {
			return err
		}
		return d.note(tx, v, access.Decide, athleteID, "revoked an invitation")
	})
}

// Invited is the invitation that a secret belongs to, while it can be used; else
// it is NotFound, whatever the reason.
func (d *Desk) Invited(ctx context.Context, secret string) (out *Invitation, err error) {
	err = d.Store.Read(ctx, func(tx Tx) error {
		out, err = d.usable(tx, secret)
		return err
	})
	return out, err
}

func (d *Desk) usable(tx Tx, secret string) (*Invitation, error) {
	i, err := tx.InvitationBy(hashOf(secret))
	if err != nil && fault.KindOf(err) != fault.NotFound {
		return nil, err
	}
	if err != nil || !i.UsedAt.IsZero() || !i.RevokedAt.IsZero() || !d.Now().Before(i.ExpiresAt) {
		return nil, fault.New(fault.NotFound, "this invitation cannot be used.").
			WithHint("It works once, for a week; ask your coach for a new one.")
	}
	return i, nil
}

// Accept makes the athlete's account from an invitation, and signs them in.
func (d *Desk) Accept(ctx context.Context, secret, login, name, password, address string) (session string, err error) {
	i, err := d.Invited(ctx, secret) // before the work of hashing
	if err != nil {
		return "", err
	}
	a, err := d.withPassword(ctx, Account{Login: login, Name: name, Role: access.Athlete, AthleteID: i.AthleteID}, password)
	if err != nil {
		return "", err
	}
	return d.join(ctx, secret, a, nil, address)
}

// join uses an invitation up for an account, with a passkey where one was made, and
// signs in.
func (d *Desk) join(ctx context.Context, secret string, a *Account, key *Passkey, address string) (session string, err error) {
	err = d.Store.Write(ctx, func(tx Tx) error {
		i, err := d.usable(tx, secret)
		if err != nil {
			return err
		}
		if err := vacant(tx, i.AthleteID); err != nil {
			return err
		}
		if err := tx.PutAccount(a); err != nil {
			return err
		}
		how := "accepted an invitation"
		if key != nil {
			if err := tx.PutPasskey(key); err != nil {
				return err
			}
			how += " with the passkey " + key.ID
		}
		i.UsedAt = d.Now().UTC()
		if err := tx.PutInvitation(i); err != nil {
			return err
		}
		if err := d.note(tx, d.visitor(a, "page", address), "", a.AthleteID, how); err != nil {
			return err
		}
		session, err = d.openSession(tx, a, address)
		return err
	})
	return session, err
}
