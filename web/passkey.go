package web

import (
	"encoding/json"
	"mime"
	"net"
	"net/http"
	"strings"

	"glidepath/account"
	"glidepath/fault"
)

// passkeyPlace is where a page offers passkeys, or why it does not.
type passkeyPlace struct {
	Origin string // that the browser must show; "" offers none
	Why    string
	Go     string // an address where they work
}

// site is where passkeys belong: the public address where the server knows it, else
// localhost. What a request says of its host is believed for localhost alone, where
// nobody but this computer can ask.
func (s *Server) site(r *http.Request) (account.Site, passkeyPlace) {
	host, port, err := net.SplitHostPort(r.Host)
	if err != nil {
		host, port = r.Host, ""
	}
	origin := "http://" + r.Host
	switch {
	case s.o.Public != "":
		origin = s.o.Public
	case s.o.Secure:
		return account.Site{}, passkeyPlace{Why: "Passkeys need the public address of this server: whoever runs it can give it with --public."}
	case !strings.EqualFold(host, "localhost"):
		there := "http://localhost/"
		if port != "" {
			there = "http://" + net.JoinHostPort("localhost", port) + "/"
		}
		return account.Site{}, passkeyPlace{Why: "Passkeys need a name instead of numbers in the address.", Go: there}
	}
	site, err := account.SiteOf(origin)
	if err != nil {
		return account.Site{}, passkeyPlace{Why: "Passkeys need a host name over https, and this server has the address " + origin + "."}
	}
	return site, passkeyPlace{Origin: site.Origin}
}

func (r *request) passkeyPlace() passkeyPlace {
	_, place := r.s.site(r.Request)
	return place
}

// passkeySite is the site, or the fault of a server that has none.
func (r *request) passkeySite() (account.Site, error) {
	site, place := r.s.site(r.Request)
	if place.Origin == "" {
		return site, fault.New(fault.Refused, "%s", place.Why)
	}
	return site, nil
}

// told is what a script sends about a passkey.
type told struct {
	Answer   json.RawMessage `json:"answer"` // of the browser, to a question of ours
	Proof    json.RawMessage `json:"proof"`  // likewise, to a question for a proof
	Password string          `json:"password"`
	Name     string          `json:"name"`
	Login    string          `json:"login"`
	Next     string          `json:"next"`
}

// onward tells a script where to go on.
type onward struct {
	Go string `json:"go"`
}

// told reads what a script sent. A form of another site cannot be of this type.
func (r *request) told() (t told, err error) {
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		return t, fault.New(fault.Invalid, "this address is for the page's own script.")
	}
	if err := json.NewDecoder(r.Body).Decode(&t); err != nil {
		return t, fault.New(fault.Invalid, "what the page sent could not be read.").WithHint("Load the page again.")
	}
	return t, nil
}

// script wraps what a script asks for: faults are answered in a sentence.
func script(do func(*request) (any, error)) func(*request) error {
	return func(r *request) error {
		out, err := do(r)
		if err != nil {
			return r.refuse(err)
		}
		return r.json(http.StatusOK, out)
	}
}

// asking is a script's request for a question to the browser.
func asking(ask func(*request, told, account.Site) ([]byte, error)) func(*request) error {
	return script(func(r *request) (any, error) {
		t, err := r.told()
		if err != nil {
			return nil, err
		}
		site, err := r.passkeySite()
		if err != nil {
			return nil, err
		}
		question, err := ask(r, t, site)
		return json.RawMessage(question), err
	})
}

// answering is a script's request with the browser's answer.
func answering(take func(*request, told) (onward, error)) func(*request) error {
	return script(func(r *request) (any, error) {
		t, err := r.told()
		if err != nil {
			return nil, err
		}
		return take(r, t)
	})
}

func askSignIn(r *request, _ told, site account.Site) ([]byte, error) {
	return r.s.o.Accounts.AskSignIn(site, r.address())
}

func signInByPasskey(r *request, t told) (onward, error) {
	session, err := r.s.o.Accounts.SignInByPasskey(r.ctx(), t.Answer, r.address())
	if err != nil {
		return onward{}, err
	}
	r.cookie(account.CookieName, session, account.SessionLife)
	return onward{local(t.Next)}, nil
}

func askAccept(r *request, t told, site account.Site) ([]byte, error) {
	a, err := r.invitedAthlete()
	if err != nil {
		return nil, err
	}
	return r.s.o.Accounts.AskAccept(r.ctx(), r.PathValue("secret"), t.Login, a.Name, site, r.address())
}

func acceptByPasskey(r *request, t told) (onward, error) {
	session, err := r.s.o.Accounts.AcceptByPasskey(r.ctx(), r.PathValue("secret"), t.Answer, r.address())
	if err != nil {
		return onward{}, err
	}
	r.cookie(account.CookieName, session, account.SessionLife)
	return onward{"/day"}, nil
}

func askProof(r *request, _ told, site account.Site) ([]byte, error) {
	return r.s.o.Accounts.AskProof(r.ctx(), r.visitor, site)
}

func askPasskey(r *request, t told, site account.Site) ([]byte, error) {
	return r.s.o.Accounts.AskPasskey(r.ctx(), r.visitor, site, account.Proof{Password: t.Password, Passkey: t.Proof})
}

func keepPasskey(r *request, t told) (onward, error) {
	_, err := r.s.o.Accounts.KeepPasskey(r.ctx(), r.visitor, t.Name, t.Answer)
	return onward{"/account?done=passkey#passkeys-title"}, err
}
