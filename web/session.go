package web

import (
	"crypto/subtle"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"

	"glidepath/access"
	"glidepath/civil"
	"glidepath/fault"
)

const (
	demoCookie  = "glidepath-invented"
	asOfCookie  = "glidepath-as-of"
	sessionLife = 30 * 24 * time.Hour
)

// sessionName is the session's cookie; by TLS the browser sees to it that no
// other host can have set it.
func (s *Server) sessionName() string {
	if s.o.Secure {
		return "__Host-glidepath"
	}
	return "glidepath-session"
}

type signInPage struct {
	Form form
	Next string
}

func showSignIn(r *request) error {
	begun, err := r.s.o.Accounts.Begun(r.ctx())
	if err != nil {
		return err
	}
	if !begun {
		return r.redirect("/first-owner")
	}
	if r.actor.Role != access.Nobody {
		return r.redirect("/")
	}
	return r.page(http.StatusOK, "sign-in", page{Title: "Sign in", Body: signInPage{Next: local(r.URL.Query().Get("next"))}})
}

func signIn(r *request) error {
	values, err := r.form()
	if err != nil {
		return err
	}
	next, email := local(values.Get("next")), strings.ToLower(values.Get("email"))
	wait := r.s.tries.wait(email)
	if wait == 0 {
		var session string
		session, err = r.s.o.Accounts.SignIn(r.ctx(), email, r.PostForm.Get("password"))
		if err == nil {
			r.s.tries.forget(email)
			r.cookie(r.s.sessionName(), session, sessionLife)
			return r.redirect(next)
		}
		r.s.tries.failed(email)
	} else {
		err = fault.New(tooOften, "Too many sign-ins have failed for this address.").
			WithHint("Try again in %d seconds. If you have forgotten the password, ask the owner of this desk.", int(wait/time.Second)+1)
	}
	if fault.KindOf(err) == "" {
		return err
	}
	values.Del("password")
	return r.page(status(err), "sign-in", page{Title: "Sign in", Faults: troubles(err), Body: signInPage{Form: form{Values: values}, Next: next}})
}

// local is a path on this server to go on to, the roster where it is not one.
func local(next string) string {
	u, err := url.Parse(next)
	if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(next, "/") || strings.HasPrefix(next, "//") || strings.Contains(next, "\\") {
		return "/"
	}
	return next
}

type firstOwnerPage struct {
	Form form
	Key  bool
}

func showFirstOwner(r *request) error {
	begun, err := r.s.o.Accounts.Begun(r.ctx())
	if err != nil {
		return err
	}
	if begun {
		return r.redirect("/sign-in")
	}
	return r.page(http.StatusOK, "first-owner", page{Title: "Whose desk is this?", Body: firstOwnerPage{Key: r.s.o.SetupKey != ""}})
}

func firstOwner(r *request) error {
	values, err := r.form()
	if err != nil {
		return err
	}
	var session string
	err = r.checkKey(values.Get("key"))
	if err == nil {
		session, err = r.s.o.Accounts.Begin(r.ctx(), values.Get("name"), strings.ToLower(values.Get("email")), r.PostForm.Get("password"))
	}
	if err == nil {
		r.cookie(r.s.sessionName(), session, sessionLife)
		return r.redirect("/")
	}
	if fault.KindOf(err) == "" {
		return err
	}
	values.Del("password")
	wrong, rest := wrongIn(err, map[string]string{"name": "name", "email": "email", "password": "password", "key": "key"})
	return r.page(status(err), "first-owner", page{
		Title: "Whose desk is this?", Faults: rest,
		Body: firstOwnerPage{Form: form{values, wrong}, Key: r.s.o.SetupKey != ""},
	})
}

// checkKey refuses a stranger who comes first.
func (r *request) checkKey(key string) error {
	if want := r.s.o.SetupKey; want != "" && subtle.ConstantTimeCompare([]byte(key), []byte(want)) != 1 {
		return fault.New(fault.Invalid, "this is not the key that the server printed when it started.").WithField("key")
	}
	return nil
}

func signOut(r *request) error {
	if c, err := r.Cookie(r.s.sessionName()); err == nil {
		if err := r.s.o.Accounts.SignOut(r.ctx(), c.Value); err != nil {
			return err
		}
	}
	r.cookie(r.s.sessionName(), "", -time.Second)
	r.cookie(demoCookie, "", -time.Second)
	r.cookie(asOfCookie, "", -time.Second)
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

// attempts slows down who guesses a password: after a few failures for an
// address each further one must wait longer.
type attempts struct {
	mu  sync.Mutex
	now func() time.Time
	by  map[string]attempt
}

type attempt struct {
	failures int
	last     time.Time
}

const (
	freeTries   = 5
	longestWait = 15 * time.Minute
	mostTracked = 10_000
)

func (a *attempts) wait(email string) time.Duration {
	a.mu.Lock()
	defer a.mu.Unlock()
	one := a.by[email]
	if one.failures < freeTries {
		return 0
	}
	pause := min(longestWait, 15*time.Second<<min(10, one.failures-freeTries))
	return max(0, one.last.Add(pause).Sub(a.now()))
}

func (a *attempts) failed(email string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.by == nil || len(a.by) >= mostTracked {
		// Whoever fills it with invented addresses starts all of them afresh, at
		// the price of as many slow password checks.
		a.by = map[string]attempt{}
	}
	one := a.by[email]
	if a.now().Sub(one.last) > 2*longestWait {
		one.failures = 0
	}
	a.by[email] = attempt{one.failures + 1, a.now()}
}

func (a *attempts) forget(email string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	delete(a.by, email)
}
