package web_test

import (
	"bytes"
	"encoding/json"
	"html"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/account/accounttest"
	"glidepath/web"
)

// named lets a server be reached by its name, as passkeys need it.
func (w *world) named() *world {
	w.URL = strings.Replace(w.URL, "127.0.0.1", "localhost", 1)
	return w
}

func (w *world) device() *accounttest.Device { return &accounttest.Device{Origin: w.URL} }

// tell sends what a script would.
func (b *browser) tell(path string, body any) answer {
	b.w.t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		b.w.t.Fatal(err)
	}
	r, err := http.NewRequestWithContext(b.w.t.Context(), http.MethodPost, b.w.URL+path, bytes.NewReader(text))
	if err != nil {
		b.w.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Glidepath-Fragment", "yes")
	return b.do(r)
}

// said is a field of what a script is answered.
func (a answer) said(t *testing.T, code int, field string) string {
	t.Helper()
	out := map[string]any{}
	if err := json.Unmarshal([]byte(a.body), &out); err != nil || a.code != code {
		t.Fatalf("%s: answered %d: %s", a.path, a.code, short(a.body))
	}
	text, _ := out[field].(string)
	return text
}

type sent map[string]any

// addPasskey makes a passkey on a device as the page does.
func (b *browser) addPasskey(t *testing.T, d *accounttest.Device, name string) {
	t.Helper()
	question := b.tell("/account/passkeys/ask", sent{}).wants(t, http.StatusOK, `"publicKey"`)
	kept := b.tell("/account/passkeys", sent{"name": name, "answer": json.RawMessage(d.Make(t, []byte(question.body)))})
	b.get(kept.said(t, http.StatusOK, "go")).wants(t, http.StatusOK, "The passkey is kept", html.EscapeString(name))
}

// showPasskey signs in with a device and says where to go on.
func (b *browser) showPasskey(t *testing.T, d *accounttest.Device, next string) answer {
	t.Helper()
	question := b.tell("/sign-in/passkey/ask", sent{}).wants(t, http.StatusOK)
	return b.tell("/sign-in/passkey", sent{"answer": json.RawMessage(d.Show(t, []byte(question.body))), "next": next})
}

// A passkey is made on one's own page, signs in without a name, and is renamed and
// removed there.
func TestPasskeyOnPages(t *testing.T) {
	w := filled(t).named()
	owner := w.owner()
	coach := w.role(owner, access.Coach, changing)
	coach.get("/account").wants(t, http.StatusOK, "You sign in as coach-account, with a password.", "Add a passkey", `data-fresh`, `data-origin="`+w.URL+`"`)
	d := w.device()
	coach.addPasskey(t, d, "my <phone>")
	page := coach.get("/account").wants(t, http.StatusOK, "with a password or 1 passkey", "my &lt;phone&gt;", "last used never", "on one device")

	again := w.browser()
	again.get("/sign-in").wants(t, http.StatusOK, "Sign in with a passkey")
	if to := again.showPasskey(t, d, "/athletes/"+changing).said(t, http.StatusOK, "go"); to != "/athletes/"+changing {
		t.Errorf("goes on to %s", to)
	}
	again.get("/").wants(t, http.StatusOK, "1 athlete as of")
	for _, bad := range []string{"https://evil.example/", "//evil.example", "", "javascript:alert(1)"} {
		if to := w.browser().showPasskey(t, d, bad).said(t, http.StatusOK, "go"); to != "/" {
			t.Errorf("%q goes on to %s", bad, to)
		}
	}
	id := page.hidden(t, "passkey")
	coach.post("/account/passkeys/rename", "passkey", id, "name", "tablet").wants(t, http.StatusOK, "Renamed.", "tablet")
	coach.post("/account/passkeys/rename", "passkey", id, "name", strings.Repeat("x", 121)).wants(t, http.StatusUnprocessableEntity, "the name of a passkey", "tablet")
	owner.post("/account/passkeys/rename", "passkey", id, "name", "mine").wants(t, http.StatusNotFound)
	coach.post("/account/passkeys/remove", "passkey", id).wants(t, http.StatusOK, "The passkey is removed.", "with a password.")
	w.browser().showPasskey(t, d, "/").said(t, http.StatusUnauthorized, "wrong")
	for _, what := range []string{"made the passkey " + id, "renamed the passkey " + id, "removed the passkey " + id} {
		if n := w.recorded(what); n != 1 {
			t.Errorf("the record has %q %d times", what, n)
		}
	}
}

