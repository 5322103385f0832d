package web_test

import (
	"net/http"
	"testing"

	"glidepath/access"
	"glidepath/browsertest"
	"glidepath/mail/mailtest"
)

// The owner's pages, and the message where it can be sent.
func TestOwnersPagesInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	w, _ := byMail(t, mailtest.Options{})
	b := w.owner()
	asked := watch(t, ctx, w.URL)
	signedIn(t, ctx, b)
	coach := w.role(b, access.Coach, changing)
	base := "/accounts/" + coach.who.AccountID
	for _, name := range []string{"bathroom scale", "spreadsheet of the whole winter"} {
		b.post(base+"/tokens", "token", name, "scopes", "read", "scopes", "log").wants(t, http.StatusOK)
	}
	b.post(base+"/tokens/revoke", "token", b.get(base).hidden(t, "token")).wants(t, http.StatusOK)
	b.get("/athletes/"+changing).wants(t, http.StatusOK)
	for _, p := range []browserPage{
		{"accounts", "/accounts", ""},
		{"account", base, ""},
		{"record", "/record", ""},
		{"record-none", "/record?to=2020-01-01", ""},
		{"message-send", message, ""},
	} {
		inspect(t, ctx, w.URL, p)
	}
	for _, a := range asked() {
		t.Errorf("a page asked for %q", a)
	}
}
