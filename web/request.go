package web

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"net/http"
	"net/url"
	"runtime/debug"
	"strings"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// request is one request with who asks and of which desk.
type request struct {
	*http.Request
	w       http.ResponseWriter
	s       *Server
	route   route
	visitor *account.Visitor // nil is nobody
	desk    *desk
	asOf    civil.Date
	code    int // that was answered with, 0 for what is well
	// otherDay says that asOf is a date of the reader's, not today.
	otherDay bool
}

func (r *request) ctx() context.Context { return r.Context() }

// id is the athlete that the address names, or whose own page it is.
func (r *request) id() string {
	if r.route.own != "" && r.visitor != nil {
		return r.visitor.AthleteID
	}
	return r.PathValue("id")
}

// athlete reads the athlete that the address names.
func (r *request) athlete() (*athlete.Athlete, error) { return r.desk.app.Athlete(r.ctx(), r.id()) }

// form reads a form; what is too large is its own error.
func (r *request) form() (url.Values, error) {
	if err := r.ParseForm(); err != nil {
		if _, ok := errors.AsType[*http.MaxBytesError](err); ok {
			return nil, err
		}
		return nil, fault.New(fault.Invalid, "the form could not be read.").WithHint("Send it again.")
	}
	for name, values := range r.PostForm {
		if name == "password" || name == "present" { // a space may belong to it
			continue
		}
		for i := range values {
			values[i] = strings.TrimSpace(values[i])
		}
	}
	return r.PostForm, nil
}

// may reports whether the actor may do something to the athlete of the address.
func (r *request) may(do access.Action) bool { return r.mayTo(do, r.id()) }

func (r *request) mayTo(do access.Action, id string) bool { return r.visitor.May(do, id) }

// redirect sends the reader on after a form; the page there may say what was done.
func (r *request) redirect(path string) error {
	http.Redirect(r.w, r.Request, path, http.StatusSeeOther)
	return nil
}

// done redirects with a word on what was done.
func (r *request) done(path, word string) error {
	fragment := ""
	if i := strings.IndexByte(path, '#'); i >= 0 {
		path, fragment = path[:i], path[i:]
	}
	return r.redirect(at(path, "done", word) + fragment)
}

// scripted reports whether a script of ours asks, and wants only a fragment.
func (r *request) scripted() bool { return r.Header.Get("Glidepath-Fragment") != "" }

// page writes a page with a status.
func (r *request) page(code int, name string, p page) error {
	p.complete(r)
	var b bytes.Buffer
	if err := render(&b, name, p); err != nil {
		return err
	}
	r.code = code
	r.w.Header().Set("Content-Type", "text/html; charset=utf-8")
	r.w.WriteHeader(code)
	_, _ = b.WriteTo(r.w) // the reader may have gone
	return nil
}

// serve wraps a route: who asks, whether they may, and what an error looks like.
func (s *Server) serve(route route) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, hr *http.Request) {
		r := &request{Request: hr, w: w, s: s, route: route}
		defer func() {
			if v := recover(); v != nil {
				if v == http.ErrAbortHandler { //nolint:errorlint // compared as net/http does
					panic(v)
				}
				s.o.Log.Error("a page failed", "route", route.pattern, "panic", v, "stack", string(debug.Stack()))
				r.fail(errors.New("panic"))
			}
		}()
		if err := r.answer(); err != nil {
			r.fail(err)
		}
	})
}

func (r *request) answer() error {
	if err := r.identify(); err != nil {
		return err
	}
	if !r.route.open && r.visitor == nil {
		return r.toSignIn()
	}
	if r.route.pattern == "GET /{$}" && r.isOwn() {
		return r.redirect("/day") // their home
	}
	if err := r.route.check(r); err != nil {
		return err
	}
	if err := r.route.do(r); err != nil {
		return err
	}
	r.record()
	return nil
}

