package account

import (
	"context"
	"encoding/hex"
	"encoding/json"
	"slices"

	"github.com/go-webauthn/webauthn/protocol"
	"github.com/go-webauthn/webauthn/webauthn"

	"glidepath/fault"
)

// AskSignIn begins a sign-in with a passkey, and gives what the browser is to be
// asked, as JSON. It names nobody: the device says whose passkeys it has.
func (d *Desk) AskSignIn(site Site, address string) ([]byte, error) {
	rp, err := relyingParty(site)
	if err != nil {
		return nil, err
	}
	question, data, err := rp.BeginDiscoverableLogin()
	if err != nil {
		return nil, err
	}
	d.ceremonies.begin(d.Now(), &ceremony{purpose: toSignIn, data: *data, site: site, network: network(address)})
	return json.Marshal(question)
}

// SignInByPasskey takes the browser's answer to AskSignIn, opens a session and
// gives its secret. A passkey that is not known, does not fit or belongs to a
// disabled account is told in the same words; after many failures the fault is
// TooMany.
func (d *Desk) SignInByPasskey(ctx context.Context, answer []byte, address string) (secret string, err error) {
	parsed, err := protocol.ParseCredentialRequestResponseBytes(answer)
	if err != nil {
		parsed = nil
	}
	key := ""
	if parsed != nil {
		key = "passkey " + hex.EncodeToString(parsed.RawID)
	}
	if err := d.guard.take(d.Now(), key, address); err != nil {
		return "", err
	}
	if parsed == nil {
		return "", errPasskey()
	}
	one := d.ceremonies.take(d.Now(), parsed.Response.CollectedClientData.Challenge, toSignIn)
	if one == nil {
		return "", errLate(fault.SignIn)
	}
	a, used, err := d.shown(ctx, one, parsed)
	if err != nil {
		return "", err
	}
	if used == nil || a.Disabled {
		return "", d.failed(ctx, d.orStranger(a, address), errPasskey())
	}
	err = d.Store.Write(ctx, func(tx Tx) error {
		if err := tx.DropSessions(d.Now().UTC()); err != nil {
			return err
		}
		v := d.visitor(a, "page", address)
		if err := d.noteUse(tx, v, used); err != nil {
			return err
		}
		if secret, err = d.openSession(tx, a, address); err != nil {
			return err
		}
		return d.note(tx, v, "", "", "signed in with the passkey "+used.passkey.ID)
	})
	if err == nil {
		d.guard.forgive(key, address)
	}
	return secret, err
}

// use is a passkey that was shown, with what its device said.
type use struct {
	passkey    Passkey
	credential *webauthn.Credential
}

// shown checks a passkey that somebody shows to sign in. The account is nil where
// the passkey is not known, and the use is nil where it does not fit.
func (d *Desk) shown(ctx context.Context, one *ceremony, parsed *protocol.ParsedCredentialAssertionData) (a *Account, u *use, err error) {
	var p *Passkey
	err = d.Store.Read(ctx, func(tx Tx) error {
		if p, err = tx.PasskeyBy(parsed.RawID); err != nil {
			return err
		}
		a, err = tx.Account(p.AccountID)
		return err
	})
	if fault.KindOf(err) == fault.NotFound {
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, err
	}
	rp, err := relyingParty(one.site)
	if err != nil {
		return nil, nil, err
	}
	owner := holder{a, at([]Passkey{*p}, one.site.Host)}
	c, err := rp.ValidateDiscoverableLogin(func([]byte, []byte) (webauthn.User, error) { return owner, nil }, one.data, parsed)
	if err != nil {
		return a, nil, nil //nolint:nilerr // why it does not fit is told to nobody
	}
	return a, &use{*p, c}, nil
}

// noteUse keeps what a use changes of a passkey, which must still be there. A count
// that went back is kept as a doubt: a copied key does so, but so do some devices.
func (d *Desk) noteUse(tx Tx, v *Visitor, u *use) error {
	p, err := tx.Passkey(u.passkey.ID)
	if fault.KindOf(err) == fault.NotFound {
		return errPasskey() // removed meanwhile
	}
	if err != nil {
		return err
	}
	p.UsedAt, p.SignCount = d.Now().UTC(), u.credential.Authenticator.SignCount
	p.Backup = Backup{u.credential.Flags.BackupEligible, u.credential.Flags.BackupState}
	if u.credential.Authenticator.CloneWarning {
		p.DoubtedAt = p.UsedAt
		if err := d.note(tx, v, "", v.AthleteID, "the count of the passkey "+p.ID+" went back: it may have been copied"); err != nil {
			return err
		}
	}
	return tx.PutPasskey(p)
}

