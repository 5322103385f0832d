package account

import (
	"context"
	"slices"
	"sync"
	"time"

	"github.com/alexedwards/argon2id"

	"glidepath/access"
	"glidepath/fault"
)

// Desk has the use cases around accounts. Store and Now must be set. It is safe
// for several goroutines, and is not to be copied.
type Desk struct {
	Store Store
	Now   func() time.Time
	Cost  *argon2id.Params // of hashing a password; nil is the recommended one

	guard      guard
	ceremonies ceremonies
	once       sync.Once
	turns      chan struct{}
}

// HasAccounts reports whether anybody has an account yet.
func (d *Desk) HasAccounts(ctx context.Context) (has bool, err error) {
	err = d.Store.Read(ctx, func(tx Tx) error {
		all, err := tx.Accounts()
		has = len(all) > 0
		return err
	})
	return has, err
}

// First makes the first account, an owner, and signs it in. It is taken only
// while there is none, and only from this very computer.
func (d *Desk) First(ctx context.Context, login, name, password, address string) (secret string, err error) {
	if !IsLoopback(address) {
		return "", fault.New(fault.Forbidden, "the first account is made on the computer that Glidepath runs on.").
			WithHint("Open the page there, or use glidepath account add --role owner.")
	}
	a, err := d.withPassword(ctx, Account{Login: login, Name: name, Role: access.Owner}, password)
	if err != nil {
		return "", err
	}
	err = d.Store.Write(ctx, func(tx Tx) error {
		all, err := tx.Accounts()
		if err != nil {
			return err
		}
		if len(all) > 0 {
			return fault.New(fault.Forbidden, "there are accounts already.").WithHint("Sign in, or ask the owner for an account.")
		}
		if err := tx.PutAccount(a); err != nil {
			return err
		}
		if err := d.note(tx, d.visitor(a, "page", address), access.Manage, "", "made the first account"); err != nil {
			return err
		}
		secret, err = d.openSession(tx, a, address)
		return err
	})
	return secret, err
}

// Add makes an account for somebody else; v must be allowed to manage the desk.
// The login must be free. An athlete's account belongs to an athlete.
func (d *Desk) Add(ctx context.Context, v *Visitor, a Account, password string) (*Account, error) {
	if err := v.Check(access.Manage, ""); err != nil {
		return nil, err
	}
	out, err := d.withPassword(ctx, a, password)
	if err != nil {
		return nil, err
	}
	err = d.Store.Write(ctx, func(tx Tx) error {
		if err := tx.PutAccount(out); err != nil {
			return err
		}
		return d.note(tx, v, access.Manage, out.AthleteID, "made an account of role "+string(out.Role))
	})
	return out, err
}

// withPassword is a new account, checked, with its password hashed.
func (d *Desk) withPassword(ctx context.Context, one Account, password string) (*Account, error) {
	a, err := d.blank(one)
	if err != nil {
		return nil, err
	}
	if err := checkPassword(password, a.Login); err != nil {
		return nil, err
	}
	a.Password, err = d.hash(ctx, password)
	return a, err
}

// blank is a new account, checked, that nobody can sign in to yet.
func (d *Desk) blank(a Account) (*Account, error) {
	a.ID, a.Login, a.MadeAt, a.Disabled, a.Password = newID(), cleanLogin(a.Login), d.Now().UTC(), false, ""
	slices.Sort(a.Athletes)
	a.Athletes = slices.Compact(a.Athletes)
	return &a, a.Validate()
}

// Accounts lists every account by login; v must be allowed to manage the desk.
func (d *Desk) Accounts(ctx context.Context, v *Visitor) (out []Account, err error) {
	if err := v.Check(access.Manage, ""); err != nil {
		return nil, err
	}
	err = d.Store.Read(ctx, func(tx Tx) error {
		out, err = tx.Accounts()
		return err
	})
	return out, err
}

// Account finds an account by login or ID; v must be allowed to manage the desk.
func (d *Desk) Account(ctx context.Context, v *Visitor, name string) (out *Account, err error) {
	if err := v.Check(access.Manage, ""); err != nil {
		return nil, err
	}
	err = d.Store.Read(ctx, func(tx Tx) error {
		if out, err = tx.AccountByLogin(cleanLogin(name)); fault.KindOf(err) == fault.NotFound {
			out, err = tx.Account(name)
		}
		return err
	})
	return out, err
}

// Disable shuts an account out, with every session and token of it, or lets it in
// again. The last owner cannot be shut out.
func (d *Desk) Disable(ctx context.Context, v *Visitor, id string, disabled bool) error {
	return d.change(ctx, v, id, disableWords[disabled], func(tx Tx, a *Account) error {
		a.Disabled = disabled
		if !disabled {
			return nil
		}
		if err := mayGo(tx, a); err != nil {
			return err
		}
		return tx.EndSessions(a.ID)
	})
}

// mayGo is a Conflict where an account is the only owner who can sign in.
func mayGo(tx Tx, a *Account) error {
	if a.Role != access.Owner {
		return nil
	}
	all, err := tx.Accounts()
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(all, func(o Account) bool { return o.ID != a.ID && o.Role == access.Owner && !o.Disabled }) {
		return fault.New(fault.Conflict, "%s is the only owner: nobody could manage the desk.", a.Name).
			WithHint("Make another owner first.")
	}
	return nil
}

