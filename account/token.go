package account

import (
	"context"
	"crypto/subtle"
	"strings"
	"time"

	"glidepath/access"
	"glidepath/fault"
)

// How long a token may live.
const (
	TokenLife    = 90 * 24 * time.Hour
	MaxTokenLife = 366 * 24 * time.Hour
)

// AddToken makes a token for an account and gives its text, which is shown this
// once. Visitors make tokens for themselves; whoever manages the desk, for others.
// A life of 0 is TokenLife.
func (d *Desk) AddToken(ctx context.Context, v *Visitor, accountID, name string, scopes Scopes, life time.Duration) (text string, t *Token, err error) {
	if err := v.mayKeep(accountID); err != nil {
		return "", nil, err
	}
	if life == 0 {
		life = TokenLife
	}
	if life < 0 || life > MaxTokenLife {
		return "", nil, fault.New(fault.Invalid, "a token lives for 1 to %d days.", int(MaxTokenLife.Hours()/24)).WithField("days")
	}
	if name = strings.TrimSpace(name); name == "" || len(name) > maxName || strings.ContainsFunc(name, isControl) {
		return "", nil, fault.New(fault.Invalid, "a token needs a name of 1 to %d characters that says what it is for.", maxName).WithField("name")
	}
	if len(scopes) == 0 {
		_, err := ParseScopes(nil)
		return "", nil, err
	}
	secret, now := newSecret(), d.Now().UTC()
	t = &Token{
		ID: newID(), AccountID: accountID, Name: name, Scopes: scopes, Hash: hashOf(secret), MadeAt: now, ExpiresAt: now.Add(life),
	}
	err = d.Store.Write(ctx, func(tx Tx) error {
		if err := tx.PutToken(t); err != nil {
			return err
		}
		return d.note(tx, v, access.Manage, "", "made the token "+t.ID+" with the scopes "+t.Scopes.String())
	})
	return tokenText(t.ID, secret), t, err
}

// mayKeep is nil where the visitor may see to the tokens of an account. A token
// makes no tokens, unless it may manage the desk.
func (v *Visitor) mayKeep(accountID string) error {
	if v != nil && v.Scopes == nil && v.AccountID != "" && v.AccountID == accountID {
		return nil
	}
	return v.Check(access.Manage, "")
}

// Tokens lists the tokens of an account, "" for everybody's.
func (d *Desk) Tokens(ctx context.Context, v *Visitor, accountID string) (out []Token, err error) {
	if err := v.mayKeep(accountID); err != nil {
		return nil, err
	}
	err = d.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Tokens(accountID)
		return err
	})
	return out, err
}

// RevokeToken ends a token for good.
func (d *Desk) RevokeToken(ctx context.Context, v *Visitor, id string) error {
	return d.Store.Write(ctx, func(tx Tx) error {
		t, err := tx.Token(id)
		if err != nil {
			return err
		}
		if err := v.mayKeep(t.AccountID); err != nil {
			if v != nil {
				return fault.New(fault.NotFound, "there is no token %q.", id)
			}
			return err
		}
		if !t.RevokedAt.IsZero() {
			return nil
		}
		t.RevokedAt = d.Now().UTC()
		if err := tx.PutToken(t); err != nil {
			return err
		}
		return d.note(tx, v, access.Manage, "", "revoked the token "+t.ID)
	})
}

// ByToken is who a token acts for, within its scopes. One that is unknown, over or
// revoked, or whose account is disabled, is a fault of kind SignIn.
func (d *Desk) ByToken(ctx context.Context, bearer, address string) (*Visitor, error) {
	id, secret, ok := splitToken(bearer)
	if !ok {
		return nil, errToken()
	}
	now := d.Now().UTC()
	var t *Token
	var a *Account
	err := d.Store.Read(ctx, func(tx Tx) (err error) {
		if t, err = tx.Token(id); err != nil {
			return err
		}
		a, err = tx.Account(t.AccountID)
		return err
	})
	switch {
	case fault.KindOf(err) == fault.NotFound:
		return nil, errToken()
	case err != nil:
		return nil, err
	case subtle.ConstantTimeCompare(hashOf(secret), t.Hash) != 1,
		!t.RevokedAt.IsZero(), !now.Before(t.ExpiresAt), a.Disabled:
		return nil, errToken()
	case now.Sub(t.UsedAt) >= seenEvery:
		// Read again in the transaction: a revocation in between must stand.
		err := d.Store.Write(ctx, func(tx Tx) error {
			t, err := tx.Token(id)
			if err != nil {
				return err
			}
			t.UsedAt = now
			return tx.PutToken(t)
		})
		if err != nil {
			return nil, err
		}
	}
	v := d.visitor(a, "token "+t.ID, address)
	v.Scopes = t.Scopes
	return v, nil
}

func errToken() error {
	return fault.New(fault.SignIn, "this token is not valid.").WithHint("It may be revoked or out of date; make a new one.")
}
