package account

import (
	"bytes"
	"context"
	"time"

	"glidepath/access"
	"glidepath/fault"
)

// CookieName is the cookie that pages keep a session's secret in, and that the
// JSON interface takes from them.
const CookieName = "glidepath_session"

// How long a session lasts (judgement): after it was made, and after it was last
// used. An athlete logs every morning and should not have to sign in each time.
const (
	SessionLife = 90 * 24 * time.Hour
	sessionIdle = 21 * 24 * time.Hour
	// seenEvery is how exactly use is noted, to spare a write a request.
	seenEvery = 5 * time.Minute
)

// SignIn opens a session for who knows the password, and gives its secret. A
// wrong login, a wrong password and a disabled account are told in the same words
// and take the same work; after many failures the fault is TooMany.
func (d *Desk) SignIn(ctx context.Context, login, password, address string) (secret string, err error) {
	a, err := d.proven(ctx, login, password, address)
	if err != nil {
		return "", err
	}
	err = d.Store.Write(ctx, func(tx Tx) error {
		if err := tx.DropSessions(d.Now().UTC()); err != nil {
			return err
		}
		if secret, err = d.openSession(tx, a, address); err != nil {
			return err
		}
		return d.note(tx, d.visitor(a, "page", address), "", "", "signed in")
	})
	return secret, err
}

// proven is the account of who knows its password.
func (d *Desk) proven(ctx context.Context, login, password, address string) (*Account, error) {
	login = cleanLogin(login)
	if len(login) > maxLogin || len(password) > 4*MaxPassword {
		return nil, errSignIn()
	}
	if err := d.guard.take(d.Now(), guardLogin(login), address); err != nil {
		return nil, err
	}
	var a *Account
	err := d.Store.Read(ctx, func(tx Tx) (err error) {
		if a, err = tx.AccountByLogin(login); fault.KindOf(err) == fault.NotFound {
			a, err = nil, nil
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	ok, err := d.verify(ctx, password, a)
	if err != nil {
		return nil, err
	}
	if !ok || a.Disabled {
		return nil, d.failed(ctx, d.orStranger(a, address), errSignIn())
	}
	d.guard.forgive(guardLogin(login), address)
	return a, nil
}

// failed keeps a record of a sign-in that failed, and gives the fault to tell. What
// was typed for a login is not kept: people type passwords there.
func (d *Desk) failed(ctx context.Context, v *Visitor, told error) error {
	err := d.Store.Write(ctx, func(tx Tx) error { return d.note(tx, v, "", "", "failed to sign in") })
	if err != nil {
		return err
	}
	return told
}

// orStranger is whose account it is for the record, where it is anybody's.
func (d *Desk) orStranger(a *Account, address string) *Visitor {
	if a == nil {
		return &Visitor{Via: "page", Address: HostOf(address)}
	}
	return d.visitor(a, "page", address)
}

func errSignIn() error {
	return fault.New(fault.SignIn, "this login and password do not go together.").
		WithHint("Check both; whoever manages the desk can set a new password.")
}

func (d *Desk) openSession(tx Tx, a *Account, address string) (string, error) {
	secret, now := newSecret(), d.Now().UTC()
	return secret, tx.OpenSession(&Session{
		Hash: hashOf(secret), AccountID: a.ID, MadeAt: now, SeenAt: now, ExpiresAt: now.Add(SessionLife), Address: HostOf(address),
	})
}

func (d *Desk) visitor(a *Account, via, address string) *Visitor {
	return &Visitor{Actor: a.actor(), Login: a.Login, Via: via, Address: HostOf(address)}
}

// BySession is who signed in, from the secret that SignIn gave. A session that is
// over, or whose account is disabled, is a fault of kind SignIn.
func (d *Desk) BySession(ctx context.Context, secret, address string) (*Visitor, error) {
	now, hash := d.Now().UTC(), hashOf(secret)
	var s *Session
	var a *Account
	err := d.Store.Read(ctx, func(tx Tx) (err error) {
		if s, err = tx.SessionBy(hash); err != nil {
			return err
		}
		a, err = tx.Account(s.AccountID)
		return err
	})
	switch {
	case fault.KindOf(err) == fault.NotFound:
		return nil, errNobody()
	case err != nil:
		return nil, err
	case a.Disabled || !s.open(now):
		return nil, errNobody()
	case now.Sub(s.SeenAt) >= seenEvery:
		if err := d.Store.Write(ctx, func(tx Tx) error { return tx.TouchSession(hash, now) }); err != nil {
			return nil, err
		}
	}
	v := d.visitor(a, "page", address)
	v.session = hash
	return v, nil
}

// open reports whether a session is neither over nor too long unused.
func (s *Session) open(now time.Time) bool {
	return now.Before(s.ExpiresAt) && now.Sub(s.SeenAt) < sessionIdle
}

// SignOut ends the visitor's session.
func (d *Desk) SignOut(ctx context.Context, v *Visitor) error {
	if v == nil || v.session == nil {
		return nil
	}
	return d.Store.Write(ctx, func(tx Tx) error {
		if err := tx.EndSession(v.session); err != nil {
			return err
		}
		return d.note(tx, v, "", "", "signed out")
	})
}

// SignOutElsewhere ends every session of the visitor's account but the present one.
func (d *Desk) SignOutElsewhere(ctx context.Context, v *Visitor) error {
	if err := v.checkSession(); err != nil {
		return err
	}
	return d.Store.Write(ctx, func(tx Tx) error {
		all, err := tx.AccountSessions(v.AccountID)
		if err != nil {
			return err
		}
		for i := range all {
			if bytes.Equal(all[i].Hash, v.session) {
				continue
			}
			if err := tx.EndSession(all[i].Hash); err != nil {
				return err
			}
		}
		return d.note(tx, v, "", "", "signed out everywhere else")
	})
}

// checkSession is nil for who is signed in on a page: a token does not see to its
// owner's own ways in.
func (v *Visitor) checkSession() error {
	if v == nil || v.AccountID == "" || v.session == nil {
		return errNobody()
	}
	return nil
}

// Record keeps a line of who saw or changed what: words without a name in them,
// such as "read the log".
func (d *Desk) Record(ctx context.Context, v *Visitor, do access.Action, athleteID, words string) error {
	return d.Store.Write(ctx, func(tx Tx) error { return d.note(tx, v, do, athleteID, words) })
}

// RecordEach keeps a line for each of some athletes.
func (d *Desk) RecordEach(ctx context.Context, v *Visitor, do access.Action, athleteIDs []string, words string) error {
	if len(athleteIDs) == 0 {
		return nil
	}
	return d.Store.Write(ctx, func(tx Tx) error {
		for _, id := range athleteIDs {
			if err := d.note(tx, v, do, id, words); err != nil {
				return err
			}
		}
		return nil
	})
}

func (d *Desk) note(tx Tx, v *Visitor, do access.Action, athleteID, words string) error {
	if v == nil {
		v = &Visitor{}
	}
	return tx.AddEntry(&Entry{
		At: d.Now().UTC(), AccountID: v.AccountID, Who: v.Name, Via: v.Via, Address: v.Address,
		Action: do, AthleteID: athleteID, What: words,
	})
}

// Entries reads the record; v must be allowed to manage the desk.
func (d *Desk) Entries(ctx context.Context, v *Visitor, q Query) (out []Entry, err error) {
	if err := v.Check(access.Manage, ""); err != nil {
		return nil, err
	}
	err = d.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Entries(q)
		return err
	})
	return out, err
}
