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

	guard guard
	once  sync.Once
	turns chan struct{}
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
	a, err := d.fresh(ctx, Account{Login: login, Name: name, Role: access.Owner}, password)
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
	out, err := d.fresh(ctx, a, password)
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

// fresh is a new account, checked, with its password hashed.
func (d *Desk) fresh(ctx context.Context, a Account, password string) (*Account, error) {
	a.ID, a.Login, a.MadeAt, a.Disabled = newID(), cleanLogin(a.Login), d.Now().UTC(), false
	slices.Sort(a.Athletes)
	a.Athletes = slices.Compact(a.Athletes)
	if err := a.Validate(); err != nil {
		return nil, err
	}
	if err := checkPassword(password, a.Login); err != nil {
		return nil, err
	}
	var err error
	a.Password, err = d.hash(ctx, password)
	return &a, err
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
		all, err := tx.Accounts()
		if err != nil {
			return err
		}
		if a.Role == access.Owner && !slices.ContainsFunc(all, func(o Account) bool {
			return o.ID != a.ID && o.Role == access.Owner && !o.Disabled
		}) {
			return fault.New(fault.Conflict, "%s is the only owner: nobody could manage the desk.", a.Name).
				WithHint("Make another owner first.")
		}
		return tx.EndSessions(a.ID)
	})
}

var disableWords = map[bool]string{true: "disabled an account", false: "enabled an account"}

// SetPassword gives an account a new password and signs it out everywhere; v must
// be allowed to manage the desk.
func (d *Desk) SetPassword(ctx context.Context, v *Visitor, id, password string) error {
	if err := v.Check(access.Manage, ""); err != nil {
		return err
	}
	return d.replacePassword(ctx, v, id, password)
}

// ChangePassword is SetPassword by the visitor for themselves, who must know the
// present one. Every session ends, the present one too.
func (d *Desk) ChangePassword(ctx context.Context, v *Visitor, old, password string) error {
	if v == nil || v.AccountID == "" || v.Scopes != nil {
		return errNobody()
	}
	if _, err := d.proven(ctx, v.Login, old, v.Address); err != nil {
		return err
	}
	return d.replacePassword(ctx, v, v.AccountID, password)
}

func (d *Desk) replacePassword(ctx context.Context, v *Visitor, id, password string) error {
	hashed := ""
	return d.changeAs(ctx, v, id, "set a password", func(a *Account) (err error) {
		if err := checkPassword(password, a.Login); err != nil {
			return err
		}
		hashed, err = d.hash(ctx, password)
		return err
	}, func(tx Tx, a *Account) error {
		a.Password = hashed
		return tx.EndSessions(a.ID)
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
