package account

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/go-webauthn/webauthn/protocol"
	"github.com/go-webauthn/webauthn/webauthn"

	"glidepath/access"
	"glidepath/fault"
)

// Passkey is the public half of a key that a person's device keeps and opens with
// their finger, face or PIN (W3C Web Authentication, Level 3). It holds no secret.
type Passkey struct {
	ID         string    `json:"id"` // made up when it is kept; for the record and for people
	AccountID  string    `json:"account_id"`
	Name       string    `json:"name"` // which device it is on
	Host       string    `json:"host"` // where it works
	Credential []byte    `json:"-"`    // its ID, as the device made it
	PublicKey  []byte    `json:"-"`    // COSE (RFC 9052)
	Transports []string  `json:"transports,omitempty"`
	SignCount  uint32    `json:"-"` // 0 with devices that do not count
	Backup     Backup    `json:"backup"`
	MadeAt     time.Time `json:"made_at"`
	UsedAt     time.Time `json:"used_at,omitzero"`
	// DoubtedAt is when its count went back, as that of a copied key would.
	DoubtedAt time.Time `json:"doubted_at,omitzero"`
}

// Backup says whether a passkey lives on one device or on several.
type Backup struct {
	Able bool `json:"able"` // it may be copied to the person's other devices
	Done bool `json:"done"` // and was
}

// Bounds of passkeys. The longest credential ID is that of the standard, section
// 4; the rest is judgement.
const (
	MostPasskeys   = 20 // of an account
	maxCredential  = 1023
	maxPublicKey   = 4096
	mostTransports = 8
	maxTransport   = 32
)

// Validate checks a passkey's own fields.
func (p *Passkey) Validate() error {
	switch {
	case p.ID == "" || p.AccountID == "":
		return fault.New(fault.Invalid, "the passkey has no id or no account.").WithField("id")
	case strings.TrimSpace(p.Name) == "" || len(p.Name) > maxName || strings.ContainsFunc(p.Name, isControl):
		return fault.New(fault.Invalid, "the name of a passkey is 1 to %d characters on one line.", maxName).WithField("name")
	case p.Host == "":
		return fault.New(fault.Invalid, "the passkey has no host.").WithField("host")
	case len(p.Credential) == 0 || len(p.Credential) > maxCredential:
		return fault.New(fault.Invalid, "a credential's ID has 1 to %d bytes.", maxCredential)
	case len(p.PublicKey) == 0 || len(p.PublicKey) > maxPublicKey:
		return fault.New(fault.Invalid, "a public key has 1 to %d bytes.", maxPublicKey)
	case p.Backup.Done && !p.Backup.Able:
		return fault.New(fault.Invalid, "a passkey that cannot be copied was copied.").WithField("backup")
	}
	return nil
}

// credential is the passkey as the library checks it.
func (p *Passkey) credential() webauthn.Credential {
	transports := make([]protocol.AuthenticatorTransport, len(p.Transports))
	for i, t := range p.Transports {
		transports[i] = protocol.AuthenticatorTransport(t)
	}
	return webauthn.Credential{
		ID: p.Credential, PublicKey: p.PublicKey, Transport: transports,
		Flags:         webauthn.CredentialFlags{UserPresent: true, UserVerified: true, BackupEligible: p.Backup.Able, BackupState: p.Backup.Done},
		Authenticator: webauthn.Authenticator{SignCount: p.SignCount},
	}
}

// cleanTransports are those of a device's that are words; they only help the
// browser to ask the right device.
func cleanTransports(all []protocol.AuthenticatorTransport) (out []string) {
	for _, t := range all {
		word := string(t)
		if word != "" && len(word) <= maxTransport && !strings.ContainsFunc(word, func(r rune) bool { return r != '-' && (r < 'a' || r > 'z') }) && !slices.Contains(out, word) {
			out = append(out, word)
		}
	}
	return out[:min(len(out), mostTransports)]
}

// holds reports whether an account is the visitor's own.
func (v *Visitor) holds(accountID string) bool {
	return v != nil && v.AccountID != "" && v.AccountID == accountID
}

// Passkeys lists the passkeys of an account by when they were made: one's own, or
// anybody's for whoever manages the desk.
func (d *Desk) Passkeys(ctx context.Context, v *Visitor, accountID string) (out []Passkey, err error) {
	if !v.holds(accountID) {
		if err := v.Check(access.Manage, ""); err != nil {
			return nil, err
		}
	}
	err = d.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Passkeys(accountID)
		return err
	})
	return out, err
}

// RenamePasskey gives one of the visitor's own passkeys another name.
func (d *Desk) RenamePasskey(ctx context.Context, v *Visitor, id, name string) error {
	if err := v.checkSession(); err != nil {
		return err
	}
	return d.Store.Write(ctx, func(tx Tx) error {
		p, err := tx.Passkey(id)
		if err != nil || !v.holds(p.AccountID) {
			return errNoPasskey(id, err)
		}
		if p.Name = strings.TrimSpace(name); p.Name == "" {
			p.Name = passkeyName(p.MadeAt)
		}
		if err := p.Validate(); err != nil {
			return err
		}
		if err := tx.PutPasskey(p); err != nil {
			return err
		}
		return d.note(tx, v, "", v.AthleteID, "renamed the passkey "+id)
	})
}

// RemovePasskey takes a passkey away for good: one's own, or anybody's for whoever
// manages the desk, which also ends every session of that account. The last way
// into an account stays.
func (d *Desk) RemovePasskey(ctx context.Context, v *Visitor, id string) error {
	if v == nil || v.Role == access.Nobody {
		return errNobody()
	}
	if !v.scoped(access.Manage) {
		return v.refusal(access.Manage)
	}
	return d.Store.Write(ctx, func(tx Tx) error {
		p, err := tx.Passkey(id)
		if err != nil || !v.holds(p.AccountID) && v.Check(access.Manage, "") != nil {
			return errNoPasskey(id, err)
		}
		a, err := tx.Account(p.AccountID)
		if err != nil {
			return err
		}
		all, err := tx.Passkeys(a.ID)
		if err != nil {
			return err
		}
		if a.Password == "" && len(all) == 1 {
			return fault.New(fault.Conflict, "this passkey is the only way into the account.").
				WithHint("Set a password or add another passkey first.")
		}
		if err := tx.DropPasskey(id); err != nil {
			return err
		}
		if !v.holds(a.ID) {
			if err := tx.EndSessions(a.ID); err != nil {
				return err
			}
		}
		return d.note(tx, v, "", a.AthleteID, "removed the passkey "+id)
	})
}

// errNoPasskey is the fault of a passkey that is not there or not the visitor's;
// what failed inside stays as it is.
func errNoPasskey(id string, err error) error {
	if err != nil && fault.KindOf(err) != fault.NotFound {
		return err
	}
	return fault.New(fault.NotFound, "there is no passkey %q.", id)
}

// passkeyName is what a passkey is called until somebody names it.
func passkeyName(made time.Time) string { return "Passkey of " + made.Format("2 January 2006") }
