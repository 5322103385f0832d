package web

import (
	"net/http"
	"net/url"
	"strings"
	"time"

	"glidepath/account"
	"glidepath/civil"
	"glidepath/fault"
)

const (
	demoCookie = "glidepath_invented"
	asOfCookie = "glidepath_as_of"
)

type signInPage struct {
	Form  form
	Next  string
	Place passkeyPlace
}

func showSignIn(r *request) error {
	begun, err := r.s.o.Accounts.HasAccounts(r.ctx())
	if err != nil {
		return err
	}
	if !begun {
		return r.redirect("/first-owner")
	}
	if r.visitor != nil {
		return r.redirect("/")
	}
	return r.page(http.StatusOK, "sign-in", page{Title: "Sign in", Body: signInPage{Next: local(r.URL.Query().Get("next")), Place: r.passkeyPlace()}})
}

func signIn(r *request) error {
	values, err := r.form()
	if err != nil {
		return err
	}
	next := local(values.Get("next"))
	session, err := r.s.o.Accounts.SignIn(r.ctx(), values.Get("login"), r.PostForm.Get("password"), r.address())
	if err == nil {
		r.cookie(account.CookieName, session, account.SessionLife)
		return r.redirect(next)
	}
	if fault.KindOf(err) == "" {
		return err
	}
	values.Del("password")
	return r.page(status(err), "sign-in", page{Title: "Sign in", Faults: troubles(err), Body: signInPage{Form: form{Values: values}, Next: next, Place: r.passkeyPlace()}})
}

// local is a path on this server to go on to, the roster where it is not one.
func local(next string) string {
	u, err := url.Parse(next)
	if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(next, "/") || strings.HasPrefix(next, "//") || strings.Contains(next, "\\") {
		return "/"
	}
	return next
}

type firstOwnerPage struct{ Form form }

func showFirstOwner(r *request) error {
	begun, err := r.s.o.Accounts.HasAccounts(r.ctx())
	if err != nil {
		return err
	}
	if begun {
		return r.redirect("/sign-in")
	}
	return r.page(http.StatusOK, "first-owner", page{Title: "Whose desk is this?", Body: firstOwnerPage{}})
}

func firstOwner(r *request) error {
	values, err := r.form()
	if err != nil {
		return err
	}
	session, err := r.s.o.Accounts.First(r.ctx(), values.Get("login"), values.Get("name"), r.PostForm.Get("password"), r.address())
	if err == nil {
		r.cookie(account.CookieName, session, account.SessionLife)
		return r.redirect("/")
	}
	if fault.KindOf(err) == "" {
		return err
	}
	values.Del("password")
	wrong, rest := wrongIn(err, map[string]string{"name": "name", "login": "login", "password": "password"})
	return r.page(status(err), "first-owner", page{
		Title: "Whose desk is this?", Faults: rest,
		Body: firstOwnerPage{form{values, wrong}},
	})
}

func signOut(r *request) error {
	if err := r.s.o.Accounts.SignOut(r.ctx(), r.visitor); err != nil {
		return err
	}
	r.cookie(account.CookieName, "", -time.Second)
	r.cookie(demoCookie, "", -time.Second)
	r.cookie(asOfCookie, "", -time.Second)
	if r.isOwn() { // what the phone keeps to be read offline is health data
		r.w.Header().Set("Clear-Site-Data", `"cache", "storage"`)
	}
	return r.done("/sign-in", "signed-out")
}

// setAsOf looks at everything as it was known on another day; an empty date goes
// back to today.
func setAsOf(r *request) error {
	values, err := r.form()
	if err != nil {
		return err
	}
	if values.Get("date") == "" {
		r.cookie(asOfCookie, "", -time.Second)
		return r.redirect(local(values.Get("next")))
	}
	on, err := civil.Parse(values.Get("date"))
	if err != nil {
		return fault.New(fault.Invalid, "%q is not a date such as 2026-03-02.", values.Get("date"))
	}
	r.cookie(asOfCookie, on.String(), 0)
	return r.redirect(local(values.Get("next")))
}

func enterDemo(r *request) error {
	if r.s.o.Demo == nil {
		return noPage()
	}
	r.cookie(asOfCookie, "", -time.Second)
	r.cookie(demoCookie, "yes", 0)
	return r.redirect("/")
}

func leaveDemo(r *request) error {
	r.cookie(asOfCookie, "", -time.Second)
	r.cookie(demoCookie, "", -time.Second)
	return r.redirect("/")
}
