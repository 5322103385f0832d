package web

import (
	"cmp"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/athlete"
	"glidepath/fault"
)

// accountsPage lists who can sign in, for the owner.
type accountsPage struct {
	Accounts []accountRow
	Athletes []athlete.Athlete // to choose from
	Form     form              // of a new account
	Made     *secretShown
}

// secretShown is a secret that is told once.
type secretShown struct{ Title, Label, Text, Note string }

type accountRow struct {
	ID, Name, Login, Role, Whose string
	Disabled                     bool
}

// staffRoles are the roles that an account can be made with here; an athlete is
// invited instead.
var staffRoles = []option{{string(access.Coach), "Coach"}, {string(access.Assistant), "Assistant"}, {string(access.Owner), "Owner"}}

func showAccounts(r *request) error {
	return r.accounts(http.StatusOK, accountsPage{Form: blankAccount()}, nil)
}

// accounts writes the list with what was typed and what was wrong with it.
func (r *request) accounts(code int, body accountsPage, wrong error) error {
	all, err := r.s.o.Accounts.Accounts(r.ctx(), r.visitor)
	if err != nil {
		return err
	}
	if body.Athletes, err = r.everybody(); err != nil {
		return err
	}
	names := namesOf(body.Athletes)
	for i := range all {
		a := &all[i]
		body.Accounts = append(body.Accounts, accountRow{a.ID, a.Name, a.Login, string(a.Role), whose(a, names), a.Disabled})
	}
	p := page{Title: "Accounts", Tab: "accounts"}
	if wrong != nil {
		body.Form.Wrong, p.Faults = wrongIn(wrong, map[string]string{"name": "name", "login": "login", "password": "password", "role": "role"})
	}
	p.Body = body
	return r.page(code, "accounts", p)
}

// everybody is every athlete of the real desk: accounts are never of an invented one.
func (r *request) everybody() ([]athlete.Athlete, error) { return r.s.real.app.Athletes(r.ctx()) }

func namesOf(all []athlete.Athlete) map[string]string {
	names := map[string]string{}
	for i := range all {
		names[all[i].ID] = all[i].Name
	}
	return names
}

// whose says in words which athletes an account has to do with.
func whose(a *account.Account, names map[string]string) string {
	switch a.Role {
	case access.Owner:
		return "everybody"
	case access.Athlete:
		return cmp.Or(names[a.AthleteID], a.AthleteID)
	}
	var out []string
	for _, id := range a.Athletes {
		if names[id] != "" { // erased since
			out = append(out, names[id])
		}
	}
	return cmp.Or(strings.Join(out, ", "), "nobody yet")
}

func addAccount(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	password := typed.Get("password")
	typed.Del("password") // never sent back
	made := password == ""
	if made {
		password = account.NewPassword()
	}
	one := account.Account{Login: typed.Get("login"), Name: typed.Get("name"), Role: access.Role(typed.Get("role"))}
	if one.Role != access.Owner { // who sees everybody anyway
		one.Athletes, err = r.known(typed["athletes"])
	}
	if err == nil {
		_, err = r.s.o.Accounts.Add(r.ctx(), r.visitor, one, password)
	}
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.accounts(status(err), accountsPage{Form: form{Values: typed}}, err)
	}
	if !made {
		return r.done("/accounts", "account")
	}
	return r.accounts(http.StatusOK, accountsPage{Form: blankAccount(), Made: passwordShown(one.Name, password)}, nil)
}

// blankAccount is the form before anything is typed.
func blankAccount() form { return form{Values: url.Values{"role": {string(access.Coach)}}} }

func passwordShown(name, password string) *secretShown {
	return &secretShown{
		Title: "The password of " + name + ", shown this once", Label: "Password for " + name, Text: password,
		Note: "Hand it over yourself, and not by the same way as the login.",
	}
}

