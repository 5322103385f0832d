package web_test

import (
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/webauthn"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"glidepath/access"
	"glidepath/account"
	"glidepath/browsertest"
)

// authenticator gives the browser a device that keeps passkeys, as a phone or a
// computer has one in it.
func authenticator(t *testing.T, ctx context.Context) webauthn.AuthenticatorID {
	t.Helper()
	if _, err := chromedp.Call(ctx, webauthn.Enable, webauthn.EnableParams{EnableUI: new(false)}); err != nil {
		t.Fatal(err)
	}
	added, err := chromedp.Call(ctx, webauthn.AddVirtualAuthenticator, webauthn.AddVirtualAuthenticatorParams{Options: &webauthn.VirtualAuthenticatorOptions{
		Protocol: webauthn.AuthenticatorProtocolCtap2, Ctap2version: webauthn.Ctap2versionCtap21, Transport: webauthn.AuthenticatorTransportInternal,
		HasResidentKey: true, HasUserVerification: true, IsUserVerified: true, AutomaticPresenceSimulation: true,
		DefaultBackupEligibility: true, DefaultBackupState: true,
	}})
	if err != nil {
		t.Fatal(err)
	}
	return added.AuthenticatorID
}

// verified sets whether the device recognises who uses it.
func verified(t *testing.T, ctx context.Context, id webauthn.AuthenticatorID, is bool) {
	t.Helper()
	if _, err := chromedp.Call(ctx, webauthn.SetUserVerified, webauthn.SetUserVerifiedParams{AuthenticatorID: id, IsUserVerified: is}); err != nil {
		t.Fatal(err)
	}
}

// A coach adds a passkey, signs out, and signs in with it: by keyboard alone, and
// without a name.
func TestPasskeyInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t).named()
	coach := w.role(w.owner(), access.Coach, changing)
	asked := watch(t, ctx, w.URL)
	device := authenticator(t, ctx)
	looks(t, ctx, 360, "light")
	signedIn(t, ctx, coach)
	open(t, ctx, w.URL+"/account")
	until(t, ctx, "passkeys are offered", "document.querySelector('form[data-passkey=add]:not([hidden])')")

	verified(t, ctx, device, false)
	press(t, ctx, "Add a passkey", "Nothing was done")
	verified(t, ctx, device, true)
	js[any](t, ctx, "document.getElementById('passkey-name').focus()")
	keys(t, ctx, "my phone")
	keys(t, ctx, kb.Enter)
	says(t, ctx, "The passkey is kept")
	says(t, ctx, "copied between your devices")
	says(t, ctx, "my phone")
	press(t, ctx, "Add a passkey", "This device has a passkey for this account already.")

	tabTo(t, ctx, "Sign out")
	keys(t, ctx, kb.Enter)
	says(t, ctx, "You are signed out")
	until(t, ctx, "passkeys are offered", "document.querySelector('[data-passkey=sign-in]:not([hidden])')")
	tabTo(t, ctx, "Sign in with a passkey")
	keys(t, ctx, kb.Enter)
	says(t, ctx, "1 athlete as of")

	// It stands for the present password too.
	open(t, ctx, w.URL+"/account")
	types(t, ctx, "password", password+" 2")
	press(t, ctx, "Use a passkey instead of the present password", "Your password is set")
	if _, err := w.accounts.SignIn(t.Context(), "coach-account", password+" 2", "127.0.0.1:1"); err != nil {
		t.Error(err)
	}

	// Once it is removed, the device still offers it, and it opens nothing.
	press(t, ctx, "Remove", "The passkey is removed")
	press(t, ctx, "Sign out", "You are signed out")
	until(t, ctx, "passkeys are offered", "document.querySelector('[data-passkey=sign-in]:not([hidden])')")
	press(t, ctx, "Sign in with a passkey", "Nobody could be signed in with this passkey.")
	for _, a := range asked() {
		if !strings.HasPrefix(a, "401 ") { // that last answer
			t.Errorf("a page asked for %q", a)
		}
	}
}

