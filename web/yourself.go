package web

import (
	"net/http"
	"net/url"
	"time"

	"glidepath/account"
	"glidepath/fault"
)

// yourselfPage is one's own account: the ways in, and where it is signed in.
type yourselfPage struct {
	Login, Ways string
	HasPassword bool
	Fresh       bool // a passkey can be added without a proof
	Passkeys    []passkeyRow
	Place       passkeyPlace
	Sessions    []sessionRow
	Elsewhere   int // sessions but this one
	Password    form
	Full        bool // there is no room for another passkey
}

type passkeyRow struct {
	ID, Name, Made, Used, Kept string
	Elsewhere                  string // the other host that it works at
	Doubted                    string
	Only                       bool // it is the only way in
}

type sessionRow struct {
	Made, Seen, Address string
	Here                bool
}

func showYourself(r *request) error { return r.yourself(http.StatusOK, yourselfPage{}, nil) }

// yourself writes the page with what was typed and what was wrong with it; faults
// are what belongs to no field.
func (r *request) yourself(code int, body yourselfPage, faults []*fault.Error) error {
	self, err := r.s.o.Accounts.Self(r.ctx(), r.visitor)
	if err != nil {
		return err
	}
	site, place := r.s.site(r.Request)
	body.Login, body.HasPassword, body.Fresh, body.Place = self.Account.Login, self.Password, self.Fresh, place
	body.Full = len(self.Passkeys) >= account.MostPasskeys
	body.Ways = ways(self)
	for i := range self.Passkeys {
		p := &self.Passkeys[i]
		row := passkeyShown(p, r.atDesk)
		row.Only = len(self.Passkeys) == 1 && !self.Password
		if site.Host != "" && p.Host != site.Host {
			row.Elsewhere = p.Host
		}
		body.Passkeys = append(body.Passkeys, row)
	}
	for i := range self.Sessions {
		s := &self.Sessions[i]
		body.Sessions = append(body.Sessions, sessionRow{r.atDesk(s.MadeAt), r.atDesk(s.SeenAt), s.Address, i == self.Here})
	}
	body.Elsewhere = len(self.Sessions) - 1
	return r.page(code, "yourself", page{Title: "Your account", Tab: "account", Faults: faults, Body: body})
}

// ways says with what one signs in.
func ways(self *account.Self) string {
	keys := counted(len(self.Passkeys), "passkeys")
	switch {
	case len(self.Passkeys) == 0:
		return "a password"
	case !self.Password:
		return keys + " and no password"
	}
	return "a password or " + keys
}

// passkeyShown is a passkey with its times as a page has them.
func passkeyShown(p *account.Passkey, at func(time.Time) string) passkeyRow {
	row := passkeyRow{ID: p.ID, Name: p.Name, Made: at(p.MadeAt), Used: "never", Kept: "on one device"}
	if !p.UsedAt.IsZero() {
		row.Used = at(p.UsedAt)
	}
	switch {
	case p.Backup.Done:
		row.Kept = "copied between your devices"
	case p.Backup.Able:
		row.Kept = "can be copied between your devices"
	}
	if !p.DoubtedAt.IsZero() {
		row.Doubted = at(p.DoubtedAt)
	}
	return row
}

// atDesk is a time as people at the desk have it, where the server stands.
func (r *request) atDesk(t time.Time) string {
	return t.In(r.s.o.Now().Location()).Format("2 Jan 2006, 15:04")
}

func changeOwnPassword(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	proof := account.Proof{Password: typed.Get("present")}
	if answer := typed.Get("proof"); answer != "" {
		proof.Passkey = []byte(answer)
	}
	session, err := r.s.o.Accounts.ChangePassword(r.ctx(), r.visitor, proof, typed.Get("password"))
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		var body yourselfPage
		var rest []*fault.Error
		body.Password.Values = url.Values{} // nothing that was typed is sent back
		body.Password.Wrong, rest = wrongIn(err, map[string]string{"present": "present", "password": "password"})
		return r.yourself(status(err), body, rest)
	}
	r.cookie(account.CookieName, session, account.SessionLife)
	return r.done("/account", "own-password")
}

func renamePasskey(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	return r.onPasskey(r.s.o.Accounts.RenamePasskey(r.ctx(), r.visitor, typed.Get("passkey"), typed.Get("name")), "renamed")
}

func removePasskey(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	return r.onPasskey(r.s.o.Accounts.RemovePasskey(r.ctx(), r.visitor, typed.Get("passkey")), "passkey-removed")
}

// onPasskey goes back to the page, with a word on what was done or what was wrong.
func (r *request) onPasskey(err error, word string) error {
	if fault.KindOf(err) == fault.Conflict || fault.KindOf(err) == fault.Invalid {
		return r.yourself(status(err), yourselfPage{}, troubles(err))
	}
	if err != nil {
		return err
	}
	return r.done("/account", word)
}

func signOutElsewhere(r *request) error {
	if err := r.s.o.Accounts.SignOutElsewhere(r.ctx(), r.visitor); err != nil {
		return err
	}
	return r.done("/account", "elsewhere")
}