// known are the athletes among some IDs; one that is not there is Invalid.
func (r *request) known(ids []string) ([]string, error) {
	all, err := r.everybody()
	if err != nil {
		return nil, err
	}
	names := namesOf(all)
	for _, id := range ids {
		if names[id] == "" {
			return nil, account.NoAthlete(id)
		}
	}
	return ids, nil
}

// accountPage is one account, with what can be done about it.
type accountPage struct {
	accountRow
	Staff    bool // has athletes of their own
	Self     bool
	Made     string
	Athletes []athlete.Athlete
	Has      form // which are theirs
	Tokens   []tokenRow
	Token    form
	Password form
	Passkeys []passkeyRow
	Change   form // of the role
	Shown    *secretShown
}

type tokenRow struct {
	ID, Name, Scopes, Made, Used, State string
	Live                                bool
}

func showAccount(r *request) error {
	return r.account(http.StatusOK, accountPage{}, nil)
}

// account writes the page of the account that the address names; faults are what
// belongs to no field.
func (r *request) account(code int, body accountPage, faults []*fault.Error) error {
	a, err := r.named()
	if err != nil {
		return err
	}
	if body.Athletes, err = r.everybody(); err != nil {
		return err
	}
	p := page{Title: a.Name, Tab: "accounts", Faults: faults}
	body.accountRow = accountRow{a.ID, a.Name, a.Login, string(a.Role), whose(a, namesOf(body.Athletes)), a.Disabled}
	body.Staff, body.Self = a.Role == access.Coach || a.Role == access.Assistant, a.ID == r.visitor.AccountID
	body.Made = r.moment(a.MadeAt)
	body.Has = form{Values: url.Values{"athletes": a.Athletes}}
	if body.Change.Values == nil {
		body.Change.Values = url.Values{"role": {string(a.Role)}}
	}
	passkeys, err := r.s.o.Accounts.Passkeys(r.ctx(), r.visitor, a.ID)
	if err != nil {
		return err
	}
	for i := range passkeys {
		row := passkeyShown(&passkeys[i], r.moment)
		row.Only = len(passkeys) == 1 && a.Password == ""
		body.Passkeys = append(body.Passkeys, row)
	}
	tokens, err := r.s.o.Accounts.Tokens(r.ctx(), r.visitor, a.ID)
	if err != nil {
		return err
	}
	now := r.s.o.Now()
	for i := range tokens {
		t := &tokens[i]
		row := tokenRow{ID: t.ID, Name: t.Name, Scopes: strings.ReplaceAll(t.Scopes.String(), ",", ", "), Made: r.moment(t.MadeAt), Used: "never"}
		if !t.UsedAt.IsZero() {
			row.Used = r.moment(t.UsedAt)
		}
		switch {
		case !t.RevokedAt.IsZero():
			row.State = "revoked"
		case !now.Before(t.ExpiresAt):
			row.State = "out of date"
		default:
			row.State, row.Live = "until "+r.moment(t.ExpiresAt), true
		}
		body.Tokens = append(body.Tokens, row)
	}
	p.Body = body
	return r.page(code, "account", p)
}

// moment is a time as the owner's tables have it.
func (r *request) moment(t time.Time) string { return t.UTC().Format("2 Jan 2006, 15:04") }

func (r *request) named() (*account.Account, error) {
	return r.s.o.Accounts.Account(r.ctx(), r.visitor, r.PathValue("account"))
}

// onAccount reads a form about the account of the address.
func (r *request) onAccount() (typed url.Values, a *account.Account, err error) {
	if typed, err = r.form(); err != nil {
		return nil, nil, err
	}
	a, err = r.named()
	return typed, a, err
}

func setAthletes(r *request) error {
	typed, a, err := r.onAccount()
	if err != nil {
		return err
	}
	ids, err := r.known(typed["athletes"])
	if err != nil {
		return err
	}
	if err := r.s.o.Accounts.SetAthletes(r.ctx(), r.visitor, a.ID, ids); err != nil {
		return err
	}
	return r.done("/accounts/"+a.ID, "athletes")
}

