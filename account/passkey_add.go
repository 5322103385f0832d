package account

import (
	"bytes"
	"context"
	"strings"
	"time"

	"github.com/go-webauthn/webauthn/protocol"

	"glidepath/access"
	"glidepath/fault"
)

// FreshFor is how long after signing in a person may add a passkey without showing
// again who they are (judgement).
const FreshFor = 10 * time.Minute

// AskPasskey begins the making of a passkey for the visitor's own account, and
// gives what their browser is to be asked, as JSON. proof is not needed while the
// sign-in is fresh.
func (d *Desk) AskPasskey(ctx context.Context, v *Visitor, site Site, proof Proof) (question []byte, err error) {
	if err := v.checkSession(); err != nil {
		return nil, err
	}
	var a *Account
	var s *Session
	var have []Passkey
	err = d.Store.Read(ctx, func(tx Tx) error {
		if a, err = tx.Account(v.AccountID); err != nil {
			return err
		}
		if s, err = tx.SessionBy(v.session); err != nil {
			return err
		}
		have, err = tx.Passkeys(a.ID)
		return err
	})
	if err != nil {
		return nil, err
	}
	if !d.fresh(s) {
		if err := d.prove(ctx, v, proof); err != nil {
			return nil, err
		}
	}
	if err := roomFor(have); err != nil {
		return nil, err
	}
	return d.askToMake(&ceremony{purpose: toAdd, site: site, account: *a, session: v.session, network: network(v.Address)}, have)
}

func (d *Desk) fresh(s *Session) bool { return d.Now().Sub(s.MadeAt) < FreshFor }

func roomFor(have []Passkey) error {
	if len(have) >= MostPasskeys {
		return fault.New(fault.Conflict, "an account has at most %d passkeys.", MostPasskeys).WithHint("Remove one that is no longer used.")
	}
	return nil
}

// KeepPasskey takes the browser's answer to AskPasskey and keeps the passkey, under
// a name that says which device it is on.
func (d *Desk) KeepPasskey(ctx context.Context, v *Visitor, name string, answer []byte) (*Passkey, error) {
	if err := v.checkSession(); err != nil {
		return nil, err
	}
	parsed, err := protocol.ParseCredentialCreationResponseBytes(answer)
	if err != nil {
		return nil, errNotMade(nil)
	}
	one := d.ceremonies.take(d.Now(), parsed.Response.CollectedClientData.Challenge, toAdd)
	if !one.of(v) {
		return nil, errLate(fault.Invalid)
	}
	p, err := d.made(one, parsed, strings.TrimSpace(name))
	if err != nil {
		return nil, err
	}
	return p, d.Store.Write(ctx, func(tx Tx) error {
		have, err := tx.Passkeys(p.AccountID)
		if err != nil {
			return err
		}
		if err := roomFor(have); err != nil {
			return err
		}
		if err := tx.PutPasskey(p); err != nil {
			return err
		}
		return d.note(tx, v, "", v.AthleteID, "made the passkey "+p.ID)
	})
}

// AskAccept begins an athlete's account with a passkey instead of a password, from
// an invitation, and gives what their browser is to be asked, as JSON.
func (d *Desk) AskAccept(ctx context.Context, secret, login, name string, site Site, address string) (question []byte, err error) {
	i, err := d.Invited(ctx, secret)
	if err != nil {
		return nil, err
	}
	a, err := d.blank(Account{Login: login, Name: name, Role: access.Athlete, AthleteID: i.AthleteID})
	if err != nil {
		return nil, err
	}
	// Before the device makes a passkey that could not be kept.
	err = d.Store.Read(ctx, func(tx Tx) error {
		_, err := tx.AccountByLogin(a.Login)
		return err
	})
	if err == nil {
		return nil, fault.New(fault.Conflict, "the login %q is taken.", a.Login).WithField("login").WithHint("Choose another.")
	}
	if fault.KindOf(err) != fault.NotFound {
		return nil, err
	}
	return d.askToMake(&ceremony{purpose: toJoin, site: site, account: *a, secret: secret, network: network(address)}, nil)
}

// AcceptByPasskey takes the browser's answer to AskAccept, makes the athlete's
// account with the passkey and no password, and signs them in.
func (d *Desk) AcceptByPasskey(ctx context.Context, secret string, answer []byte, address string) (session string, err error) {
	parsed, err := protocol.ParseCredentialCreationResponseBytes(answer)
	if err != nil {
		return "", errNotMade(nil)
	}
	one := d.ceremonies.take(d.Now(), parsed.Response.CollectedClientData.Challenge, toJoin)
	if one == nil || !bytes.Equal(hashOf(one.secret), hashOf(secret)) {
		return "", errLate(fault.Invalid)
	}
	p, err := d.made(one, parsed, "")
	if err != nil {
		return "", err
	}
	return d.join(ctx, secret, &one.account, p, address)
}

// errNotMade says that a passkey was not kept, and as far as it shows why.
func errNotMade(parsed *protocol.ParsedCredentialCreationData) error {
	e := fault.New(fault.Invalid, "this passkey could not be kept.").WithHint("Try again, or use another device.")
	if parsed != nil && !parsed.Response.AttestationObject.AuthData.Flags.HasUserVerified() {
		e = e.WithHint("The device did not check who you are: set a screen lock or a PIN on it first.")
	}
	return e
}

// errLate is for an answer to a question that is not open (any more).
func errLate(kind fault.Kind) error {
	return fault.New(kind, "this took longer than %d minutes, or was answered already.", int(CeremonyLife.Minutes())).WithHint("Try again.")
}