// An athlete who was invited begins with a passkey alone, and comes back with it.
func TestInvitedByPasskeyInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := serve(t, nil).named()
	if err := w.app.AddAthlete(t.Context(), mara(), w.today, false); err != nil {
		t.Fatal(err)
	}
	secret, _, err := w.accounts.Invite(t.Context(), account.Console(""), "mara")
	if err != nil {
		t.Fatal(err)
	}
	authenticator(t, ctx)
	looks(t, ctx, 360, "light")
	open(t, ctx, w.URL+"/invitation/"+secret)
	until(t, ctx, "passkeys are offered", "document.querySelector('[data-passkey=join]:not([hidden])')")
	fits(t, ctx, "the invitation")
	types(t, ctx, "login", "mara@example.org")
	press(t, ctx, "Begin with a passkey", "Check-in")
	until(t, ctx, "the day page", "location.pathname === '/day'")
	press(t, ctx, "Sign out", "You are signed out")
	until(t, ctx, "passkeys are offered", "document.querySelector('[data-passkey=sign-in]:not([hidden])')")
	press(t, ctx, "Sign in with a passkey", "Check-in")
	press(t, ctx, "You", "with 1 passkey and no password")
}

// asIfSent sends a form and shows the page that answers, as the browser would.
const asIfSent = `(async (path, pairs) => {
  const answer = await fetch(path, { method: 'POST', body: new URLSearchParams(pairs) });
  const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
  document.querySelector('main').replaceWith(page.querySelector('main'));
  for (const b of document.querySelectorAll('[data-copy]')) b.hidden = false;
})`

// One's own account, the pages around it, and those that show a secret once.
func TestAccountPagesInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t).named()
	owner := w.owner()
	coach := w.role(owner, access.Coach, changing)
	d := w.device()
	d.Backup = 8 | 16
	for _, name := range []string{"my phone", "the computer in the office, by the window"} {
		coach.addPasskey(t, d, name)
	}
	d.Count = 7
	coach.showPasskey(t, d, "").wants(t, http.StatusOK)
	d.Count = 3
	coach.showPasskey(t, d, "").wants(t, http.StatusOK) // its count goes back
	w.with(w.session(reader{access.Coach, "coach", ""}))
	asked := watch(t, ctx, w.URL)

	signedIn(t, ctx, coach)
	inspect(t, ctx, w.URL, browserPage{"yourself", "/account", openAll})
	now := w.accounts.Now
	w.accounts.Now = func() time.Time { return now().Add(account.FreshFor) }
	inspect(t, ctx, w.URL, browserPage{"yourself-later", "/account", ""})
	w.accounts.Now = now

	signedIn(t, ctx, owner)
	base := "/accounts/" + coach.who.AccountID
	for _, p := range []browserPage{
		{"yourself-new", "/account", ""},
		{"account-passkeys", base, ""},
		{"shown-password", "/accounts", asIfSent + "('/accounts', [['name', 'Sol Reyes'], ['login', crypto.randomUUID()], ['role', 'coach']])"},
		{"shown-token", base, asIfSent + "('" + base + "/tokens', [['token', 'bathroom scale'], ['scopes', 'log']])"},
		{"shown-invitation", "/athletes/" + changing + "/invitation", asIfSent + "('/athletes/" + changing + "/invitation', [])"},
	} {
		inspect(t, ctx, w.URL, p)
	}
	own := w.role(owner, access.Athlete, changing)
	own.addPasskey(t, d, "phone")
	signedIn(t, ctx, own)
	inspect(t, ctx, w.URL, browserPage{"yourself-athlete", "/account", ""})
	for _, a := range asked() {
		t.Errorf("a page asked for %q", a)
	}
}

// What is offered before anybody has signed in, where passkeys work.
func TestSignInPagesInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t).named()
	w.owner()
	secret, _, err := w.accounts.Invite(t.Context(), account.Console(""), changing)
	if err != nil {
		t.Fatal(err)
	}
	inspect(t, ctx, w.URL, browserPage{"sign-in-passkey", "/sign-in", ""})
	inspect(t, ctx, w.URL, browserPage{"invited-passkey", "/invitation/" + secret, ""})
}