func setState(r *request) error {
	typed, a, err := r.onAccount()
	if err != nil {
		return err
	}
	word, ok := map[string]string{"disable": "disabled", "enable": "enabled"}[typed.Get("do")]
	if !ok {
		return fault.New(fault.Invalid, "The form says neither disable nor enable.")
	}
	if err := r.s.o.Accounts.Disable(r.ctx(), r.visitor, a.ID, word == "disabled"); err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.account(status(err), accountPage{}, troubles(err))
	}
	return r.done("/accounts/"+a.ID, word)
}

func setRole(r *request) error {
	typed, a, err := r.onAccount()
	if err != nil {
		return err
	}
	if err := r.s.o.Accounts.SetRole(r.ctx(), r.visitor, a.ID, access.Role(typed.Get("role"))); err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		body := accountPage{Change: form{Values: typed}}
		var rest []*fault.Error
		if a.Role == access.Athlete { // no field of theirs shows it
			return r.account(status(err), accountPage{}, troubles(err))
		}
		body.Change.Wrong, rest = wrongIn(err, map[string]string{"role": "role"})
		return r.account(status(err), body, rest)
	}
	if a.ID == r.visitor.AccountID { // who is an owner no longer has these pages no longer
		return r.redirect("/")
	}
	return r.done("/accounts/"+a.ID, "role")
}

// removeTheirPasskey takes away a passkey of somebody's, as when a phone is lost.
func removeTheirPasskey(r *request) error {
	typed, a, err := r.onAccount()
	if err != nil {
		return err
	}
	if err := r.s.o.Accounts.RemovePasskey(r.ctx(), r.visitor, typed.Get("passkey")); err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.account(status(err), accountPage{}, troubles(err))
	}
	return r.done("/accounts/"+a.ID, "their-passkey")
}

func setPassword(r *request) error {
	typed, a, err := r.onAccount()
	if err != nil {
		return err
	}
	password := typed.Get("password")
	made := password == ""
	if made {
		password = account.NewPassword()
	}
	if err := r.s.o.Accounts.SetPassword(r.ctx(), r.visitor, a.ID, password); err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		var body accountPage
		var rest []*fault.Error
		body.Password.Wrong, rest = wrongIn(err, map[string]string{"password": "password"})
		return r.account(status(err), body, rest)
	}
	if !made {
		return r.done("/accounts/"+a.ID, "password")
	}
	return r.account(http.StatusOK, accountPage{Shown: passwordShown(a.Name, password)}, nil)
}

func addToken(r *request) error {
	typed, a, err := r.onAccount()
	if err != nil {
		return err
	}
	body := accountPage{Token: form{Values: typed}}
	scopes, err := account.ParseScopes(typed["scopes"])
	days := int(account.TokenLife.Hours() / 24)
	if text := typed.Get("days"); err == nil && text != "" {
		const most = int(account.MaxTokenLife / (24 * time.Hour))
		if days, err = strconv.Atoi(text); err != nil || days < 1 || days > most {
			err = fault.New(fault.Invalid, "a token lives for 1 to %d days.", most).WithField("days")
		}
	}
	var text string
	if err == nil {
		text, _, err = r.s.o.Accounts.AddToken(r.ctx(), r.visitor, a.ID, typed.Get("token"), scopes, time.Duration(days)*24*time.Hour)
	}
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		var rest []*fault.Error
		body.Token.Wrong, rest = wrongIn(err, map[string]string{"name": "token", "scopes": "scopes", "days": "days"})
		return r.account(status(err), body, rest)
	}
	return r.account(http.StatusOK, accountPage{Shown: &secretShown{
		Title: "The token, shown this once", Label: "Token", Text: text, Note: "Whoever has it acts as " + a.Name + " within its scopes.",
	}}, nil)
}

func revokeToken(r *request) error {
	typed, a, err := r.onAccount()
	if err != nil {
		return err
	}
	if err := r.s.o.Accounts.RevokeToken(r.ctx(), r.visitor, typed.Get("token")); err != nil {
		return err
	}
	return r.done("/accounts/"+a.ID, "token-revoked")
}
