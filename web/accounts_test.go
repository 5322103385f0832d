package web_test

import (
	"encoding/csv"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/account"
)

// login finds an account as the command line does.
func (w *world) login(name string) *account.Account {
	w.t.Helper()
	a, err := w.accounts.Account(w.t.Context(), account.Console(""), name)
	if err != nil {
		w.t.Fatal(err)
	}
	return a
}

// shown is the secret of a page that is shown once.
func (a answer) shown(t *testing.T) string {
	t.Helper()
	m := regexp.MustCompile(`<textarea id="shown"[^>]*>([^<]+)<`).FindStringSubmatch(a.body)
	if m == nil {
		t.Fatalf("%s shows no secret: %s", a.path, short(a.body))
	}
	return m[1]
}

// An owner lets a coach in with a password that is made and shown once; the coach
// sees the athletes that were ticked, and no accounts.
func TestAddAccount(t *testing.T) {
	w := filled(t)
	b := w.owner()
	other := demo().Seasons[0].Athlete.ID
	typed := []string{"name", "Sol Reyes", "login", "sol@example.org", "role", "coach", "athletes", changing}
	page := b.post("/accounts", typed...).wants(t, http.StatusOK, "shown this once", "Sol Reyes", "sol@example.org")
	secret := page.shown(t)
	if got := b.get("/accounts").wants(t, http.StatusOK, "Aroha Jensen"); strings.Contains(got.body, secret) {
		t.Error("the password is shown twice")
	}
	b.post("/accounts", typed...).wants(t, http.StatusConflict, `id="wrong-login"`, `value="sol@example.org"`)
	coach := w.browser()
	coach.post("/sign-in", "login", "sol@example.org", "password", secret).wants(t, http.StatusOK, "1 athlete as of")
	coach.get("/athletes/"+other).wants(t, http.StatusNotFound)
	if got := coach.get("/accounts").wants(t, http.StatusForbidden); strings.Contains(got.body, `href="/accounts"`) {
		t.Error("a coach is shown the way to the accounts")
	}
	base := "/accounts/" + w.login("sol@example.org").ID
	b.post(base+"/athletes", "athletes", other).wants(t, http.StatusOK, "Kept.")
	coach.get("/athletes/"+other).wants(t, http.StatusOK)
	coach.get("/athletes/"+changing).wants(t, http.StatusNotFound)
	b.post(base+"/athletes", "athletes", "nobody-here").wants(t, http.StatusNotFound, "There is no athlete")
	if got := w.login("sol@example.org").Athletes; !slices.Equal(got, []string{other}) {
		t.Errorf("the coach has %v", got)
	}
}

// What is wrong with a new account stands at its field, and a password that was
// typed is not sent back.
func TestAddAccountWrong(t *testing.T) {
	w := filled(t)
	b := w.owner()
	for says, typed := range map[string][]string{
		"a login is 1 to":        {"name", "Sol", "login", "so l", "role", "coach", "password", password},
		"a name is 1 to":         {"name", "", "login", "sol", "role", "coach", "password", password},
		"a password has 12":      {"name", "Sol", "login", "sol", "role", "coach", "password", "secretword"},
		"is not owner, coach":    {"name", "Sol", "login", "sol", "role", "king", "password", password},
		"belongs to one athlete": {"name", "Sol", "login", "sol", "role", "athlete", "password", password},
		"there is no athlete":    {"name", "Sol", "login", "sol", "role", "coach", "password", password, "athletes", "nobody-here"},
	} {
		got := b.post("/accounts", typed...)
		if got.code < 400 || got.code >= 500 || !strings.Contains(strings.ToLower(got.body), says) || strings.Contains(got.body, "secretword") || strings.Contains(got.body, password) {
			t.Errorf("%s: answered %d %s", says, got.code, short(got.body))
		}
	}
	all, err := w.accounts.Accounts(t.Context(), b.who)
	if err != nil || len(all) != 1 {
		t.Errorf("%d accounts, %v", len(all), err)
	}
}

// Shutting out ends the session; letting in again does not bring it back. The last
// owner stays.
func TestShutOut(t *testing.T) {
	w := filled(t)
	b := w.owner()
	coach := w.role(b, access.Coach, changing)
	base := "/accounts/" + coach.who.AccountID
	b.post(base+"/state", "do", "disable").wants(t, http.StatusOK, "Shut out.", "in again")
	coach.get("/").wants(t, http.StatusOK, "Sign in")
	coach.post("/sign-in", "login", "coach-account", "password", password).wants(t, http.StatusUnauthorized)
	b.post(base+"/state", "do", "enable").wants(t, http.StatusOK, "Let in again.")
	coach.post("/sign-in", "login", "coach-account", "password", password).wants(t, http.StatusOK, "Roster")
	b.post(base+"/state", "do", "").wants(t, http.StatusUnprocessableEntity)
	b.post("/accounts/"+b.who.AccountID+"/state", "do", "disable").wants(t, http.StatusConflict, "the only owner")
	b.get("/accounts/nobody-here").wants(t, http.StatusNotFound)
	for what, want := range map[string]int{"disabled an account": 1, "enabled an account": 1} {
		if n := w.recorded(what); n != want {
			t.Errorf("the record has %q %d times", what, n)
		}
	}
}