// What a script sends is taken from our own pages alone, and junk is told in a
// sentence.
func TestPasskeyRequests(t *testing.T) {
	w := filled(t).named()
	b := w.owner()
	for _, path := range []string{"/sign-in/passkey/ask", "/sign-in/passkey", "/account/passkeys/ask", "/account/passkeys", "/account/proof/ask", "/invitation/x/passkey/ask", "/invitation/x/passkey"} {
		if words := b.post(path, "answer", "{}").said(t, http.StatusUnprocessableEntity, "wrong"); !strings.Contains(words, "script") {
			t.Errorf("%s: a form is answered %q", path, words)
		}
		r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, w.URL+path, strings.NewReader("{}"))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Origin", "https://evil.example")
		b.do(r).wants(t, http.StatusForbidden, "another site")
	}
	b.tell("/sign-in/passkey", []string{"x"}).said(t, http.StatusUnprocessableEntity, "wrong")
	b.tell("/sign-in/passkey", sent{"answer": sent{}}).said(t, http.StatusUnauthorized, "wrong")
	b.tell("/account/passkeys", sent{}).said(t, http.StatusUnprocessableEntity, "wrong")
	b.tell("/sign-in/passkey", sent{"next": strings.Repeat("x", 300<<10)}).said(t, http.StatusUnprocessableEntity, "wrong")
	w.browser().tell("/account/passkeys/ask", sent{}).wants(t, http.StatusUnauthorized)
	b.tell("/invitation/x/passkey/ask", sent{"login": "x"}).said(t, http.StatusNotFound, "wrong")
}

// Where passkeys work: at localhost and at the public address, which the browser
// must show; elsewhere the page says why not.
func TestWherePasskeysWork(t *testing.T) {
	bare := filled(t)
	b := bare.owner()
	u, err := url.Parse(bare.URL)
	if err != nil {
		t.Fatal(err)
	}
	there := "http://localhost:" + u.Port() + "/"
	b.get("/account").wants(t, http.StatusOK, "Passkeys need a name", there)
	bare.browser().get("/sign-in").wants(t, http.StatusOK, there)
	b.tell("/account/passkeys/ask", sent{}).said(t, http.StatusUnprocessableEntity, "wrong")
	bare.browser().tell("/sign-in/passkey/ask", sent{}).said(t, http.StatusUnprocessableEntity, "wrong")

	for public, says := range map[string]string{
		"": "--public", "https://192.0.2.7": "need a host name over https", "https://desk.example.org": `data-origin="https://desk.example.org"`,
	} {
		w := serve(t, func(o *web.Options) { o.Secure, o.Public = true, public }).named()
		b := w.owner()
		b.get("/account").wants(t, http.StatusOK, says)
		asked := b.tell("/account/passkeys/ask", sent{})
		if public != "https://desk.example.org" {
			asked.said(t, http.StatusUnprocessableEntity, "wrong")
			continue
		}
		asked.wants(t, http.StatusOK, `"rp":{"name":"Glidepath","id":"desk.example.org"}`, `"userVerification":"required"`, `"residentKey":"required"`, `"attestation":"none"`)
		// A page at another name of this server makes none.
		answer := json.RawMessage(w.device().Make(t, []byte(asked.body)))
		b.tell("/account/passkeys", sent{"answer": answer}).said(t, http.StatusUnprocessableEntity, "wrong")
		a := mara()
		if err := w.app.AddAthlete(t.Context(), a, w.today, false); err != nil {
			t.Fatal(err)
		}
		b.post("/athletes/"+a.ID+"/invitation").wants(t, http.StatusOK, "https://desk.example.org/invitation/")
	}
}