func errPasskey() error {
	return fault.New(fault.SignIn, "nobody could be signed in with this passkey.").
		WithHint("It may have been removed. Sign in with a password, or ask whoever manages the desk.")
}

// Proof shows that whoever is signed in is still the same person: by the present
// password, or by an answer to AskProof.
type Proof struct {
	Password string
	Passkey  []byte
}

// AskProof begins a proof by one of the visitor's passkeys, and gives what the
// browser is to be asked, as JSON.
func (d *Desk) AskProof(ctx context.Context, v *Visitor, site Site) ([]byte, error) {
	if err := v.checkSession(); err != nil {
		return nil, err
	}
	owner, err := d.holder(ctx, v.AccountID, site.Host)
	if err != nil {
		return nil, err
	}
	if len(owner.passkeys) == 0 {
		return nil, fault.New(fault.Conflict, "there is no passkey of yours for %s.", site.Host).WithHint("Use the present password.")
	}
	rp, err := relyingParty(site)
	if err != nil {
		return nil, err
	}
	question, data, err := rp.BeginLogin(owner)
	if err != nil {
		return nil, err
	}
	d.ceremonies.begin(d.Now(), &ceremony{
		purpose: toProve, data: *data, site: site, account: *owner.account, session: v.session, network: network(v.Address),
	})
	return json.Marshal(question)
}

// holder reads an account with its passkeys of a host.
func (d *Desk) holder(ctx context.Context, accountID, host string) (h holder, err error) {
	err = d.Store.Read(ctx, func(tx Tx) error {
		if h.account, err = tx.Account(accountID); err != nil {
			return err
		}
		all, err := tx.Passkeys(accountID)
		h.passkeys = at(all, host)
		return err
	})
	return h, err
}

// prove checks a proof by who is signed in. Failures count as failed sign-ins.
func (d *Desk) prove(ctx context.Context, v *Visitor, p Proof) error {
	if p.Passkey == nil {
		_, err := d.proven(ctx, v.Login, p.Password, v.Address)
		if fault.KindOf(err) == fault.SignIn {
			return fault.New(fault.SignIn, "this is not the present password.").WithField("present")
		}
		return err
	}
	key := guardLogin(v.Login)
	if err := d.guard.take(d.Now(), key, v.Address); err != nil {
		return err
	}
	u, err := d.proof(ctx, v, p.Passkey)
	if err != nil {
		return err
	}
	if u == nil {
		return d.failed(ctx, v, fault.New(fault.SignIn, "this passkey does not show that it is you.").WithHint("Try again, or use the present password."))
	}
	d.guard.forgive(key, v.Address)
	return d.Store.Write(ctx, func(tx Tx) error { return d.noteUse(tx, v, u) })
}

// proof is the use of a passkey in an answer to AskProof, nil where it does not fit.
func (d *Desk) proof(ctx context.Context, v *Visitor, answer []byte) (*use, error) {
	parsed, err := protocol.ParseCredentialRequestResponseBytes(answer)
	if err != nil {
		return nil, nil //nolint:nilerr // it does not fit
	}
	one := d.ceremonies.take(d.Now(), parsed.Response.CollectedClientData.Challenge, toProve)
	if !one.of(v) {
		return nil, errLate(fault.SignIn)
	}
	owner, err := d.holder(ctx, v.AccountID, one.site.Host)
	if err != nil {
		return nil, err
	}
	rp, err := relyingParty(one.site)
	if err != nil {
		return nil, err
	}
	c, err := rp.ValidateLogin(owner, one.data, parsed)
	if err != nil {
		return nil, nil //nolint:nilerr // why it does not fit is told to nobody
	}
	i := slices.IndexFunc(owner.passkeys, func(p Passkey) bool { return slices.Equal(p.Credential, c.ID) })
	return &use{owner.passkeys[i], c}, nil
}