func TestSetPasswordOnPage(t *testing.T) {
	w := filled(t)
	b := w.owner()
	coach := w.role(b, access.Coach, changing)
	base := "/accounts/" + coach.who.AccountID
	b.post(base+"/password", "password", "short").wants(t, http.StatusUnprocessableEntity, "a password has 12")
	coach.get("/").wants(t, http.StatusOK, "1 athlete as of")
	secret := b.post(base+"/password", "password", "").wants(t, http.StatusOK, "shown this once").shown(t)
	coach.get("/").wants(t, http.StatusOK, "Sign in")
	coach.post("/sign-in", "login", "coach-account", "password", secret).wants(t, http.StatusOK, "1 athlete as of")
	b.post(base+"/password", "password", password+" 2").wants(t, http.StatusOK, "The password is set")
	coach.post("/sign-in", "login", "coach-account", "password", password+" 2").wants(t, http.StatusOK, "1 athlete as of")
}

// A token is shown once, works within its scopes, and not after it is revoked.
func TestTokensOnPage(t *testing.T) {
	w := filled(t)
	b := w.owner()
	coach := w.role(b, access.Coach, changing)
	base := "/accounts/" + coach.who.AccountID
	for says, typed := range map[string][]string{
		"a token needs a scope": {"token", "scale"},
		"a token needs a name":  {"token", "", "scopes", "log"},
		"1 to 366 days":         {"token", "scale", "scopes", "log", "days", "9999999999"},
		"there is no scope":     {"token", "scale", "scopes", "all"},
	} {
		b.post(base+"/tokens", typed...).wants(t, http.StatusUnprocessableEntity, says)
	}
	page := b.post(base+"/tokens", "token", "bathroom <scale>", "scopes", "log", "scopes", "read", "days", "30").
		wants(t, http.StatusOK, "shown this once", "bathroom &lt;scale&gt;", "read, log", "until 1 Apr 2026")
	secret := page.shown(t)
	v, err := w.accounts.ByToken(t.Context(), secret, "127.0.0.1:1")
	if err != nil || !v.May(access.Log, changing) || v.May(access.Decide, changing) {
		t.Fatalf("the token is %v, %v", v, err)
	}
	if got := b.get(base).wants(t, http.StatusOK, "Revoke bathroom"); strings.Contains(got.body, secret) {
		t.Error("the token is shown twice")
	}
	b.post(base+"/tokens/revoke", "token", page.hidden(t, "token")).wants(t, http.StatusOK, "no longer works", "revoked")
	if _, err := w.accounts.ByToken(t.Context(), secret, "127.0.0.1:1"); err == nil {
		t.Error("a revoked token works")
	}
}

// The record is narrowed by day, athlete and account, and taken out whole.
func TestRecordOnPage(t *testing.T) {
	w := filled(t)
	b := w.owner()
	coach := w.role(b, access.Coach, changing)
	coach.get("/athletes/"+changing).wants(t, http.StatusOK)
	other := demo().Seasons[0].Athlete.ID
	b.get("/athletes/"+other).wants(t, http.StatusOK)
	b.get("/record").wants(t, http.StatusOK, "read the overview", "made the first account", "Robin coach")
	for _, c := range []struct {
		query     url.Values
		has, lack string
	}{
		{url.Values{"athlete": {changing}}, "read the overview", "made the first account"},
		{url.Values{"account": {coach.who.AccountID}}, "read the overview", "made an account"},
		{url.Values{"from": {"2026-03-02"}, "to": {"2026-03-02"}}, "made the first account", "no line of that"},
		{url.Values{"from": {"2026-03-03"}}, "no line of that", "made the first account"},
		{url.Values{"to": {"2026-03-01"}}, "no line of that", "made the first account"},
	} {
		page := b.get("/record?"+c.query.Encode()).wants(t, http.StatusOK, c.has)
		if strings.Contains(page.body, c.lack) {
			t.Errorf("%v: says %q", c.query, c.lack)
		}
	}
	b.get("/record?from=soon").wants(t, http.StatusUnprocessableEntity, "not a date")
	b.get("/record.csv?from=soon").wants(t, http.StatusUnprocessableEntity, "not a date")
	got := b.get("/record.csv?athlete="+changing).wants(t, http.StatusOK)
	rows, err := csv.NewReader(strings.NewReader(got.body)).ReadAll()
	if err != nil || len(rows) != 2 || rows[1][2] != "Robin coach" || rows[1][6] != changing || !strings.Contains(got.header.Get("Content-Disposition"), "record.csv") {
		t.Errorf("%v, %v", rows, err)
	}
	if n := w.recorded("exported the record"); n != 1 {
		t.Errorf("the record has the export %d times", n)
	}
}