// Who is signed in changes their own password by the present one, stays signed in
// here and nowhere else.
func TestOwnPassword(t *testing.T) {
	w := filled(t)
	coach := w.role(w.owner(), access.Coach, changing)
	other := w.with(w.session(reader{access.Coach, "coach", ""}))
	fresh := " a space belongs to it "
	coach.post("/account/password", "present", "wrong wrong wrong", "password", fresh).
		wants(t, http.StatusUnauthorized, `id="wrong-present"`, "not the present password")
	coach.post("/account/password", "present", password, "password", "short").wants(t, http.StatusUnprocessableEntity, `id="wrong-password"`, "12 to 200")
	if got := coach.post("/account/password", "present", "secretword", "password", fresh); strings.Contains(got.body, "secretword") || strings.Contains(got.body, fresh) {
		t.Error("what was typed is sent back")
	}
	other.get("/account").wants(t, http.StatusOK, "Your account")
	coach.post("/account/password", "present", password, "password", fresh).wants(t, http.StatusOK, "Your password is set")
	coach.get("/").wants(t, http.StatusOK, "1 athlete as of")
	other.get("/account").wants(t, http.StatusOK, "Sign in")
	other.post("/sign-in", "login", "coach-account", "password", password).wants(t, http.StatusUnauthorized)
	other.post("/sign-in", "login", "coach-account", "password", fresh).wants(t, http.StatusOK, "1 athlete as of")
	coach.post("/account/password", "present", fresh, "password", password).wants(t, http.StatusOK, "Your password is set")
}

// A passkey shows who it is in place of the present password.
func TestOwnPasswordByPasskey(t *testing.T) {
	w := filled(t).named()
	coach := w.role(w.owner(), access.Coach, changing)
	d := w.device()
	coach.addPasskey(t, d, "phone")
	prove := func(d *accounttest.Device) string {
		question := coach.tell("/account/proof/ask", sent{}).wants(t, http.StatusOK)
		return string(d.Show(t, []byte(question.body)))
	}
	spoilt := d.Copy()
	spoilt.Spoilt = true
	coach.post("/account/password", "proof", prove(spoilt), "password", password+" 2").wants(t, http.StatusUnauthorized, "does not show that it is you")
	coach.post("/account/password", "proof", prove(d), "password", password+" 2").wants(t, http.StatusOK, "Your password is set")
	w.browser().post("/sign-in", "login", "coach-account", "password", password+" 2").wants(t, http.StatusOK, "1 athlete as of")
}

func TestSignOutElsewhereOnPage(t *testing.T) {
	w := filled(t)
	coach := w.role(w.owner(), access.Coach, changing)
	if got := coach.get("/account").wants(t, http.StatusOK, "(here)"); strings.Contains(got.body, "everywhere else</button>") {
		t.Error("there is nowhere else, and yet a button")
	}
	other := w.with(w.session(reader{access.Coach, "coach", ""}))
	coach.get("/account").wants(t, http.StatusOK, "Sign out everywhere else")
	coach.post("/account/sessions/end").wants(t, http.StatusOK, "signed out everywhere else")
	other.get("/account").wants(t, http.StatusOK, "Sign in")
	coach.get("/").wants(t, http.StatusOK, "1 athlete as of")
}