// SetRole makes an account that of an owner, a coach or an assistant; v must be
// allowed to manage the desk. An athlete's account stays theirs, and the last owner
// stays one. Whoever becomes an owner has everybody, and so no athletes of their own.
func (d *Desk) SetRole(ctx context.Context, v *Visitor, id string, role access.Role) error {
	if err := v.Check(access.Manage, ""); err != nil {
		return err
	}
	return d.Store.Write(ctx, func(tx Tx) error {
		a, err := tx.Account(id)
		if err != nil {
			return err
		}
		was := a.Role
		switch {
		case was == access.Athlete || role == access.Athlete:
			return fault.New(fault.Conflict, "an athlete's account belongs to the athlete, and its role stays.").WithField("role").
				WithHint("Make another account for other work.")
		case was == role:
			return nil
		}
		if err := mayGo(tx, a); err != nil {
			return err
		}
		if a.Role = role; role == access.Owner {
			a.Athletes = nil
		}
		if err := tx.PutAccount(a); err != nil { // which validates it
			return err
		}
		return d.note(tx, v, access.Manage, "", "changed the role of an account from "+string(was)+" to "+string(role))
	})
}

var disableWords = map[bool]string{true: "disabled an account", false: "enabled an account"}

// SetPassword gives an account a new password and signs it out everywhere; v must
// be allowed to manage the desk.
func (d *Desk) SetPassword(ctx context.Context, v *Visitor, id, password string) error {
	if err := v.Check(access.Manage, ""); err != nil {
		return err
	}
	return d.replacePassword(ctx, v, id, password, nil)
}

// ChangePassword is SetPassword by the visitor for themselves, who must prove that
// it is they. Every session ends; the visitor gets the secret of a new one.
func (d *Desk) ChangePassword(ctx context.Context, v *Visitor, proof Proof, password string) (session string, err error) {
	if err := v.checkSession(); err != nil {
		return "", err
	}
	if err := checkPassword(password, v.Login); err != nil {
		return "", err // before a passkey's answer is used up
	}
	if err := d.prove(ctx, v, proof); err != nil {
		return "", err
	}
	err = d.replacePassword(ctx, v, v.AccountID, password, func(tx Tx, a *Account) error {
		session, err = d.openSession(tx, a, v.Address)
		return err
	})
	return session, err
}

// replacePassword sets a password, ends every session and then does what is left
// to do, where there is something.
func (d *Desk) replacePassword(ctx context.Context, v *Visitor, id, password string, then func(Tx, *Account) error) error {
	hashed := ""
	return d.changeAs(ctx, v, id, "set a password", func(a *Account) (err error) {
		if err := checkPassword(password, a.Login); err != nil {
			return err
		}
		hashed, err = d.hash(ctx, password)
		return err
	}, func(tx Tx, a *Account) error {
		a.Password = hashed
		if err := tx.EndSessions(a.ID); err != nil || then == nil {
			return err
		}
		return then(tx, a)
	})
}

// SetAthletes says which athletes are a coach's or an assistant's.
func (d *Desk) SetAthletes(ctx context.Context, v *Visitor, id string, athletes []string) error {
	return d.change(ctx, v, id, "set the athletes of an account", func(_ Tx, a *Account) error {
		a.Athletes = slices.Compact(slices.Sorted(slices.Values(athletes)))
		return nil
	})
}

// Adopt makes an athlete whom a coach took in one of theirs; an owner has
// everybody anyway. It is for right after the athlete was added.
func (d *Desk) Adopt(ctx context.Context, v *Visitor, athleteID string) error {
	if err := v.CheckAdd(); err != nil {
		return err
	}
	if v.Role != access.Coach {
		return nil
	}
	return d.Store.Write(ctx, func(tx Tx) error {
		a, err := tx.Account(v.AccountID)
		if err != nil {
			return err
		}
		a.Athletes = slices.Compact(slices.Sorted(slices.Values(append(a.Athletes, athleteID))))
		return tx.PutAccount(a)
	})
}

func (d *Desk) change(ctx context.Context, v *Visitor, id, words string, change func(Tx, *Account) error) error {
	if err := v.Check(access.Manage, ""); err != nil {
		return err
	}
	return d.changeAs(ctx, v, id, words, nil, change)
}

// changeAs changes an account and keeps a record of it. prepare, where given, does
// what takes long, before the transaction.
func (d *Desk) changeAs(ctx context.Context, v *Visitor, id, words string, prepare func(*Account) error, change func(Tx, *Account) error) error {
	if prepare != nil {
		var a *Account
		err := d.Store.Read(ctx, func(tx Tx) (err error) { a, err = tx.Account(id); return err })
		if err != nil {
			return err
		}
		if err := prepare(a); err != nil {
			return err
		}
	}
	return d.Store.Write(ctx, func(tx Tx) error {
		a, err := tx.Account(id)
		if err != nil {
			return err
		}
		if err := change(tx, a); err != nil {
			return err
		}
		if err := a.Validate(); err != nil {
			return err
		}
		if err := tx.PutAccount(a); err != nil {
			return err
		}
		return d.note(tx, v, access.Manage, a.AthleteID, words)
	})
}