// record leaves a line of what was done, or tried. What a page refuses with its form
// was not done.
func (r *request) record() {
	words, keep := r.route.words, r.s.o.Accounts.Record
	if words == "" || r.desk.invented {
		return
	}
	if r.route.dated {
		keep = r.s.o.Accounts.RecordOnce
		if on, err := civil.Parse(r.PathValue("date")); err == nil {
			words += ", " + on.String()
		}
	}
	if r.Method == http.MethodPost && r.code >= http.StatusBadRequest {
		words = "tried in vain: " + words
	}
	if err := keep(r.ctx(), r.visitor, cmp.Or(r.route.needs, r.route.own), r.id(), words); err != nil {
		// The answer is on its way; what is missing in the record must be known.
		r.s.o.Log.Error("the record was not kept", "route", r.route.pattern, "error", err)
	}
}

// identify finds the actor, the desk and the date.
func (r *request) identify() error {
	r.desk = r.s.real
	if c, err := r.Cookie(account.CookieName); err == nil && c.Value != "" {
		r.visitor, err = r.s.o.Accounts.BySession(r.ctx(), c.Value, r.address())
		if err != nil && fault.KindOf(err) != fault.SignIn {
			return err
		}
	}
	if c, err := r.Cookie(demoCookie); err == nil && c.Value == "yes" && r.s.o.Demo != nil && r.staff() {
		if r.desk, err = r.s.invented(r.ctx()); err != nil {
			return err
		}
		everybody := *r.visitor
		everybody.Own = func(string) bool { return true }
		r.visitor = &everybody
	}
	r.asOf = r.desk.Today()
	if c, err := r.Cookie(asOfCookie); err == nil {
		if on, err := civil.Parse(c.Value); err == nil && on != r.asOf {
			r.asOf, r.otherDay = on, true
		}
	}
	return nil
}

func (r *request) role() access.Role {
	if r.visitor == nil {
		return access.Nobody
	}
	return r.visitor.Role
}

// staff reports whether the reader works for athletes.
func (r *request) staff() bool {
	return r.role() == access.Owner || r.role() == access.Coach || r.role() == access.Assistant
}

func (r *request) address() string { return r.s.o.Address(r.Request) }

// toSignIn sends a reader to sign in and back; a form is refused, since it could
// not be sent again.
func (r *request) toSignIn() error {
	if r.scripted() {
		return fault.New(fault.SignIn, "You are signed out.").WithHint("Sign in again in this tab.")
	}
	if r.Method == http.MethodGet || r.Method == http.MethodHead {
		return r.redirect(at("/sign-in", "next", r.URL.RequestURI()))
	}
	return r.redirect("/sign-in")
}

// fail answers with an error: as a page, or as a fragment for a script.
func (r *request) fail(err error) {
	if errors.Is(err, context.Canceled) {
		return
	}
	code := status(err)
	if code == http.StatusInternalServerError {
		r.s.o.Log.Error("a page failed", "route", r.route.pattern, "error", err)
	}
	if r.desk == nil {
		r.desk = r.s.real
	}
	name := "error"
	if r.scripted() {
		name = "error-fragment"
	}
	title := errorTitles[code]
	if title == "" {
		title = "That did not work"
	}
	if err := r.page(code, name, page{Title: title, Faults: troubles(err)}); err != nil {
		r.s.o.Log.Error("the error page failed", "error", err)
		http.Error(r.w, "Something failed on our side.", http.StatusInternalServerError)
	}
}

var errorTitles = map[int]string{
	http.StatusNotFound:              "Not found",
	http.StatusForbidden:             "Not open to you",
	http.StatusUnauthorized:          "Signed out",
	http.StatusInternalServerError:   "Something failed",
	http.StatusConflict:              "That clashes with what is stored",
	http.StatusTooManyRequests:       "Please wait",
	http.StatusRequestEntityTooLarge: "Too large",
}

// cookie sets a cookie for this site alone. A zero life lasts until the browser
// closes; a negative one takes the cookie away.
func (r *request) cookie(name, value string, life time.Duration) {
	http.SetCookie(r.w, &http.Cookie{
		Name: name, Value: value, Path: "/", MaxAge: int(life / time.Second), HttpOnly: true,
		Secure: r.s.o.Secure, SameSite: http.SameSiteLaxMode,
	})
}