// An athlete begins with a passkey alone, sees it in their own pages, and cannot
// take away the only way in.
func TestInvitedByPasskey(t *testing.T) {
	w := filled(t).named()
	owner := w.owner()
	link := owner.post("/athletes/"+changing+"/invitation").wants(t, http.StatusOK, "a passkey or a password")
	_, path, ok := strings.Cut(link.body, w.URL+"/invitation/")
	if !ok {
		t.Fatal("no link is shown")
	}
	path, _, _ = strings.Cut(path, "<")
	path = "/invitation/" + path
	b := w.browser()
	b.get(path).wants(t, http.StatusOK, "Begin with a passkey")
	if words := b.tell(path+"/passkey/ask", sent{"login": "owner"}).said(t, http.StatusConflict, "wrong"); !strings.Contains(words, "taken") {
		t.Errorf("a login that is taken is told as %q", words)
	}
	question := b.tell(path+"/passkey/ask", sent{"login": "aroha@example.org"}).wants(t, http.StatusOK)
	d := w.device()
	kept := b.tell(path+"/passkey", sent{"answer": json.RawMessage(d.Make(t, []byte(question.body)))})
	b.get(kept.said(t, http.StatusOK, "go")).wants(t, http.StatusOK, "Your pages")
	b.get(path).wants(t, http.StatusNotFound)
	page := b.get("/account").wants(t, http.StatusOK, "Your pages", "with 1 passkey and no password", "Your only way in", "Set a password")
	b.post("/account/passkeys/remove", "passkey", page.hidden(t, "passkey")).wants(t, http.StatusConflict, "the only way into the account")
	w.browser().post("/sign-in", "login", "aroha@example.org", "password", "").wants(t, http.StatusUnauthorized)
	later := w.browser()
	later.showPasskey(t, d, "").said(t, http.StatusOK, "go")
	later.get("/day").wants(t, http.StatusOK, "Your pages")
}

// An owner changes what somebody is, but not an athlete, nor the last owner; and
// takes away the passkey of a phone that is lost, with what is signed in on it.
func TestRoleAndPasskeysOnOwnersPage(t *testing.T) {
	w := filled(t).named()
	owner := w.owner()
	coach := w.role(owner, access.Coach, changing)
	own := w.role(owner, access.Athlete, changing)
	base := "/accounts/" + coach.who.AccountID
	d := w.device()
	coach.addPasskey(t, d, "lost phone")
	page := owner.get(base).wants(t, http.StatusOK, "lost phone", "Change the role")
	owner.post(base+"/role", "role", "assistant").wants(t, http.StatusOK, "The role is changed", "Assistant")
	coach.get("/accounts").wants(t, http.StatusForbidden)
	coach.get("/athletes/new").wants(t, http.StatusForbidden)
	owner.post(base+"/role", "role", "king").wants(t, http.StatusUnprocessableEntity, `id="wrong-role"`)
	owner.post(base+"/role", "role", "athlete").wants(t, http.StatusConflict, `id="wrong-role"`)
	ownBase := "/accounts/" + own.who.AccountID
	if got := owner.get(ownBase).wants(t, http.StatusOK); strings.Contains(got.body, "Change the role") {
		t.Error("an athlete's role can be changed")
	}
	owner.post(ownBase+"/role", "role", "coach").wants(t, http.StatusConflict, "belongs to the athlete")
	self := "/accounts/" + owner.who.AccountID
	owner.post(self+"/role", "role", "coach").wants(t, http.StatusConflict, "the only owner")
	if n := w.recorded("changed the role of an account from coach to assistant"); n != 1 {
		t.Errorf("the record has the change %d times", n)
	}

	owner.post(base+"/passkeys/remove", "passkey", page.hidden(t, "passkey")).wants(t, http.StatusOK, "every session of theirs is ended")
	coach.get("/").wants(t, http.StatusOK, "Sign in")
	w.browser().showPasskey(t, d, "/").said(t, http.StatusUnauthorized, "wrong")

	owner.post(base+"/role", "role", "owner").wants(t, http.StatusOK, "The role is changed")
	owner.post(self+"/role", "role", "coach").wants(t, http.StatusOK, "Roster")
	owner.get("/accounts").wants(t, http.StatusForbidden)
	if a := w.login("coach-account"); a.Role != access.Owner || len(a.Athletes) != 0 {
		t.Errorf("the account is %+v", a)
	}
}
